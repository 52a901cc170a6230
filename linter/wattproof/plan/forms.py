"""What to write under a key, shown without a figure that could be taken for the true one.

A figure in an example is copied; on a label, that is how a wrong one comes into a plan.
"""

from __future__ import annotations

import re
from typing import Any, Final

_QUANTITY: Final = re.compile(r"[-+]?[0-9.]+( ?)(AWG|[^0-9 sp-].*)")
_NO_LABELS: Final = ("Site", "Surroundings", "Shadow", "Energy", "Use", "Accepted")
"""Models whose values are chosen, or known by the builder, and stand on no label."""
_LABEL: Final = "from its label"
_MODELS: Final = {"Reading": "as the meter shows", "Meter": "from its manual"}
_KEYS: Final = {
    "length": "measured",
    "distance": "measured",
    "tilt": "measured",
    "charge_voltage": "as it is set",
    "limited_to": "as it is set",
    "closes_above": "as it is set",
    "opens_below": "as it is set",
    "float_voltage": "as it is set",
    "equalise_voltage": "as it is set",
    "compensation": "as it is set",
    "depth": "measured",
    "keeps": "as it is set",
}
"""Where a value comes from, where it is not the label."""
_COUNTED: Final = ("cells_in_series", "bypass_diodes", "poles", "max_series", "max_parallel")


def form(model: str, key: str, example: Any) -> Any:
    """An example with its figure left out: `… A, from its label`. Words stay as they are.

    model: the name of the model that the key belongs to.
    """
    if model in _NO_LABELS:
        return example
    source = _KEYS.get(key) or _MODELS.get(model, _LABEL)
    if isinstance(example, str) and (match := _QUANTITY.fullmatch(example)):
        return f"…{match[1]}{match[2]}, {source}"
    return f"…, {source}" if key in _COUNTED else example


def is_form(example: Any) -> bool:
    """Whether an example leaves its figure to the builder."""
    return isinstance(example, str) and example.startswith("…")


def formless(node: Any) -> Any:
    """An example of several keys with all figures that have a unit left out."""
    if isinstance(node, dict):
        return {key: formless(value) for key, value in node.items()}
    if isinstance(node, list):
        return [formless(each) for each in node]
    if isinstance(node, str) and (match := _QUANTITY.fullmatch(node)):
        return f"…{match[1]}{match[2]}"
    return node
