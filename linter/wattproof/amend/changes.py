"""What a remedy changes, written into the text of a plan.

A wire of which the cable changes gets a datasheet of its own where others have the same cable, and
likewise a string its label and a component its place; of what nobody else uses, and of what changes
alike for all who use it, the value changes where it stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wattproof.amend.edits import NotWritten, Step, renamed, with_item, with_value, without
from wattproof.amend.scalars import Data
from wattproof.plan.amend import Addition, Amendment, Change, owner_of
from wattproof.plan.references import FAMILIES
from wattproof.plan.root import Plan
from wattproof.plan.sized import CABLED, size_told
from wattproof.plan.ways import way_name
from wattproof.quantities import UNKNOWN
from wattproof.source import Block, Items, Node, PlanUnusable, Text, parse


class Refused(NamedTuple):
    """A change that was not written. why: as an end of a sentence. by_hand: what to write."""

    change: Amendment
    why: str
    by_hand: str


class Written(NamedTuple):
    """A text with changes in it, and those that were not written."""

    text: str
    refused: tuple[Refused, ...] = ()


def with_changes(text: str, changes: Iterable[Amendment], file: str = "plan") -> Written:
    """The text of a plan with all changes in it that can be written, each whole or not at all."""
    refused = []
    copies: dict[tuple[str, str], str] = {}
    changes = list(changes)
    for change in changes:
        alike = {c.component for c in changes if isinstance(c, Change) and _are_alike(c, change)}
        try:
            new = _Writing(text, file, copies, alike).with_change(change)
            parse(new, file)
            text = new
        except NotWritten as reason:
            refused.append(Refused(change, str(reason), by_hand(change)))
        except PlanUnusable:
            why = "it does not fit between what is written around it"
            refused.append(Refused(change, why, by_hand(change)))
    return Written(text, tuple(refused))


def _are_alike(one: Change, other: Amendment) -> bool:
    return isinstance(other, Change) and (one.key, one.text) == (other.key, other.text)


def by_hand(change: Amendment) -> str:
    """What to write oneself, as a sentence without its end."""
    if isinstance(change, Addition):
        return f"write {change}"
    if not change.text:
        return f"delete the key: {change}"
    return f"write {change}"


class _Writing:
    """One change of a text. What the plan says is looked up in the reader's tree.

    copies: the names of labels that strings have of their own by earlier changes. alike: the
    components that are changed in the same way with it, its own among them.
    """

    def __init__(
        self, text: str, file: str, copies: dict[tuple[str, str], str], alike: set[str]
    ) -> None:
        self.text = text
        self.tree = parse(text, file)
        self.copies = copies
        self.alike = alike

    def with_change(self, change: Amendment) -> str:
        """The new text. Raises NotWritten."""
        if isinstance(change, Addition):
            self._add(change)
            return self.text
        self._change(change)
        return self.text

    def _set(self, path: tuple[Step, ...], value: Data) -> None:
        after = before(str(path[0])) if Text(str(path[0])) not in self.tree else ()
        self.text = with_value(self.text, path, value, after)

    def _change(self, change: Change) -> None:
        fed = self._fed(change.component) if change.key == "length" and change.text else ()
        if fed:
            self._length_of_feeds(fed, change.text)
            return
        path = self._component(change.component)
        owner, whose, keys = owner_of(change.key)
        if owner == "cable":
            self._referred(path, "cable", ("datasheets", "cables"), keys, change.text)
        elif owner == "place":
            self._referred(path, "place", ("site", "places"), keys, change.text)
        elif owner == "modules":
            self._label(path, whose, keys, change.text)
        elif owner == "use":
            self._key(("energy", "uses", change.component), keys, change.text)
        elif owner == "inline":
            self._inline(path, whose, keys[0], change.text)
        elif owner == "ways":
            self._key((*path, "ways", whose), keys, change.text)
        elif path[0] == "strings" and keys[0] in ("series", "arrangement"):
            self._layout(path, keys[0], change.text)
        else:
            self._key(path, keys, change.text)

    def _fed(self, wire: str) -> tuple[Step, ...]:
        """What tells that it `feeds` another by a wire of this name; empty for another."""
        if self._at("wires", wire) is not None:
            return ()
        for family in FAMILIES:
            held = self.tree.get(Text(family))
            for name, part in held.items() if isinstance(held, Block) else ():
                feeds = part.get(Text("feeds")) if isinstance(part, Block) else None
                to = feeds.get(Text("to")) if isinstance(feeds, Block) else feeds
                if isinstance(to, Text) and wire == way_name(str(name), to):
                    return family, str(name), "feeds"
        return ()

    def _length_of_feeds(self, path: tuple[Step, ...], length: str) -> None:
        held = self._at(*path)
        if isinstance(held, Block):
            self._set((*path, "length"), length)
        else:
            self._set(path, {"to": str(held), "length": length})

    def _component(self, name: str) -> tuple[Step, ...]:
        for family in FAMILIES:
            held = self.tree.get(Text(family))
            if isinstance(held, Block) and name in held:
                told = held[Text(name)]
                if isinstance(told, Text) and told == UNKNOWN:
                    self.text = with_value(self.text, (family, name), {})
                    self.tree = parse(self.text, "plan")
                elif not isinstance(told, Block):
                    raise NotWritten(f"of `{name}` the plan says only `{told}`")
                return family, name
        raise NotWritten(f"nothing is named `{name}` in this file")

    def _at(self, *path: Step) -> Node | None:
        held: Node | None = self.tree
        for step in path:
            if isinstance(held, Block) and step in held:
                held = held[Text(str(step))]
            elif isinstance(held, Items) and isinstance(step, int):
                held = held[step]
            else:
                return None
        return held

    def _key(self, path: tuple[Step, ...], keys: list[str], value: str) -> None:
        if value:
            self._set((*path, *keys), value)
        elif self._at(*path, *keys) is not None:
            self.text = without(self.text, (*path, *keys))

    def _layout(self, path: tuple[Step, ...], key: str, value: str) -> None:
        """Series and arrangement take each other's place."""
        other = "arrangement" if key == "series" else "series"
        if value and self._at(*path, other) is not None and self._at(*path, key) is None:
            self.text = renamed(self.text, (*path, other), key, value)
        else:
            self._key(path, [key], value)

    def _referred(
        self, path: tuple[Step, ...], key: str, sheets: tuple[str, str], keys: list[str], text: str
    ) -> None:
        """A value of what a component refers to: its cable, or its place."""
        component = str(path[1])
        name = self._at(*path, key)
        if isinstance(name, Items) and len(name) == 1:
            raise NotWritten(f"`{key}` of `{component}` is a list")
        if name is None or name == UNKNOWN:
            self._own(path, key, sheets, f"{component}-{key}", {}, keys, text)
            return
        if not isinstance(name, Text):
            raise NotWritten(f"`{key}` of `{component}` names several")
        if key == "cable" and size_told(name, self._sheets(sheets)) is not None:
            if keys == ["size"] and text:
                self._set((*path, key), text)
            else:
                told: dict[str, Data] = {"size": str(name)}
                self._own(path, key, sheets, f"{component}-{key}", told, keys, text)
            return
        self._refuse_parts(sheets, name, component)
        if self._users(sheets, name) <= {component, *self.alike}:
            self._key((*sheets, str(name)), keys, text)
            return
        sheet = data_of(self._at(*sheets, str(name)))
        self._own(path, key, sheets, f"{name}-for-{component}", sheet, keys, text)

    def _label(self, path: tuple[Step, ...], label: str, keys: list[str], text: str) -> None:
        """A value of a label that a string uses, or of its own that was copied from that."""
        sheets, component = ("datasheets", "modules"), str(path[1])
        written = self.copies.get((component, label), label)
        self._refuse_parts(sheets, written, component)
        if self._users(sheets, written) <= {component, *self.alike}:
            self._key((*sheets, written), keys, text)
            return
        sheet = data_of(self._at(*sheets, written))
        new = self._copied(sheets, f"{label}-for-{component}", sheet, keys, text)
        self.copies[component, label] = new
        listed = self._at(*path, "modules")
        if isinstance(listed, Items):
            for number, each in enumerate(listed):
                if each == written:
                    self._set((*path, "modules", number), new)
        elif listed is not None:
            self._set((*path, "modules"), new)
        else:
            self._set((*path, "module"), new)

    def _refuse_parts(self, sheets: tuple[str, str], name: str, component: str) -> None:
        if self._at(*sheets, str(name)) is None:
            raise NotWritten(
                f"`{name}` of `{component}` stands in a file of `parts`, which other plans may "
                f"use; copy it under a name of its own into `{sheets[0]}: {sheets[1]}:` of this "
                "plan, and name that"
            )

    def _own(
        self,
        path: tuple[Step, ...],
        key: str,
        sheets: tuple[str, str],
        name: str,
        sheet: dict[str, Data],
        keys: list[str],
        text: str,
    ) -> None:
        self._set((*path, key), self._copied(sheets, name, sheet, keys, text))

    def _copied(
        self,
        sheets: tuple[str, str],
        name: str,
        sheet: dict[str, Data],
        keys: list[str],
        text: str,
    ) -> str:
        """The name of a datasheet like one but for a value: one that is there, or a new one."""
        new = _changed(sheet, keys, text)
        known = {name: data_of(each) for name, each in self._sheets(sheets).items()}
        same = next((k for k, v in known.items() if v == new), None)
        if same is not None:
            return same
        taken = (name, *(f"{name}-{number}" for number in range(2, len(known) + 3)))
        free = next(each for each in taken if each not in known)
        self._set((*sheets, free), new)
        return free

    def _sheets(self, sheets: tuple[str, str]) -> dict[str, Node]:
        """The datasheets of a family, or the places, by name."""
        held = self._at(*sheets)
        return {str(name): node for name, node in held.items()} if isinstance(held, Block) else {}

    def _users(self, sheets: tuple[str, str], name: str) -> set[str]:
        """The components that refer to a datasheet or a place."""
        return {user for user, used in self._references(sheets[1]) if name in used}

    def _references(self, family: str) -> Iterator[tuple[str, list[Node]]]:
        """Each component that may refer to one, and what it refers to."""
        among = {"cables": CABLED, "modules": ("strings",), "places": FAMILIES}[family]
        keys = {"cables": ("cable",), "modules": ("module", "modules"), "places": ("place",)}
        for each in among:
            held = self.tree.get(Text(each))
            if not isinstance(held, Block):
                continue
            for component, part in held.items():
                found: list[Node] = []
                for key in keys[family]:
                    value = part.get(Text(key)) if isinstance(part, Block) else None
                    found += list(value) if isinstance(value, Items) else []
                    found += [value] if isinstance(value, Text) else []
                yield str(component), found

    def _inline(self, path: tuple[Step, ...], device: str, key: str, text: str) -> None:
        """A value of a device in a wire; with another end it becomes the nearest to that."""
        listed = self._at(*path, "inline")
        if isinstance(listed, Text) and listed == device:  # one alone stands without brackets
            self._set((*path, "inline"), [{device: {key: text}}])
            return
        if not isinstance(listed, Items):
            raise NotWritten(f"`{device}` is not in `{path[1]}`")
        for number, item in enumerate(listed):
            if item == device:
                new = {device: {key: text}}
                self._set((*path, "inline", number), new)
                if key == "from_end":
                    self._moved(path, number, new, first=text == "from")
                return
            details = item.get(Text(device)) if isinstance(item, Block) else None
            if isinstance(details, Block):
                self._set((*path, "inline", number, device, key), text)
                if key == "from_end" and details.get(Text(key)) != text:
                    item_now: Data = {device: {**_block(details), key: text}}
                    self._moved(path, number, item_now, first=text == "from")
                return
            if isinstance(item, Block) and item.get(Text("device")) == device:
                self._set((*path, "inline", number, key), text)
                return
        raise NotWritten(f"`{device}` is not in `{path[1]}`")

    def _moved(self, path: tuple[Step, ...], number: int, item: Data, *, first: bool) -> None:
        """A device of a wire put at one of its ends, where it is not there already."""
        where = (*path, "inline")
        listed = self._at(*where)
        last = len(listed) - 1 if isinstance(listed, Items) else 0
        if number != (0 if first else last):
            self.text = without(self.text, (*where, number))
            self.text = with_item(self.text, where, item, first=first)

    def _add(self, addition: Addition) -> None:
        path = self._component(addition.wire)
        if path[0] != "wires":
            raise NotWritten(f"`{addition.wire}` is no wire")
        if any(
            isinstance(held := self.tree.get(Text(f)), Block) and addition.name in held
            for f in FAMILIES
        ):
            raise NotWritten(f"the name `{addition.name}` is taken")
        details = {"from_end": addition.from_end, "distance": addition.distance}
        written = {key: value for key, value in details.items() if value}
        item: Data = {addition.name: written} if written else addition.name
        self.text = with_item(self.text, (*path, "inline"), item, first=addition.from_end == "from")
        self._set((addition.family, addition.name), dict(addition.values))


def before(family: str) -> tuple[str, ...]:
    """The keys of a plan behind which a family that is new in it goes."""
    keys = [field.alias or key for key, field in Plan.model_fields.items()]
    return tuple(keys[: keys.index(family)]) if family in keys else ()


def data_of(node: Node | None) -> dict[str, Data]:
    """A mapping of the reader's tree as plain data; empty where it is none."""
    return _block(node) if isinstance(node, Block) else {}


def _block(node: Block) -> dict[str, Data]:
    return {str(key): _data(value) for key, value in node.items()}


def _data(node: Node) -> Data:
    if isinstance(node, Block):
        return _block(node)
    return [_data(each) for each in node] if isinstance(node, Items) else str(node)


def _changed(sheet: dict[str, Data], keys: list[str], text: str) -> dict[str, Data]:
    first, *rest = keys
    if rest:
        held = sheet.get(first)
        inner = dict(held) if isinstance(held, dict) else {}
        return {**sheet, first: _changed(inner, rest, text)}
    if text:
        return {**sheet, first: text}
    return {key: value for key, value in sheet.items() if key != first}
