"""How a device in a wire is to be written, from the other forms in which people write it."""

from __future__ import annotations

import re
from typing import Final

from wattproof.quantities import is_quantity
from wattproof.source import Block, Items, Node, Text

NAMING: Final = ("name", "device", "fuse", "breaker", "switch", "type", "id")
"""Keys under which people write the name of a device."""
_NAME: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_ENDS: Final = ("from", "to")
_EMPTY: Final = ("", "true", "yes", "null", "~")
_LEFT: Final = "…"


def form_of_devices(node: Node) -> str:
    """A list of devices in a wire, as it is to be written; empty where nobody can tell."""
    if isinstance(node, Items):
        each = [form_of_device(item) for item in node]
    elif isinstance(node, Text) and "," in node:
        each = [
            form_of_device(Text.at(part.strip(), node.place))
            for part in node.split(",")
            if part.strip()
        ]
    elif isinstance(node, Block) and not _naming(node) and all(map(_NAME.fullmatch, node)):
        each = [_placed(str(name), held) for name, held in node.items()]
    else:
        each = [form_of_device(node)]
    return f"[{', '.join(each)}]" if each and all(each) else ""


def form_of_device(node: Node) -> str:
    """One device in a wire, as it is to be written; empty where nobody can tell."""
    if isinstance(node, Text):
        name, _, rest = re.sub("[@:,()]+", " ", node).strip().partition(" ")
        if not _NAME.fullmatch(name):
            return ""
        return _placed(name, Text.at(rest.strip(), node.place))
    if isinstance(node, Items):
        if len(node) == 1:
            return form_of_device(node[0])
        texts = [each for each in node if isinstance(each, Text)]
        if len(texts) < len(node) or not texts or not _NAME.fullmatch(texts[0]):
            return ""
        return _placed(str(texts[0]), Text.at(" ".join(texts[1:]), texts[0].place))
    naming = _naming(node)
    if naming:
        named = str(node[Text(naming)])
        placed = Block({key: held for key, held in node.items() if key != naming})
        return _placed(named, placed) if _NAME.fullmatch(named) else ""
    if len(node) != 1:
        return ""
    [(name, held)] = node.items()
    return _placed(str(name), held) if _NAME.fullmatch(name) else ""


def _naming(node: Block) -> str:
    """The key of a block that holds the name of a device; empty without one."""
    found = [key for key in NAMING if isinstance(node.get(Text(key)), Text)]
    return found[0] if len(found) == 1 else ""


def _placed(name: str, held: Node) -> str:
    """A device by its name and what is said of where it stands; empty where that is not clear."""
    if isinstance(held, Items):
        if not all(isinstance(each, Text) for each in held):
            return ""
        held = Text.at(" ".join(map(str, held)), held.place)
    if isinstance(held, Text):
        ends = [word for word in held.split() if word in _ENDS][-1:]
        rest = " ".join(re.sub(r"\b(from|to|end|at|of|the|away)\b", " ", held).split())
        if held.strip().lower() in _EMPTY:
            return name
        if not _is_distance(rest, held):
            return name if not rest and not ends else ""
        return _form(name, ends[0] if ends else _LEFT, rest)
    texts = {str(key): value for key, value in held.items() if isinstance(value, Text)}
    if len(texts) < len(held):
        return ""
    if not texts:
        return name
    distances = [v for v in texts.values() if _is_distance(v, v)]
    ends = [str(v) for v in texts.values() if v in _ENDS]
    ends += [key for key, v in texts.items() if key in _ENDS and v in distances]
    if not distances and len(texts) == len(ends) == 1:
        return f"{{{name}: {{from_end: {ends[0]}}}}}"  # somewhere near that end
    if len(distances) != 1 or len(ends) > 1 or len(texts) > 2:
        return ""
    return _form(name, ends[0] if ends else _LEFT, str(distances[0]))


def _form(name: str, end: str, distance: str) -> str:
    return f"{{{name}: {{from_end: {end}, distance: {distance}}}}}"


def _is_distance(text: str, at: Text) -> bool:
    return is_quantity(Text.at(text, at.place), "distance")
