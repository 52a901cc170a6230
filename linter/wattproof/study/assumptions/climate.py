"""Air, where the plan tells no temperature."""

from __future__ import annotations

from wattproof.study.assumptions.rows import ESTIMATE, Assumed, Silence

COLDEST = Assumed(
    {"vehicle": -20.0, "boat": -5.0, "cabin": -25.0, "portable": -20.0},
    "°C",
    "coldest air with daylight",
    "Site.coldest",
)
COLDEST_AT_BEST = Assumed(
    {"vehicle": -5.0, "boat": 0.0, "cabin": -10.0, "portable": -5.0},
    "°C",
    "coldest air with daylight where winters are mild",
)
COLDEST_AT_WORST = Assumed(
    {"vehicle": -35.0, "boat": -15.0, "cabin": -40.0, "portable": -35.0},
    "°C",
    "coldest air with daylight where winters are hard",
)
HOTTEST = Assumed(40.0, "°C", "hottest air in the shade", "Site.hottest")
HOTTEST_AT_BEST = Assumed(28.0, "°C", "hottest air in the shade where summers are cool")
HOTTEST_AT_WORST = Assumed(48.0, "°C", "hottest air in the shade of a desert")
ARRAY_AMBIENT = Assumed(
    50.0, "°C", "air around wires and devices on the array side", "Surroundings.ambient"
)
ARRAY_AMBIENT_AT_WORST = Assumed(
    70.0, "°C", "air around wires that lie on a dark roof, or within 25 mm of one"
)
ARRAY_AMBIENT_AT_BEST = Assumed(40.0, "°C", "air around wires on the array side in the shade")
INSIDE_AMBIENT = Assumed(35.0, "°C", "air around wires and devices inside", "Surroundings.ambient")
ENGINE_AMBIENT = Assumed({"boat": 50.0}, "°C", "air in an engine space", "Surroundings.ambient")
INSIDE_AMBIENT_AT_WORST = Assumed(50.0, "°C", "air in a closed cupboard")
INSIDE_AMBIENT_AT_BEST = Assumed(30.0, "°C", "air in a shaded room")
ENGINE_AMBIENT_ELSEWHERE = Assumed(
    70.0, "°C", "air in any other engine space, as under a bonnet", "Surroundings.ambient"
)
ENGINE_AMBIENT_AT_WORST = Assumed(85.0, "°C", "air under a bonnet near the exhaust")
ENGINE_AMBIENT_AT_BEST = Assumed(50.0, "°C", "air in an engine space that is well vented")
AMBIENT_AT_BEST = Assumed(
    {
        "array": ARRAY_AMBIENT_AT_BEST.value,
        "inside": INSIDE_AMBIENT_AT_BEST.value,
        "engine": ENGINE_AMBIENT_AT_BEST.value,
    },
    "°C",
    "air around wires and devices, at best",
)
AMBIENT_AT_WORST = Assumed(
    {
        "array": ARRAY_AMBIENT_AT_WORST.value,
        "inside": INSIDE_AMBIENT_AT_WORST.value,
        "engine": ENGINE_AMBIENT_AT_WORST.value,
    },
    "°C",
    "air around wires and devices, at worst",
)

SUN_ON_BOX = Assumed(
    25.0, "K", "what full sun heats a box by, of a joint in a sunny place", source=ESTIMATE
)
NO_COLDEST = Silence(
    key="coldest temperature",
    usual=COLDEST,
    kind=COLDEST_AT_BEST,
    harsh=COLDEST_AT_WORST,
    says="The coldest air with daylight is assumed to be {number:g} °C, since the plan gives none; "
    "take the coldest place of the route, not the home address.",
    instead="site: coldest",
    symbol="Tcold",
    words="coldest air with daylight",
    unit="°C",
)
NO_HOTTEST = Silence(
    key="hottest temperature",
    usual=HOTTEST,
    kind=HOTTEST_AT_BEST,
    harsh=HOTTEST_AT_WORST,
    says="The hottest air is assumed to be {number:g} °C, since the plan gives none.",
    instead="site: hottest",
    symbol="Thot",
    words="hottest air",
    unit="°C",
)
NO_AMBIENT = Silence(
    key="ambient",
    kind=AMBIENT_AT_BEST,
    harsh=AMBIENT_AT_WORST,
    says="The air around `{subject}` ({where}) is assumed to be {number:g} °C, since the plan "
    "gives "
    "no `ambient` for its place.",
    instead="place, with its ambient under site: places",
    symbol="Ta",
    words="ambient of {subject}",
    unit="°C",
)
