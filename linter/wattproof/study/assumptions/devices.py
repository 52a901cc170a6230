"""Fuses, breakers and switches that print nothing: their style's least figure is taken.

The figures by style stand with the bodies of rules.
"""

from __future__ import annotations

from wattproof.study.assumptions.rows import Silence

NO_DEVICE_VOLTAGE = Silence(
    key="device voltage",
    says="`{subject}` is taken as rated {number:g} V DC, the least that a {kind} is made for.",
    instead="voltage",
    symbol="Un",
    words="rated voltage of {subject}",
    unit="V",
)
NO_INTERRUPT_RATING = Silence(
    key="interrupt rating",
    says="`{subject}` is taken to break {number:g} A, the least that a {kind} is made for.",
    instead="interrupt",
    symbol="Ibreak({subject})",
    words="interrupt rating of {subject}",
    unit="A",
)
