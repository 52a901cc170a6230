"""The rating of a fuse or breaker against the current that it carries for hours."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.codes import BodyOfRules, NotTabulated, style
from wattproof.finding import Level
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.limits import SLACK, exceeds, margin_below, over
from wattproof.study.protection.held import has_plug, plug_rating
from wattproof.study.protection.larger_device import exposed, exposed_returns
from wattproof.study.wiring.devices import DeviceStudy, rated
from wattproof.words import enumerated, quoted
from wattproof.working import Value
from wattproof_rules.plans import plan

ROOM = 1.2
"""Times its lasting current from which a device seldom opens in use (common practice)."""
HELD = 1.1
"""Times its rating that a fuse holds for a hundred hours (ISO 8820-3; from memory)."""
AT_FIRST = 1.6
"""Times its rating that an empty battery may seem to draw through a fuse in the first minutes: what
it takes is less than the line would let through (common practice)."""

LARGER = {
    "mini-blade": "blade",
    "blade": "large-blade",
    "large-blade": "bolt-down",
    "bolt-down": "bolt-down-large",
    "stud-mounted": "class-t",
}
"""The style that is made larger, of each that ends at some rating."""

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B), 215.3",
        "2014-2023",
        "a device is rated at least 125 % of the lasting current, unless it is listed for all of "
        "its rating",
        verified=False,
    ),
    "common practice": Clause(
        "makers of fuses; ISO 8820-2",
        "as supplied; 2014",
        "a fuse carries its rated current only in cool air; blade fuses are run at 80 % of it or "
        "less, any device at its rating or less",
        verified=False,
    ),
}


@rule(
    id="fuse-under-load",
    summary="Rating of a fuse or breaker against its lasting current.",
    covers=(
        "A fuse that opens without a fault",
        "Cable and fuse of an inverter",
    ),
    level="warning",
    hazard="lost-energy",
    part="overcurrent",
    basis=BASIS,
    explanation="A fuse is a thin piece of metal that melts when it gets hot, and it is warm "
    "already when it carries its rating for hours, in a closed box on a summer day more so. Then "
    "it opens without any fault, or its holder browns and loosens. A quarter more than the lasting "
    "current keeps it cool, as long as the wire behind it is thick enough for that.",
    fine="Where the maker of the fuse or breaker states that it carries its rating for good in "
    "that heat.",
    since="0.1.0",
    sound=plan("van-in-sun"),
    faulty=Edit("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 35 A"),
)
def fuse_under_load(study: Study) -> Iterator[Observation]:
    of_strings = {d.name for a in study.array.arrays for flow in a.backflows for d in flow.devices}
    for name, device in study.wiring.devices.items():
        if not device.is_overcurrent or device.current is None:
            continue
        if device.side == "array" and name in of_strings:
            continue  # string fuses have a rule of their own
        code = study.codes.of(device.side)
        if device.is_too_small(code) and not _is_held(device, device.current, study):
            needed = device.least_rating(device.current, code)
            yield Observation(
                message=(
                    f"{device.kind} `{name}` ({device.rating}) carries {device.current} "
                    f"for {_how_long(device, study)}; it should be rated at least {needed}"
                ),
                on=(device,),
                values=(needed, device.rating),
                margin=margin_below(needed, device.rating),
                remedy=_remedy(device, study),
                level=_level(device, device.current, study),
            )


def _how_long(device: DeviceStudy, study: Study) -> str:
    if device.brief is not None:
        return device.brief.runs
    return "minutes at a time" if _is_brief(device, study) or _tapers(device, study) else "long"


def _level(device: DeviceStudy, current: Value, study: Study) -> Level | None:
    """A note for little that is amiss, where the plan names no body of rules.

    A size just under the one asked for seldom opens; nor does one that carries the most that a
    cold array gives in brighter sun, for minutes, and less than its controller is rated for; nor
    one that carries its rating or less once the battery behind a long line is no longer empty.
    """
    roomy = not exceeds(ROOM * current, device.rating)
    brief = _is_brief(device, study) and not exceeds(current, ROOM * device.rating)
    mild = roomy or brief or _tapers(device, study)
    return "note" if mild and study.plan.code is None else None


def _is_held(device: DeviceStudy, current: Value, study: Study) -> bool:
    """True for what flows for minutes and would be held for days, where no body is named."""
    brief = study.plan.code is None and _is_brief(device, study)
    return brief and not exceeds(current, HELD * device.rating)


def _is_brief(device: DeviceStudy, study: Study) -> bool:
    """True where its current is the most of a cold array in brighter sun, under its controller's
    rating."""
    rated = study.wiring.network.rated
    return device.side == "battery" and any(rated(passage) for passage in device.passages)


def _tapers(device: DeviceStudy, study: Study) -> bool:
    """True where no more than its rating flows after minutes of charging, and little more before.

    What it is reckoned to carry at first no battery takes as it fills.
    """
    network = study.wiring.network
    after = [network.after_minutes(passage) for passage in device.passages]
    lasts = max((amps.number for amps in after if amps is not None), default=0.0)
    first, rating = device.current, device.rating.number
    if first is None or not over(first.number, lasts):
        return False
    return not over(lasts, rating) and not over(first.number, AT_FIRST * rating)


def _made_for(name: str | None, rating: float) -> str | None:
    """The next style that is made for a rating (A); None where none is known."""
    while name is not None:
        largest = style(name).largest
        if largest is None or largest.value >= rating:
            return name
        name = LARGER.get(name)
    return None


def _remedy(device: DeviceStudy, study: Study) -> Remedy | str:
    """The next standard rating, and the wires that are too thin for it made thicker.

    Larger wires let more of a source through: its rating is that which bears all of it.
    """
    code, in_full = study.codes.of(device.side), study.wiring.in_full(device)
    assert in_full is not None
    needed = device.least_rating(in_full, code)
    own_charger = "" if in_full is device.current else _with_a_charger(device, code)
    try:
        rating = code.next_rating(needed.number)
    except NotTabulated:
        return f"divide the circuit: no standard rating reaches {needed}{own_charger}"
    if plugs := _plugs(device, rating, study):
        return (
            f"draw less through the plug in {quoted(plugs)}, which stands no larger fuse; in a "
            "charge line a vehicle charger that is set to less sees to that"
        )
    own: tuple[Change, ...] = (rated(device.passages[0], rating),)
    words, made = f"use {rating:g} A", device.style
    if made is not None and made.largest is not None and rating > made.largest.value:
        larger = _made_for(made.name, rating)
        if larger is None:
            return f"{words}, of a style that is made so large"
        words += f" of the larger style (`{larger}`)"
        if device.panel is not None:
            return words + own_charger
        own = (*own, Change(device.name, "style", larger))
    judge = study.protection
    wires = (
        *exposed(judge.guards, device, rating),
        *exposed_returns(judge.allowed, device, rating),
    )
    sizes = [thicker for each in wires if (thicker := each.thicker()) is not None]
    if len(sizes) < len(wires):
        return f"{words}, with wires that it protects{own_charger}"
    listed = enumerated(f"{wire.size.name} for `{wire.name}`" for wire in sizes)
    with_it = f", and {listed}, too thin for that now" if sizes else ""
    weak = _weaker(device, rating, study, "switch", "relay", "bar")
    if weak:
        with_it += f", with {quoted(weak)} rated at least {rating:g} A"
    stronger = (Change(name, "rating", f"{rating:g} A") for name in weak)
    changes = (*own, *(wire.as_change for wire in sizes), *stronger)
    return Remedy(f"{words}{with_it}{own_charger}", (changes,))


def _with_a_charger(device: DeviceStudy, code: BodyOfRules) -> str:
    """What spares larger wires, which let more through: a source that is limited by itself."""
    factor = device.least_rating(Value(1.0, "A"), code)
    amps = int(device.rating.number / factor.number)
    return f", since larger wire lets more through; or have a vehicle charger draw {amps} A there"


def _plugs(device: DeviceStudy, amps: float, study: Study) -> list[str]:
    """Wires with a small plug that does not stand a rating (A): its own, and those behind it."""
    wires = [study.wiring.wires[str(p.wire.name)] for p in device.passages if p.wire is not None]
    weak = [w for w in wires if has_plug(w.wire) and plug_rating(w).number < amps * (1.0 - SLACK)]
    return list(dict.fromkeys([w.name for w in weak] + _weaker(device, amps, study, "plug")))


def _weaker(device: DeviceStudy, amps: float, study: Study, *kinds: str) -> list[str]:
    """What of some kinds stands what a device lets through, and not that rating (A)."""
    return [
        each.name
        for each in study.protection.held
        if each.what in kinds
        and [passage.name for passage in each.devices] == [device.name]
        and each.reason is None
        and each.rating.number < amps * (1.0 - SLACK)
    ]
