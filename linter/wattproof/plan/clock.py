"""A time of day, as a clock shows it or as the sun does."""

from __future__ import annotations

import re
from typing import Annotated, Any, Final, TypeAlias

from wattproof.plan.fields import Reader
from wattproof.quantities import Mistake
from wattproof.source import Place, Text

_PATTERN: Final = r"([01]?[0-9]|2[0-3])[:.h]([0-5][0-9])( *solar)?"


class Clock(str):
    """A time of day as it was written.

    hours: from midnight. solar: True where 12:00 is when the sun stands highest.
    """

    place: Place
    hours: float
    solar: bool


def _read(node: Any) -> Clock:
    found = re.fullmatch(_PATTERN, node.strip()) if isinstance(node, Text) else None
    if found is None:
        message = f"`{node}` is not a time of day"
        place = getattr(node, "place", None)
        raise Mistake(message, "write hours and minutes as `12:40`, `solar` behind sun time", place)
    clock = Clock(node)
    clock.place = node.place
    clock.hours = int(found[1]) + int(found[2]) / 60.0
    clock.solar = found[3] is not None
    return clock


ClockTime: TypeAlias = Annotated[
    Clock, Reader(_read, lambda: {"type": "string", "pattern": f"^ *{_PATTERN} *$"})
]
