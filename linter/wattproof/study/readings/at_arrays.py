"""What a meter showed of an array, beside what its curves give in the same sun and heat.

Each quantity is compared as two bands: what the meter's value may truly be, and what the curve
gives between the corners of sun and cell temperature, with the tolerance of labels.
"""

from __future__ import annotations

from wattproof.plan.array import Combiner, String
from wattproof.plan.power import Controller
from wattproof.plan.readings import Reading
from wattproof.record import record
from wattproof.study.readings.expected import Expected
from wattproof.study.readings.explained import Explanation
from wattproof.study.readings.standing import Standing
from wattproof.study.readings.taken import Taken


@record
class ArrayReading:
    """A reading at a string, a joint, or the solar input of a controller.

    taken: what the meter showed, and where. expected: what the curves give there. stands: how the
    one lies beside the other. explained: what would explain it, and what follows.
    """

    taken: Taken
    expected: Expected
    stands: Standing
    explained: Explanation

    @property
    def name(self) -> str:
        """The reading's name."""
        return self.taken.name

    @property
    def where(self) -> str:
        """The terminal that was read, as the plan writes it."""
        return self.taken.where

    @property
    def subjects(self) -> tuple[Reading, String | Combiner | Controller]:
        """The reading and what it was taken at."""
        return self.taken.reading, self.taken.part or self.taken.array.controller


def array_reading(taken: Taken, expected: Expected) -> ArrayReading:
    """A reading with all that is told of it."""
    return ArrayReading(taken, expected, Standing(taken, expected), Explanation(taken, expected))
