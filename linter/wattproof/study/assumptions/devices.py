"""Fuses, breakers and switches that print nothing, or whose marks are not told.

The figures by style stand with the bodies of rules; those by size are common practice.
"""

from __future__ import annotations

from wattproof.study.assumptions.rows import Assumed, Silence, Times
from wattproof.working import LookUp

INTERRUPT_BY_SIZE = Assumed(
    {
        "fuse to 40 A": 1000.0,
        "fuse to 100 A": 2000.0,
        "larger fuse": 6000.0,
        "breaker": 3000.0,
        "panel way": 1000.0,
    },
    "A",
    "what a fuse or breaker of no known style can break",
    "Fuse.interrupt",
)
DEVICE_VOLTAGE = Assumed(
    {"array": 150.0, "battery to 24 V": 32.0, "battery above": 80.0},
    "V",
    "rated DC voltage of a device of no known style",
    "Fuse.voltage",
)
DEVICE_VOLTAGE_AT_BEST = Assumed(
    {"array": 1000.0, "battery to 24 V": 80.0, "battery above": 150.0},
    "V",
    "the highest rated DC voltage that such a device is sold with",
)
DEVICE_VOLTAGE_AT_WORST = Assumed(
    {"array": 32.0, "battery to 24 V": 14.0, "battery above": 32.0},
    "V",
    "the lowest rated DC voltage that such a device is sold with",
)

_VOLTAGE = LookUp(
    "the DC voltage of {names}",
    "on its face or body, in V DC; a figure in V AC, or none, does not count",
)
NO_DEVICE_VOLTAGE = Silence(
    key="device voltage",
    says="`{subject}` is assumed to be rated {number:g} V DC, the least that a {kind} is made for.",
    instead="voltage",
    symbol="Un",
    words="rated voltage of {subject}",
    unit="V",
    kind=Times(2.5),
    look_up=_VOLTAGE,
)
NO_VOLTAGE_AT_ALL = Silence(
    key="device voltage",
    usual=DEVICE_VOLTAGE,
    kind=DEVICE_VOLTAGE_AT_BEST,
    harsh=DEVICE_VOLTAGE_AT_WORST,
    says="`{subject}` is assumed to be rated {number:g} V DC, since neither its voltage nor its "
    "style "
    "is given.",
    instead="voltage",
    symbol="Un",
    words="rated voltage of {subject}",
    unit="V",
    look_up=_VOLTAGE,
    guess=True,
)
NO_DC_MARK = Silence(
    key="mark for direct current",
    says="`{subject}` is assumed to be made for alternating current, as its style is unless "
    "marked.",
    instead="voltage, in V DC",
    look_up=_VOLTAGE,
)
_INTERRUPT = LookUp(
    "what {names} can break",
    "on the body of a fuse or the face of a breaker, as AIC, Icu or interrupt rating",
)
NO_INTERRUPT_RATING = Silence(
    key="interrupt rating",
    says="`{subject}` is assumed to break {number:g} A, the least that a {kind} is made for.",
    instead="interrupt",
    symbol="Ibreak({subject})",
    words="interrupt rating of {subject}",
    unit="A",
    kind=Times(2.0),
    harsh=Times(0.5),
    look_up=_INTERRUPT,
)
NO_STYLE = Silence(
    key="interrupt rating",
    usual=INTERRUPT_BY_SIZE,
    kind=Times(5.0),
    harsh=Times(0.5),
    says="`{subject}` is assumed to break {number:g} A, as is usual of its size, since neither its "
    "interrupt rating nor its style is given.",
    instead="interrupt",
    symbol="Ibreak({subject})",
    words="interrupt rating of {subject}",
    unit="A",
    look_up=_INTERRUPT,
    guess=True,
)
NO_POLES = Silence(
    key="poles",
    says="`{subject}` is assumed to open both poles.",
    instead="poles",
    look_up=LookUp("how many poles {names} opens", "count its terminals: four open two poles"),
)
NO_DEVICE_PLACE = Silence(
    key="place in a wire",
    says="`{subject}` is assumed to sit near the end of its wire that is fed.",
    instead="its distance from an end of its wire",
    look_up=LookUp(
        "how far {names} sits from what feeds it", "measure along the wire", "sometimes"
    ),
)
NO_IGNITION_PROTECTION = Silence(
    key="ignition protection",
    says="`{subject}` is assumed not to be protected against ignition, as few devices are.",
    instead="ignition_protected",
    look_up=LookUp(
        "whether {names} is protected against ignition",
        "on its label, as ignition protected or by a standard such as ISO 8846",
    ),
)
NO_VENT = Silence(
    key="vent of a place",
    says="The gas in `{subject}` is assumed to be led outside.",
    instead="vented",
    look_up=LookUp(
        "whether gas is led outside from {names}", "look for a hose or an opening at its top"
    ),
)
ELSEWHERE = Silence(
    key="place of a device",
    says="`{subject}` is assumed to stand where `{part}` does, {distance} from it.",
    instead="place",
    look_up=LookUp("in which place {names} stands", "look where it is screwed on"),
)
NOTHING_MORE = Assumed(0.0, "A", "what rings add to the first devices of all batteries")
MANY_IN_RINGS = Silence(
    key="ways through rings",
    usual=NOTHING_MORE,
    says="The first devices of all batteries count together for what can flow into `{subject}`, "
    "which is no less than the truth: too much lies in rings or between batteries to try each way.",
    instead="fewer rings, or a plan for each part of the installation",
    symbol="ΔIn({subject})",
    words="what rings add in {subject}",
    unit="A",
)
