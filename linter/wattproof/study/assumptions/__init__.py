"""What is taken where a plan is silent: each on the side from which the truth can only help.

The direction depends on the question: cold for voltage, hot for current-carrying capacity, bright
for current, high charge voltage for the window of a controller. One file for each subject, with
the figures that are taken and the sentences that a report has for them; the documentation is made
from the same figures.
"""

from wattproof.study.assumptions.assumer import Assumer
from wattproof.study.assumptions.rows import Assumed, Silence

__all__ = ["Assumed", "Assumer", "Silence"]
