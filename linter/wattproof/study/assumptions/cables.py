"""Cables, wires and plugs, where their make is not told."""

from __future__ import annotations

from wattproof.study.assumptions.rows import Assumed, Silence

UNSTATED = "no kind stated"

INSULATION = Assumed(
    {
        UNSTATED: 60.0,
        "building": 60.0,
        "welding": 60.0,
        "automotive": 80.0,
        "pv": 90.0,
        "battery": 105.0,
        "marine": 105.0,
    },
    "°C",
    "temperature rating of the insulation",
    "CableSheet.insulation_temperature",
)
CABLE_VOLTAGE = Assumed(
    {
        UNSTATED: 60.0,
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
SURE_COPPER = Assumed(
    ("pv", "marine", "building"),
    "",
    "cables taken as copper; others may be copper-clad aluminium and are reckoned so",
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

NO_INSULATION = Silence(
    key="insulation temperature",
    usual=INSULATION,
    says="The insulation of `{subject}`, {sold}, is taken as rated {number:g} °C.",
    instead="insulation_temperature",
    symbol="Ti",
    words="insulation temperature of {subject}",
    unit="°C",
)
NO_CABLE_VOLTAGE = Silence(
    key="cable voltage",
    usual=CABLE_VOLTAGE,
    says="The rated voltage of `{subject}` is taken as {number:g} V, since none is given.",
    instead="voltage",
    symbol="Ucable",
    words="rated voltage of {subject}",
    unit="V",
)
NO_MATERIAL = Silence(
    key="conductor material",
    says="`{subject}` does not say what its conductor is made of; such cable is often copper-clad "
    "aluminium, and is reckoned as that.",
    instead="material: copper",
)
NO_SQUARE_MILLIMETRES = Silence(
    key="gauge",
    says="The gauge of {names} is taken as AWG; automotive cable sold by SAE gauge has 5 to 12 % "
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
    says="The {kind} plug in `{subject}` is taken as good for {number:g} A, since no rating is "
    "given.",
    instead="plug_rating",
    symbol="In({subject} plug)",
    words="rating of the plug in {subject}",
    unit="A",
)
