"""Cable in the ground, by what it is made for and how deep it lies."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 300.5 and table 300.5(A)",
        "2023",
        "cable without a pipe is of a type for direct burial and lies 24 in deep; in a plastic "
        "pipe 18 in",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-5-52 522.8.10",
        "2009",
        "buried cables are protected against damage by depth or cover, and marked",
        verified=False,
    ),
    "common practice": practice(
        "a cable for burial 60 cm deep, or one in a pipe 45 cm, with a warning tape above it"
    ),
}

PRACTICE = {False: 0.6, True: 0.45}
"""Least cover over a cable (m): without a pipe, and in one."""

MORE = """\
setting: cabin
code: iec
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
    ground-10: {size: 10 AWG, type: NYY-J, material: copper}
fuses:
  lamp-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
loads:
  yard-lamp: {current: 2 A}
wires:
  yard-run: {from: house, to: yard-lamp, cable: ground-10, length: 8 m, run: buried, depth: 60 cm,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="buried-cable-unsuited",
    summary="Kind and depth of cable that lies in the ground.",
    covers=("Cable in the ground that is not made for it",),
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="Ground is wet, it moves, and people dig in it. Insulation that is made for dry "
    "walls takes up water and fails within some years, and a spade goes through a "
    "cable that lies shallow. A battery then feeds the fault for as long as its fuse "
    "lets it. Cables for the ground are made and marked for it; others lie in a pipe.",
    caution=warning("Whoever digs into a live cable can be burnt by the arc."),
    fine="Where it lies in a pipe that keeps spades and water away: write `enclosed: true`.",
    since="0.2.0",
    sound=plan(
        "van-two-modules", Edit("max_charge_current: 50 A", "max_charge_current: 100 A"), more=MORE
    ),
    faulty=Edit("type: NYY-J", "type: H07V-K"),
)
def buried_cable_unsuited(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        if wire.wire.run != "buried":
            continue
        piped = wire.wire.enclosed
        if not piped and not wire.made_for_burial:
            yield Observation(
                message=f"`{wire.name}` is buried, and its cable is not made for that",
                on=(wire,),
                remedy=Remedy(
                    "use a cable that is marked for direct burial, and write `direct_burial: true` "
                    "for it; or lay it in a pipe, and write `enclosed: true`",
                    (
                        (Change(wire.name, "cable.direct_burial", "true"),),
                        (Change(wire.name, "enclosed", "true"),),
                    ),
                ),
                level="error" if study.plan.setting == "cabin" else None,
            )
        depth = wire.wire.depth
        if depth is None:
            continue
        there = declared(depth, f"h({wire.name})", f"cover over {wire.name}")
        least = _least(piped, wire)
        if exceeds(least, there):
            yield Observation(
                message=f"`{wire.name}` lies {there} deep; {least} is the least allowed"
                + (" in a pipe" if piped else ""),
                on=(wire,),
                values=(there, least),
                margin=there.number / least.number - 1.0,
                remedy=Remedy(
                    f"lay `{wire.name}` at least {least} deep",
                    ((Change(wire.name, "depth", f"{least}"),),),
                ),
            )


def _least(piped: bool, wire: WireStudy) -> Value:
    """Least cover (m)."""
    metres, source = PRACTICE[piped], "common practice"
    stated = wire.code.burial_depth(piped=piped)
    if stated is not None:
        metres, source = stated.value, stated.cited
    return tabled(metres, "m", "hmin", "least cover of earth", source)
