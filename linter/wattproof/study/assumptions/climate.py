"""Air, where the plan tells no temperature."""

from __future__ import annotations

from wattproof.study.assumptions.rows import ESTIMATE, Assumed, Silence

COLDEST = Assumed(
    {"vehicle": -20.0, "boat": -5.0, "cabin": -25.0, "portable": -20.0},
    "°C",
    "coldest air with daylight",
    "Site.coldest",
)
HOTTEST = Assumed(40.0, "°C", "hottest air in the shade", "Site.hottest")
ARRAY_AMBIENT = Assumed(
    70.0, "°C", "air around wires and devices on the array side", "Surroundings.ambient"
)
INSIDE_AMBIENT = Assumed(40.0, "°C", "air around wires and devices inside", "Surroundings.ambient")
ENGINE_AMBIENT = Assumed({"boat": 50.0}, "°C", "air in an engine space", "Surroundings.ambient")
ENGINE_AMBIENT_ELSEWHERE = Assumed(
    85.0, "°C", "air in any other engine space, as under a bonnet", "Surroundings.ambient"
)

SUN_ON_BOX = Assumed(
    25.0, "K", "what full sun heats a box by, of a joint in a sunny place", source=ESTIMATE
)
NO_COLDEST = Silence(
    key="coldest temperature",
    usual=COLDEST,
    says="The coldest air with daylight is taken as {number:g} °C, since the plan gives none; "
    "take the coldest place of the route, not the home address.",
    instead="site: coldest: {number:g} °C",
    symbol="Tcold",
    words="coldest air with daylight",
    unit="°C",
)
NO_HOTTEST = Silence(
    key="hottest temperature",
    usual=HOTTEST,
    says="The hottest air is taken as {number:g} °C, since the plan gives none.",
    instead="site: hottest: {number:g} °C",
    symbol="Thot",
    words="hottest air",
    unit="°C",
)
NO_AMBIENT = Silence(
    key="ambient",
    says="The air around `{subject}` ({where}) is taken as {number:g} °C, since the plan gives "
    "no `ambient` for its place.",
    instead="place, with its ambient under site: places",
    symbol="Ta",
    words="ambient of {subject}",
    unit="°C",
)
