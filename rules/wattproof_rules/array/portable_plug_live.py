"""Plugs of portable modules that stay live when these are taken away, from what is beside them."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.array.connectors import GUARDED
from wattproof.words import enumerated
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "what is plugged and parted by hand is dead when it is apart, or no finger and no metal "
        "comes to its contacts; a portable source has an input of its own"
    ),
}

MORE = """\
datasheets:
  modules:
    folding-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                  voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                  pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V,
                  connector: {style: locking-pv, rating: 30 A, voltage: 1000 V}}
strings:
  folding: {module: folding-100, series: 1, mounting: ground, portable: true}
combiners:
  joint: {joins: [roof-string, folding], kind: branch-connector, rating: 30 A, voltage: 1000 V}
wires:
  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
"""


@rule(
    id="portable-plug-live",
    summary="Plugs of portable modules that are joined side by side with fixed ones.",
    covers=("A plug that is live when its module is packed away",),
    level="note",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="Modules side by side share their two leads. When the portable one is packed away, "
    "its plug stays behind at the van or hut, and the modules on the roof feed it: their whole "
    "voltage stands at its pins, and all their current is there for whatever bridges them, a key, "
    "a wet hand or the grass. A socket on a controller's input of its own is dead when nothing is "
    "plugged in.",
    caution=warning(
        "Pins that are live can draw an arc and burn; cap them, or open the array first."
    ),
    fine="Where the plug hides its contacts on both halves, or a switch beside it opens both poles "
    "before it is parted.",
    since="0.3.0",
    sound=plan(
        "van-two-modules",
        Edit("kind: mppt", "kind: pwm"),
        Edit("series: 2", "series: 1"),
        less=("wires.home-run",),
        more=MORE,
    ),
    faulty=Edit("connector: {style: locking-pv,", "connector: {style: flat-two-pin,"),
)
def portable_plug_live(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        live = study.array.live_plug(array)
        if live is not None:
            away = enumerated(f"`{string.name}`" for string in live.portable)
            fed_by = enumerated(f"`{string.name}`" for string in live.fixed)
            yield Observation(
                message=f"when {away} is taken away, its plug stays live from {fed_by}, with up to "
                f"{live.volts}"
                + ("" if live.bare else ", and nothing says that it hides its pins"),
                on=(*live.portable, *live.fixed),
                values=(live.volts,),
                remedy=f"give {away} a controller or an input of its own; else use plugs that hide "
                f"their contacts on both halves (`connector: {{style: {GUARDED}}}` of the module), "
                "or put a switch for both poles before them",
                level="warning" if live.bare else None,
            )
