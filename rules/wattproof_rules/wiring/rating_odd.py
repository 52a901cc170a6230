"""Printed limits that nothing of its kind has: a digit too many, where all else is held to it."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import (
    Edit,
    Located,
    Observation,
    option,
    practice,
    record,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.assumptions.cables import MOST_ON_PLUGS
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "what is sold: solar inputs of controllers for 12 V take up to 250 V, for 24 V and 48 V up "
        "to 600 V; branch connectors are made for up to 70 A, connectors for one cable for up to "
        "95 A, small plugs for what their pins carry; bars and switches of small craft and "
        "vehicles for up to 1000 A, fuse panels for up to 400 A"
    ),
}

PRACTICE = "common practice"


@record
class Limits:
    """What a project may set."""

    small: float = option(300.0, "Highest input voltage (V) of a controller for 12 V.")
    large: float = option(1000.0, "Highest input voltage (V) of a controller for more than 12 V.")
    branch: float = option(80.0, "Highest rating (A) of a branch connector.")
    connector: float = option(120.0, "Highest rating (A) of a connector of modules.")
    bar: float = option(1500.0, "Highest rating (A) of a busbar or battery switch.")
    panel: float = option(600.0, "Highest rating (A) of a distribution panel.")


@rule(
    id="rating-odd",
    summary="Limits of controllers, joints, bars, switches and plugs against what is made.",
    covers=("A limit with a digit too many",),
    level="warning",
    hazard="fire",
    part="plan",
    basis=BASIS,
    explanation="Everything is held to the limits that stand in a plan. One that was written with "
    "a nought too many lets everything pass: an array of three times the voltage that a controller "
    "stands, or the current of ten strings through a plug. Nothing else would show it.",
    caution=warning("With such a figure a plan looks sound that burns its parts."),
    fine="Where the label really says so: keep a picture of it.",
    since="0.3.0",
    sound=plan("van"),
    faulty=Edit("max_input_voltage: 100 V", "max_input_voltage: 1000 V"),
    options=Limits,
)
def rating_odd(study: Study, limits: Limits) -> Iterator[Observation]:
    for controller in study.plan.controllers.values():
        if controller.max_input_voltage is None or controller.kind == "vehicle-charger":
            continue
        banks = [b for c in study.battery.charged if c.source is controller for b in c.banks]
        small = bool(banks) and all(bank.nominal.number < 18.0 for bank in banks)
        volts = declared(
            controller.max_input_voltage, f"Umax({controller.name})", "highest input voltage"
        )
        most = tabled(
            limits.small if small else limits.large, "V", "Umost", "highest that is made", PRACTICE
        )
        if exceeds(volts, most):
            what = "for 12 V " if small else ""
            yield _odd(
                controller,
                volts,
                most,
                f"`{controller.name}` is told to take {volts} from its "
                f"array, and no controller {what}is made for more than {most}",
                "max_input_voltage",
            )
    for joint in study.plan.combiners.values():
        if joint.kind == "branch-connector" and joint.rating is not None:
            amps = declared(joint.rating, f"In({joint.name})", f"rating of {joint.name}")
            most = tabled(limits.branch, "A", "Imost", "highest that is made", PRACTICE)
            if exceeds(amps, most):
                yield _odd(
                    joint,
                    amps,
                    most,
                    f"branch connector `{joint.name}` is told to carry {amps}, "
                    f"and none is made for more than {most}",
                    "rating",
                )
    for wire in study.wiring.wires.values():
        yield from _plug(wire)
    yield from _carriers(study, limits)


def _carriers(study: Study, limits: Limits) -> Iterator[Observation]:
    """Bars, switches and panels, to which fuses are held."""
    told = study.plan
    families = (
        ("busbar", told.busbars, limits.bar),
        ("switch", told.switches, limits.bar),
        ("selector switch", told.selectors, limits.bar),
        ("panel", told.distribution, limits.panel),
    )
    for what, family, highest in families:
        for name, part in family.items():
            if part.rating is None:
                continue
            amps = declared(part.rating, f"In({name})", f"rating of {name}")
            most = tabled(highest, "A", "Imost", "highest that is made", PRACTICE)
            if exceeds(amps, most):
                words = f"{what} `{name}` is told to carry {amps}, and none is made for more than"
                yield _odd(part, amps, most, f"{words} {most}", "rating")


def _plug(wire: WireStudy) -> Iterator[Observation]:
    kind, written = wire.wire.plug, wire.wire.plug_rating
    if kind is None or written is None or str(kind) not in MOST_ON_PLUGS:
        return
    amps = declared(written, f"In({wire.name} plug)", f"rating of the plug in {wire.name}")
    most = tabled(MOST_ON_PLUGS[str(kind)], "A", "Imost", "highest that is printed", PRACTICE)
    if exceeds(amps, most):
        yield _odd(
            wire,
            amps,
            most,
            f"the plug in `{wire.name}` ({kind}) is told to carry {amps}, and "
            f"none of its kind carries more than {most}",
            "plug_rating",
        )


def _odd(part: Located, told: Value, most: Value, message: str, key: str) -> Observation:
    tenth = f"{told.number / 10.0:.3g} {told.unit}"
    return Observation(
        message=f"{message}: is it {tenth}?",
        on=(part,),
        values=(told, most),
        margin=margin_below(told, most),
        remedy=f"read `{key}` again on the part itself, with its decimal point and its unit",
        cause=key,
    )
