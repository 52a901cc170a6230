"""Voltage read at the posts of a battery against that which harms it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.battery.bank import BankStudy
    from wattproof.study.readings.in_service import ChargeReading
    from wattproof.working import Value

BASIS = {
    "common practice": practice(
        "a lead battery of 12 V is drawn to 10.5 V at most, a lithium iron phosphate one to 10 V, "
        "2.5 V for each cell; below that lithium is charged with a small current only, if at "
        "all"
    ),
}

MORE = """\
readings:
  at-the-posts: {at: house, voltage: 13.1 V}
"""


@rule(
    id="reading-battery-flat",
    summary="Voltage read at a battery's posts, against that which harms it.",
    covers=("A battery that was drawn below empty, and is charged again",),
    level="warning",
    hazard="fire",
    part="reading",
    basis=BASIS,
    explanation="Below empty a battery changes for good. Lead sulphates, and a cell can be "
    "reversed. In lithium cells copper dissolves and grows back as needles, which short a cell "
    "from inside when it is charged again. A low reading can also mean a battery of another "
    "voltage, a cell that has failed, or a fuse that has opened.",
    caution=warning(
        "A lithium battery that was drawn far below empty can burn when it is charged as usual. "
        "Leave it disconnected until its maker's instructions for that are at hand."
    ),
    fine="Where the reading was taken under a load of seconds, such as a starter: write the "
    "reading at rest.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("voltage: 13.1 V", "voltage: 9.1 V"),
)
def reading_battery_flat(study: Study) -> Iterator[Observation]:
    for reading in study.readings.of_charging:
        bank, posts = reading.bank, reading.true_posts
        if bank is None or posts is None or reading.reversed_voltages:
            continue
        least = bank.harmed_below
        if not exceeds(least, posts.high):
            if exceeds(bank.empty_voltage, posts.high):
                yield _empty(reading, bank, posts.high)
            continue
        meant = reading.meant_posts
        if meant is not None:
            yield Observation(
                message=f"the posts of `{bank.name}` read {reading.posts}; {meant} would be right, "
                "so the unit or the range was misread",
                on=(reading.reading, bank.battery),
                values=(posts.high, least, meant),
                level="note",
                remedy="look at the unit and the range on the meter, and write what it showed",
            )
            continue
        harm = (
            "look up what its maker says of charging it again, and charge it with a small current "
            "and somebody beside it"
            if not bank.is_lead
            else "charge it with a small current, and read it at rest a day later"
        )
        yield Observation(
            message=(
                f"the posts of `{bank.name}` read {reading.posts}; below {least} it is harmed"
            ),
            on=(reading.reading, bank.battery),
            values=(posts.high, least),
            margin=posts.high.number / least.number - 1.0,
            remedy=f"read it again at the posts themselves, before any fuse or switch; if it is so "
            f"low, {harm}",
        )


def _empty(reading: ChargeReading, bank: BankStudy, most: Value) -> Observation:
    """Of a battery that is empty, and not harmed yet."""
    empty = bank.empty_voltage
    return Observation(
        message=f"the posts of `{bank.name}` read {reading.posts}, and it is empty below {empty}",
        on=(reading.reading, bank.battery),
        values=(most, empty),
        margin=most.number / empty.number - 1.0,
        level="note",
        remedy="read it again with nothing drawn; if it stays, charge it before more is drawn",
    )
