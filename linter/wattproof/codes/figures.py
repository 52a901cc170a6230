"""Single figures that stand in the file of a body of rules."""

from collections.abc import Mapping
from typing import Any

from wattproof.codes.values import TableValue


def figure(entry: Mapping[str, Any]) -> TableValue:
    """The figure of a table of a TOML file (value, unit, what, source, verified, own)."""
    return TableValue(
        float(entry["value"]),
        entry.get("unit", ""),
        entry["what"],
        entry["source"],
        entry["verified"],
        entry.get("own", False),
    )
