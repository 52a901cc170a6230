"""Cables, wires and plugs, where their make is not told."""

from __future__ import annotations

from typing import Final

from wattproof.study.assumptions.rows import Assumed, Silence
from wattproof.working import LookUp

UNSTATED = "no kind stated"

INSULATION = Assumed(
    {
        UNSTATED: 90.0,
        "building": 75.0,
        "welding": 90.0,
        "automotive": 80.0,
        "pv": 90.0,
        "battery": 105.0,
        "marine": 105.0,
    },
    "°C",
    "temperature rating of the insulation",
    "CableSheet.insulation_temperature",
)
INSULATION_AT_BEST = Assumed(
    {
        UNSTATED: 105.0,
        "building": 90.0,
        "welding": 105.0,
        "automotive": 125.0,
        "pv": 120.0,
        "battery": 105.0,
        "marine": 105.0,
    },
    "°C",
    "the best insulation that such cable is sold with",
)
INSULATION_AT_WORST = Assumed(
    {
        UNSTATED: 60.0,
        "building": 60.0,
        "welding": 60.0,
        "automotive": 80.0,
        "pv": 90.0,
        "battery": 60.0,
        "marine": 75.0,
    },
    "°C",
    "the worst insulation that such cable is sold with",
)
CABLE_VOLTAGE = Assumed(
    {
        UNSTATED: 600.0,
        "automotive": 60.0,
        "battery": 60.0,
        "marine": 600.0,
        "welding": 600.0,
        "building": 300.0,
        "pv": 600.0,
    },
    "V",
    "rated voltage",
    "CableSheet.voltage",
)
CABLE_VOLTAGE_AT_BEST = Assumed(
    {
        UNSTATED: 1000.0,
        "automotive": 60.0,
        "battery": 600.0,
        "marine": 600.0,
        "welding": 600.0,
        "building": 600.0,
        "pv": 1500.0,
    },
    "V",
    "the highest rated voltage that such cable is sold with",
)
CABLE_VOLTAGE_AT_WORST = Assumed(
    {
        UNSTATED: 60.0,
        "automotive": 60.0,
        "battery": 60.0,
        "marine": 50.0,
        "welding": 100.0,
        "building": 300.0,
        "pv": 600.0,
    },
    "V",
    "the lowest rated voltage that such cable is sold with",
)
MATERIAL = Assumed("copper", "", "metal of a conductor", "CableSheet.material")
SURE_COPPER = Assumed(
    ("pv", "marine", "building"),
    "",
    "cables that are of copper in any case; others may be copper-clad aluminium",
    "CableSheet.material",
)
RUN = Assumed("free-air", "", "how a wire is laid", "Wire.run")
TINNED = Assumed(
    ("pv",),
    "",
    "cables whose copper is tinned",
    source="EN 50618 and IEC 62930; common practice for cable by UL 4703",
)
DROP_TEMPERATURE = Assumed(
    75.0, "°C", "temperature of a conductor at full load, when its drop is reckoned"
)
COLD_TEMPERATURE = Assumed(20.0, "°C", "temperature of a conductor when a fault begins")
PLUG_RATING = Assumed(
    {
        "flat-two-pin": 10.0,
        "cigar": 8.0,
        "genderless-50": 50.0,
        "trailer-7": 30.0,
        "trailer-13": 20.0,
    },
    "A",
    "rating of a small plug",
    "Wire.plug_rating",
)
PLUG_RATING_AT_BEST = Assumed(
    {
        "flat-two-pin": 20.0,
        "cigar": 20.0,
        "genderless-50": 75.0,
        "trailer-7": 40.0,
        "trailer-13": 25.0,
    },
    "A",
    "rating of a small plug at the very best, above which an error is sure",
)
MOST_ON_PLUGS: Final = {
    "flat-two-pin": 30.0,
    "cigar": 20.0,
    "genderless-50": 60.0,
    "trailer-7": 40.0,
    "trailer-13": 40.0,
}
"""A: more than is printed on any plug of each kind (common practice)."""

NO_INSULATION = Silence(
    key="insulation temperature",
    usual=INSULATION,
    kind=INSULATION_AT_BEST,
    harsh=INSULATION_AT_WORST,
    look_up=LookUp(
        "the temperature that {names} stands",
        "on the insulation, as 60, 75, 90 or 105 °C, or as a type such as THHN or H07V-K",
    ),
    says="The insulation of `{subject}`, {sold}, is assumed to be rated {number:g} °C.",
    instead="insulation_temperature",
    symbol="Ti",
    words="insulation temperature of {subject}",
    unit="°C",
)
NO_CABLE_VOLTAGE = Silence(
    key="cable voltage",
    usual=CABLE_VOLTAGE,
    kind=CABLE_VOLTAGE_AT_BEST,
    harsh=CABLE_VOLTAGE_AT_WORST,
    look_up=LookUp(
        "the voltage that {names} is made for", "on the insulation, as 600 V or 450/750 V"
    ),
    says="The rated voltage of `{subject}` is assumed to be {number:g} V, since none is given.",
    instead="voltage",
    symbol="Ucable",
    words="rated voltage of {subject}",
    unit="V",
)
NO_MATERIAL = Silence(
    key="conductor material",
    says="`{subject}` does not say what its conductor is made of; it is reckoned as copper, though "
    "cheap cable is often copper-clad aluminium.",
    instead="material",
    look_up=LookUp(
        "what the strands of {names} are made of",
        "on the insulation, where CCA means copper-clad aluminium; a strand that is scraped shows "
        "silver under the copper then",
    ),
)
NO_WIRE_RUN = Silence(
    key="run of a wire",
    says="`{subject}` is assumed to run in free air, not in a conduit or loom.",
    instead="run",
    look_up=LookUp(
        "whether {names} runs in free air or in a conduit, loom or wall", "along the wire"
    ),
)
NO_TERMINALS = Silence(
    key="terminals",
    says="The terminals at `{subject}` are assumed to be good for 75 °C.",
    instead="terminal_temperature",
    look_up=LookUp(
        "the temperature that the terminals at {names} are marked for",
        "on the device or in its manual, as 60 or 75 °C",
        "rarely",
    ),
)
NO_TERMINAL_MARK = Silence(
    key="mark of terminals",
    says="The terminals at `{subject}` are read as the body of rules reads those without a mark.",
    instead="terminal_temperature",
    look_up=LookUp(
        "the temperature that the terminals at {names} are marked for",
        "on the device or in its manual, as 60 or 75 °C",
        "rarely",
    ),
)
NOT_FOR_BURIAL = Silence(
    key="mark for burial",
    says="`{subject}` is assumed not to be made to lie in the ground, as few cables are.",
    instead="direct_burial",
    look_up=LookUp(
        "whether {names} is made to lie in the ground",
        "on the insulation, as direct burial, or a type such as NYY-J or USE-2",
    ),
    guess=True,
)
NOT_FOR_OUTDOORS = Silence(
    key="mark for outdoors",
    says="`{subject}` is assumed to be made for sun and rain, since nothing says that it is not.",
    instead="outdoor",
    look_up=LookUp(
        "whether {names} is made for sun and rain",
        "on the insulation, as sunlight resistant, or a type such as H1Z2Z2-K or USE-2",
    ),
)
FOR_INDOORS = Silence(
    key="mark for outdoors",
    says="`{subject}` is assumed to be made for indoors, as most cable for buildings is.",
    instead="outdoor",
    look_up=NOT_FOR_OUTDOORS.look_up,
)
NO_SQUARE_MILLIMETRES = Silence(
    key="gauge",
    says="The gauge of {names} is assumed to be AWG; automotive cable sold by SAE gauge has 5 to "
    "12 % "
    "less copper.",
    instead="size, in mm² of copper",
)
NO_RUN = Silence(
    key="run",
    says="Where a wire does not say how it is laid, it is read as in free air; in conduit, loom or "
    "trunking it carries less.",
    instead="run: conduit, surface or free-air",
)
NO_BUNDLING = Silence(
    key="bundling",
    says="Where a wire does not say how many loaded conductors run with it, only its own are "
    "counted; more in one loom or gland carry less.",
    instead="bundled, with the number of loaded conductors",
)
NO_PLUG_RATING = Silence(
    key="plug rating",
    usual=PLUG_RATING,
    kind=PLUG_RATING_AT_BEST,
    look_up=LookUp("what the plugs in {names} are rated for", "on the plug, in A"),
    says="The {kind} plug in `{subject}` is assumed to be good for {number:g} A, since no rating "
    "is "
    "given.",
    instead="plug_rating",
    symbol="In({subject} plug)",
    words="rating of the plug in {subject}",
    unit="A",
)
PLUG_BEHIND_FUSE = NO_PLUG_RATING._replace(guess=True)
"""The same beside the fuse before it: many a plug stands more than it carries every day."""
