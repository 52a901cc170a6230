"""Voltage read at a battery or its controller against that which harms it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Located, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.freezing import flat_freezes
from wattproof.study.limits import exceeds
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.battery.bank import BankStudy
    from wattproof.study.readings.of_charging import ChargeReading, Under
    from wattproof.working import Value

BASIS = {
    "common practice": practice(
        "a lead battery of 12 V is drawn to 10.5 V at most, and is flat below 11.8 V at rest; a "
        "lithium iron phosphate one is drawn to 10 V, "
        "2.5 V for each cell; below that lithium is charged with a small current only, if at "
        "all; an open fuse or switch, and a management that has cut off, leave nothing behind them"
    ),
}

MORE = """\
readings:
  at-the-posts: {at: house, voltage: 13.1 V}
"""

ONE_CELL_LESS = 0.86  # of the voltage of six cells, what five have, and a little
CELL_IS_GONE = (
    "; if it falls back to that within a day of its charge, a cell is shorted: replace it"
)
AGAIN = "read it again with nothing drawn; if it stays, charge it before more is drawn"
AGAIN_AND_CURRENT = (
    "read it again with nothing drawn, and write the current if something is; if it stays, charge "
    "it before more is drawn, since lead that stands flat sulphates"
)


@rule(
    id="reading-battery-flat",
    summary="Voltage read at a battery or its controller, against that which harms it.",
    covers=(
        "A battery that was drawn below empty, and is charged again",
        "A lead battery that stands flat",
        "A flat lead battery that may be frozen",
        "Nothing, or one battery of several in series, read at a controller",
    ),
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
        if bank is None or reading.reversed_voltages:
            continue
        if reading.posts_under is not None:
            where = f"the posts of `{bank.name}`"
            found = _under(reading, reading.posts_under, where, bank.battery, _of_posts)
            yield _in_frost(found, reading, bank)
            continue
        if posts is not None and exceeds(bank.empty_voltage, posts.high):
            why = "it is empty below"
            found = _low(reading, bank, posts.high, bank.empty_voltage, why, AGAIN)
            yield _in_frost(found, reading, bank)
        elif reading.flat_at_rest is not None:
            why = "at rest it is flat below"
            shorted = bank.twelves == 1.0 and exceeds(
                ONE_CELL_LESS * bank.resting_voltage, reading.flat_at_rest[0]
            )
            remedy = AGAIN_AND_CURRENT + (CELL_IS_GONE if shorted else "")
            found = _low(reading, bank, *reading.flat_at_rest, why, remedy)
            yield _in_frost(found, reading, bank)
        if reading.controller_under is not None:
            where, under = f"`{reading.where}`", reading.controller_under
            yield _under(reading, under, where, reading.source, _of_controller)


def _under(
    reading: ChargeReading,
    under: Under,
    where: str,
    part: Located,
    of_place: Callable[[ChargeReading, Under], tuple[str, str]],
) -> Observation:
    """Of a voltage under the least: by a slip, by what is in series, or as its place tells."""
    bank = reading.bank
    assert bank is not None
    message = f"{where} read {under.shown}"
    if under.meant is not None:
        return Observation(
            message=f"{message}; {under.meant} would be right, so the unit or the range was "
            "misread",
            on=(reading.reading, part),
            values=(under.most, under.least, under.meant),
            level="note",
            remedy="look at the unit and the range on the meter, and write what it showed",
        )
    because, remedy = of_place(reading, under)
    if under.in_series is not None:
        have = "has" if under.in_series == 1 else "have"
        because = (
            f", as {under.in_series} of the {bank.in_series} batteries in series {have}: a lead "
            "ends between them, or one was left out"
        )
        remedy = (
            "read each battery by itself, then from the first negative to the last positive, and "
            "look at which posts the leads end, before it is charged"
        )
    if under.as_bank_of is not None:
        harmed = "is harmed below" if of_place is _of_posts else "gives at least"
        because = (
            f", as a bank of {under.as_bank_of} has; one of {bank.nominal} {harmed} {under.least}"
        )
        remedy = (
            "look at the label and at how its batteries are joined: if it is one of "
            f"{under.as_bank_of}, say so in the plan, and part from it what is made for "
            f"{bank.nominal}; if not, {remedy}"
        )
    if under.by_point is not None and under.as_bank_of is None and under.in_series is None:
        because += f"; {under.by_point} would be right, if the decimal point was misread"
        remedy = f"look at the decimal point and the range on the meter; if it stands, {remedy}"
    return Observation(
        message=f"{message}{because}",
        on=(reading.reading, part),
        values=(under.most, under.least),
        margin=under.most.number / under.least.number - 1.0,
        remedy=remedy,
        hazard="damage" if bank.is_lead and of_place is _of_posts else None,
    )


def _of_posts(reading: ChargeReading, under: Under) -> tuple[str, str]:
    """What such a voltage at the posts points to, and what to do about it."""
    lead = reading.bank is not None and reading.bank.is_lead
    harm = (
        "charge it with a small current, and read it at rest a day later"
        if lead
        else "look up what its maker says of charging it again, and charge it with a small current "
        "and somebody beside it"
    )
    harm = (
        f"read it again at the posts themselves, before any fuse or switch; if it is so low, {harm}"
    )
    if not under.nothing:
        return f"; below {under.least} it is harmed", harm
    inside = "a bridge between its cells has failed" if lead else "its management has cut it off"
    return (
        f": the meter was set to another kind or touched no metal, or {inside}; if it is "
        f"truly below {under.least}, it is harmed",
        f"set the meter to voltage of direct current, and {harm}",
    )


def _of_controller(reading: ChargeReading, under: Under) -> tuple[str, str]:
    """The same at the battery terminals of a controller."""
    assert reading.bank is not None
    because = f" where `{reading.bank.name}` gives {under.least} or more"
    if reading.posts is not None:
        because += f", and its posts read {reading.posts}"
    first = "part the array from the controller before anything else"
    if not under.nothing:
        or_flat = ", or the battery was drawn so low" if reading.posts is None else ""
        return (
            f"{because}: a joint on the way is bad{or_flat}",
            f"{first}; then read the posts, and if they are right, the drop over each fuse, switch "
            "and lug on the way",
        )
    because += ": a fuse, breaker or switch between them is open, or a lead is off"
    if reading.posts is None and not reading.bank.is_lead:
        because += ", or the battery's management has cut it off"
    return (
        because,
        f"{first}; then read on the way from the posts, behind each fuse and switch, and find why "
        "one opened, such as leads the wrong way round, before it is closed again",
    )


def _in_frost(found: Observation, reading: ChargeReading, bank: BankStudy) -> Observation:
    """Of lead in frost, which may be frozen, or will be."""
    freezes = flat_freezes(bank)
    words = found.remedy.words if isinstance(found.remedy, Remedy) else found.remedy
    under = reading.posts_under
    if under is not None and (under.nothing or under.meant is not None):
        return found
    if reading.frost is not None:
        return found._replace(
            message=f"{found.message}; flat it freezes at about {freezes}, and it was "
            f"{reading.frost} there",
            values=(*found.values, reading.frost, freezes),
            level=None,
            hazard=None,
            remedy="bring it into the warm and let it thaw through before it is charged, since "
            f"frozen it can burst then; replace it if its case is bent or split, else {words}",
        )
    if reading.frost_to_come is not None:
        more = f"; flat it freezes at about {freezes}, and it gets as cold as"
        return found._replace(remedy=f"{words}{more} {reading.frost_to_come}")
    return found


def _low(
    reading: ChargeReading, bank: BankStudy, most: Value, least: Value, why: str, remedy: str
) -> Observation:
    """Of a battery that is low, and not harmed yet."""
    return Observation(
        message=f"the posts of `{bank.name}` read {reading.posts}, and {why} {least}",
        on=(reading.reading, bank.battery),
        values=(most, least),
        margin=most.number / least.number - 1.0,
        level="note",
        remedy=remedy,
    )
