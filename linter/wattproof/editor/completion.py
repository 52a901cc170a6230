"""What may be typed at the cursor: keys, words, and the names and terminals of this plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from wattproof.editor.cursor import Cursor
from wattproof.editor.keys import Key, Keys
from wattproof.editor.names import (
    ALIKE,
    COMPONENT,
    FEEDS,
    REFERRING,
    TERMINALS,
    Name,
)
from wattproof.plan.families import CONNECTED
from wattproof.plan.fields import component_of
from wattproof.plan.root import Plan
from wattproof.plan.terminals import COMMON, POLES, by_name, ports

IN_A_WIRE: Final = ("fuses", "breakers", "switches", "arc_fault_devices")
FAMILIES_OF: Final[dict[str, tuple[str, ...]]] = {
    "string": ("strings",),
    "strings": ("strings",),
    "controllers": ("controllers", "power_boxes"),
    "device": IN_A_WIRE,
    "inline": IN_A_WIRE,
    "fuse": ("fuses", "breakers"),
    "warms": ("batteries",),
    "opened_by": ("batteries",),
    "shunt": ("wires",),
    "never_with": ("chargers", "inverter_chargers", "converters", "controllers"),
    "uses": ("loads", "heaters", "inverters", "inverter_chargers"),
    "joins": ("strings", "combiners", *IN_A_WIRE),
}
"""Which components may be named under a key, where only some may."""


class Offer(NamedTuple):
    """Something that may be typed. kind: `key`, `word` or `name`. detail: in a line.

    words: more of it. inserted: what is written; label where empty.
    """

    label: str
    kind: str
    detail: str = ""
    words: str = ""
    inserted: str = ""


def offers(
    cursor: Cursor, keys: Keys, names: Iterable[Name], plan: Plan | None, rules: Iterable[str]
) -> Iterator[Offer]:
    """All that may stand at the cursor. names, plan: of the last text that could be read."""
    names = [name for name in names if name.declared]
    if cursor.is_key:
        yield from _keys(cursor, keys)
        if cursor.path[-1:] == ("uses",) or _is_inline(cursor.path):
            yield from _names(names, str(cursor.path[2] if len(cursor.path) > 2 else "uses"))
        if not cursor.path or isinstance(cursor.path[-1], str):
            return  # an item of a list may be a mapping or a name
    key = keys.find(cursor.path)
    if key is None:
        return
    named = next((step for step in reversed(cursor.path) if isinstance(step, str)), "")
    if (key.model, named) == ("Accepted", "rule"):
        yield from (Offer(rule, "name") for rule in sorted(rules))
        return
    yield from _words(key, keys)
    if (key.model, named) in TERMINALS or FEEDS in cursor.path[2:]:
        yield from _terminals(cursor.word, named, names, plan)
    elif named == "inline":
        yield from _names(names, named)
    else:
        space = REFERRING.get((key.model, named)) or ALIKE.get(named)
        if space is not None:
            yield from _names(names, named, space)


def _is_inline(path: tuple[str | int, ...]) -> bool:
    return path[:1] == ("wires",) and len(path) == 4 and path[2] == "inline"


def _keys(cursor: Cursor, keys: Keys) -> Iterator[Offer]:
    below = keys.below(cursor.path).items()
    for name, key in sorted(below, key=lambda item: not item[1].required):
        if name not in cursor.beside:
            detail = "must be given" if key.required else ""
            yield Offer(name, "key", detail, key.words, f"{name}: ")


def _words(key: Key, keys: Keys) -> Iterator[Offer]:
    yield from (Offer(word, "word") for word in keys.choices(key))


def _names(names: list[Name], named: str, space: str = COMPONENT) -> Iterator[Offer]:
    families = FAMILIES_OF.get(named) if space in (COMPONENT, "anything") else None
    spaces = (COMPONENT, "module", "cable", "place") if space == "anything" else (space,)
    for name in names:
        family = str(name.path[0]) if name.path else ""
        if name.space in spaces and (families is None or family in families):
            yield Offer(name.text, "name", family)


def _terminals(word: str, named: str, names: list[Name], plan: Plan | None) -> Iterator[Offer]:
    """Components, and once one is typed its terminals and poles."""
    component, point, rest = word.partition(".")
    known = by_name(plan) if plan is not None else {}
    if point and component in known:
        own = [port for port in ports(known[component]) if port]
        port, further, _ = rest.partition(".")
        if further:
            own = [f"{port}.{pole}" for pole in POLES]
        elif "" in ports(known[component]):
            own += POLES
        yield from (Offer(f"{component}.{each}", "name", "terminal") for each in own)
        return
    families = FAMILIES_OF.get(named, CONNECTED)
    for name in names:
        if name.space != COMPONENT or not name.path or name.path[0] not in families:
            continue
        family = str(name.path[0])
        own = [port for port in ports(known[name.text]) if port] if name.text in known else []
        if not own or component_of(name.text) != name.text or "" in ports(known[name.text]):
            yield Offer(name.text, "name", family)
        yield from (Offer(f"{name.text}.{port}", "name", family) for port in own)
    if named in ("from", "to"):
        yield from (Offer(each, "name", "is there without being declared") for each in COMMON)
