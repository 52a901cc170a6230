"""Names in a plan: where each is declared, and where it is referred to.

A name belongs to a space: components share one, and datasheets of modules, of cables, places, and
the ways, inputs and outputs of one component have each their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from wattproof.editor.keys import Keys
from wattproof.editor.words import Path, Word
from wattproof.plan.families import CONNECTED
from wattproof.plan.fields import component_of
from wattproof.plan.opening import OPEN
from wattproof.plan.references import FAMILIES
from wattproof.quantities import UNKNOWN

COMPONENT: Final = "component"
MODULE: Final = "module"
CABLE: Final = "cable"
PLACE: Final = "place"
SHADE: Final = "shade"
ANYTHING: Final = "anything"
ANY: Final = (COMPONENT, MODULE, CABLE, PLACE)

TERMINALS: Final = frozenset(
    {
        ("String", "controllers"),
        ("Combiner", "joins"),
        ("Arrester", "across"),
        ("Reading", "at"),
        ("Wire", "from"),
        ("Wire", "to"),
        ("Bond", "from"),
    }
)
"""Keys under which a component or a terminal of one is named."""
FEEDS: Final = "feeds"
"""A key of many families: a terminal, or a mapping with one."""
REFERRING: Final = {
    ("String", "module"): MODULE,
    ("String", "modules"): MODULE,
    ("Shadow", "string"): COMPONENT,
    ("FrameBond", "strings"): COMPONENT,
    ("Inline", "device"): COMPONENT,
    ("Wire", "inline"): COMPONENT,
    ("Heater", "warms"): COMPONENT,
    ("EachPack", "fuse"): COMPONENT,
    ("Accepted", "where"): ANYTHING,
}
"""Keys under which something is named, by model."""
ALIKE: Final = {
    "cable": CABLE,
    "place": PLACE,
    "opened_by": COMPONENT,
    "shunt": COMPONENT,
    "never_with": COMPONENT,
}
"""Keys that name the same in every model."""
DECLARED: Final[dict[tuple[str, ...], str]] = {
    ("datasheets", "modules"): MODULE,
    ("datasheets", "cables"): CABLE,
    ("site", "places"): PLACE,
    ("shade",): SHADE,
    **{(family,): COMPONENT for family in FAMILIES},
}
"""Where names are declared, by the path of what holds them."""


class Name(NamedTuple):
    """A name as it stands somewhere.

    space: what it is a name of; of ways, inputs and outputs `port:` and their component. start,
    end: in the text. declared: whether it is declared here. path: of keys that lead to its
    declaration; of a reference as far as is known.
    """

    space: str
    text: str
    start: int
    end: int
    declared: bool
    path: Path = ()
    plain: bool = True

    @property
    def is_of(self) -> tuple[str, str]:
        """What it names."""
        return self.space, self.text

    def holds(self, offset: int) -> bool:
        """Whether a cursor is on it, or just behind it."""
        return self.start <= offset <= self.end


def names_of(words: Iterable[Word], keys: Keys) -> list[Name]:
    """Every name that a text declares or refers to, in its order."""
    found = [name for word in words for name in _names(word, keys)]
    paths = {name.is_of: name.path for name in found if name.declared}
    return [name if name.declared else _led(name, paths) for name in found]


def _led(name: Name, paths: dict[tuple[str, str], Path]) -> Name:
    """A reference with the path of what it names; of an acceptance that may be a datasheet."""
    spaces = ANY if name.space == ANYTHING else (name.space,)
    space = next((each for each in spaces if (each, name.text) in paths), spaces[0])
    return name._replace(space=space, path=paths.get((space, name.text), ()))


def _names(word: Word, keys: Keys) -> Iterator[Name]:
    path = word.path
    declares = DECLARED.get(_strings(path[:-1]))
    if word.is_key and declares is not None:
        yield _name(word, declares, declared=True)
        return
    if word.is_key and len(path) == 4 and path[0] in CONNECTED and path[2] in ("ways", "inputs"):
        yield _name(word, f"port:{path[1]}", declared=True)
        return
    if word.is_key and path[:2] == ("energy", "uses") and len(path) == 3:
        yield _name(word, COMPONENT)
        return
    if "inline" in path[2:3] and path[0] == "wires":
        if (word.is_key and len(path) == 5) or (not word.is_key and len(path) == 4):
            yield _name(word, COMPONENT)
            return
        if not word.is_key and len(path) == 3:
            yield _name(word, COMPONENT)
            return
    if word.is_key or word.text in (UNKNOWN, OPEN):
        return
    yield from _referred(word, keys)


def _referred(word: Word, keys: Keys) -> Iterator[Name]:
    path = word.path
    named = next((step for step in reversed(path) if isinstance(step, str)), "")
    key = keys.find(path)
    if key is None:
        return
    if (key.model, "outputs") == ("Isolator", named):
        yield _name(word, f"port:{path[1]}", declared=True)
    elif (key.model, named) in TERMINALS or (FEEDS in path[2:] and named != "length"):
        yield from _terminal(word)
    else:
        space = REFERRING.get((key.model, named)) or ALIKE.get(named)
        if space is not None:
            yield _name(word, space)


def _terminal(word: Word) -> Iterator[Name]:
    """The component of a reference, and its port where it names one."""
    name = component_of(word.text)
    if not word.plain:
        yield Name(COMPONENT, name, word.start, word.end, False, plain=False)
        return
    end = word.start + len(name)
    yield Name(COMPONENT, name, word.start, end, False)
    _, *rest = word.text.split(".")
    if rest and rest[0]:
        yield Name(f"port:{name}", rest[0], end + 1, end + 1 + len(rest[0]), False)


def _name(word: Word, space: str, *, declared: bool = False) -> Name:
    path = word.path if declared else ()
    return Name(space, word.text, word.start, word.end, declared, path, word.plain)


def _strings(path: Path) -> tuple[str, ...]:
    return tuple(str(step) for step in path)
