"""The conductor that ties a negative to the chassis or the water, against the least that holds."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.grounding import Ground, WayToTie
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, function, largest, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 552.10(C)(4), for trailers",
        "2008-2023",
        "the chassis is bonded by a copper conductor of at least 8 AWG",
        verified=True,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (11.18)",
        "2003 and later",
        "the conductor to ground is at most one size below the largest negative conductor, and "
        "not under 16 AWG",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-5-54 542.3.1 and 543.1.2",
        "2011",
        "a conductor to an electrode has at least 6 mm² of copper; one that brings a fault back "
        "lasts until the device opens, S = sqrt(I² t) / k",
        verified=False,
    ),
    "common practice": practice(
        "where the body of rules has no figure, the tie lasts a second at five times the rating "
        "of the largest fuse"
    ),
}

LEAST_TO_EARTH = 6e-6
EARTH = "IEC 60364-5-54 542.3.1 (from memory); NEC 250.166 asks for 8 AWG"
OPENS_AT = 5.0
"""Times its rating at which a fuse of any kind opens within a second (common practice)."""
K = 143.0
"""A s^0.5/mm²: of copper in insulation (IEC 60364-5-54 table A.54.4, from memory)."""
SHORT = "IEC 60364-5-54 543.1.2 (from memory)"
SLACK = 1.002  # between the areas that tables print for one gauge

MORE = """\
datasheets:
  cables:
    bond-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
bonds:
  chassis-bond: {from: house.negative, to: chassis, cable: bond-8, length: 50 cm}
"""


@rule(
    id="bond-too-small",
    summary="Size of the tie between a bank's negative and the chassis or the water.",
    covers=("A tie too thin to clear a fault",),
    level="warning",
    hazard="fire",
    part="bonding",
    basis=BASIS,
    explanation="When a positive cable chafes through on the chassis, the whole short-circuit "
    "current returns to the battery through this one tie. It must carry that until the fuse "
    "opens. A thin one burns first, and then the chassis stays live and nothing opens. So does the "
    "wire between the negatives of two banks of which one is tied at the other.",
    caution=warning(
        "A tie that is too thin can glow before the fuse opens and set fire to what it touches."
    ),
    fine="Where the plan's bond is only one of several ties to the same place, and together they "
    "are large enough by your body of rules.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("bond-8: {size: 8 AWG", "bond-8: {size: 10 AWG"),
)
def bond_too_small(study: Study) -> Iterator[Observation]:
    for ground in study.wiring.grounds:
        for bond in ground.bonds:
            found = _of_earth(study) if bond.to == "earth" else _least(ground, study)
            if found is None:
                continue
            least, size = found
            sheet = study.plan.datasheets.cables[bond.cable]
            area = declared(sheet.size, f"A({bond.name})", f"conductor of {bond.name}")
            if least > area and least.number > area.number * SLACK:
                yield Observation(
                    message=(
                        f"`{bond.name}` is {area}; a bond to the {bond.to} must be at "
                        f"least {size} here"
                    ),
                    on=(bond,),
                    values=(area, least),
                    margin=area.number / least.number - 1.0,
                    remedy=Remedy(
                        f"use {size} or larger for `{bond.name}`",
                        ((Change(bond.name, "cable.size", size),),),
                    ),
                )
    yield from _on_the_way(study)


def _on_the_way(study: Study) -> Iterator[Observation]:
    """Wires between negatives that have to bring back what another bank drives into the body."""
    worst: dict[str, WayToTie] = {}
    for way in study.wiring.ways_to_ties:
        known = worst.setdefault(way.thinnest.name, way)
        if way.opens > known.opens:
            worst[way.thinnest.name] = way
    for way in worst.values():
        least, size = _lasting_until(way.opens, study)
        wire = way.thinnest
        area = _area(wire)
        if size is None or wire.area_mm2 * 1e-6 * SLACK >= least.number:
            continue
        yield Observation(
            message=f"`{wire.name}` ({wire.size.name}) brings back what `{way.bank}` drives into "
            f"the {'water' if study.plan.setting == 'boat' else 'chassis'}; to last until "
            f"{way.opens} there open it has to be {size}",
            on=(wire, way.tie),
            values=(area, least, way.opens),
            margin=wire.area_mm2 * 1e-6 / least.number - 1.0,
            remedy=Remedy(
                f"use {size} or larger for `{wire.name}`",
                ((Change(wire.name, "cable.size", size),),),
            ),
        )


def _of_earth(study: Study) -> tuple[Value, str] | None:
    """The least conductor to an electrode in the ground; None where nothing stands on it."""
    if study.plan.setting != "cabin":
        return None
    words = "least copper to an electrode"
    return tabled(LEAST_TO_EARTH, "m²", "Amin", words, EARTH), "6 mm²"


def _least(ground: Ground, study: Study) -> tuple[Value, str] | None:
    """The least area (m²) and its name: by the body of rules, else what lasts until a fuse opens.

    None where neither says anything.
    """
    wire = ground.largest
    copper = wire.area_mm2 if wire is not None else None
    least = study.codes.battery.bond_size(study.plan.setting, copper)
    if least is not None:
        table = least.figure
        area = tabled(table.value / 1e6, "m²", "Amin", table.what, table.cited)
        if wire is not None and study.codes.battery.bond_size(study.plan.setting, None) is None:
            area = _by_the_largest(area, wire)
        return area, least.size.name
    guards = [d.rating for d in study.wiring.devices.values() if _opens(d)]
    if not guards:
        return None
    area, name = _lasting_until(largest(guards), study)
    return (area, name) if name is not None else None


def _by_the_largest(least: Value, wire: WireStudy) -> Value:
    """The least of a table (m²) that is read by the largest negative conductor."""
    read = function("table", least.number, _area(wire), least)
    return read.named("Amin", least.words, "m²")


def _area(wire: WireStudy) -> Value:
    return declared(wire.sheet.size, f"A({wire.name})", f"conductor of {wire.name}")


def _lasting_until(opens: Value, study: Study) -> tuple[Value, str | None]:
    """The copper (m²) that lasts until a device of some rating opens (A), and its size."""
    words = "copper that lasts until the largest fuse opens on a touching positive"
    factor = tabled(
        OPENS_AT / (K * 1e6), "m²/A", "kbond", "for 1 s at five times its rating", SHORT
    )
    area = (factor * opens).named("Amin", words, "m²")
    sizes = study.codes.battery.conductor_sizes()
    size = next((s for s in sizes if s.area_mm2 * 1e-6 >= area.number), None)
    return area, size.name if size is not None else None


def _opens(device: DeviceStudy) -> bool:
    return device.is_overcurrent and device.side == "battery"
