"""A plan with some of its values changed, as a remedy would change them. The plan itself stays."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple, get_args

from wattproof.plan.devices import Distribution
from wattproof.plan.fields import Named, Reader
from wattproof.plan.references import FAMILIES
from wattproof.plan.root import Plan
from wattproof.plan.wiring import Bond, Wire
from wattproof.source import Text


class Change(NamedTuple):
    """One value that a plan would hold instead.

    component: its name. key: its key there; `cable.size` is a key of the cable of a wire or bond,
    which others keep as it is, `inline.charge-fuse.distance` one of a device in a wire, and
    `ways.fridge.fuse` one of a way of a panel. text: what to write.
    """

    component: str
    key: str
    text: str

    def __str__(self) -> str:
        *owner, key = self.key.split(".")
        written, of = f"`{key}: {self.text}`", f"`{self.component}`"
        if owner[:1] == ["cable"]:
            return f"{written} for the cable of {of}"
        return f"{written} for `{owner[1]}` in {of}" if owner else f"{written} for {of}"


def amended(plan: Plan, changes: Iterable[Change]) -> Plan:
    """A copy of a plan with some values changed.

    Raises ValueError where a change names no component or key of the plan, Mistake where its text
    cannot be read as that value.
    """
    for change in changes:
        plan = _with(plan, change)
    return plan


def _with(plan: Plan, change: Change) -> Plan:
    for family in FAMILIES:
        parts: dict[str, Named] = getattr(plan, family)
        if change.component in parts:
            part = parts[change.component]
            outer, _, inner = change.key.partition(".")
            if outer == "cable" and inner and isinstance(part, Wire | Bond):
                plan, part = _with_cable(plan, part, inner, change.text)
            elif outer == "inline" and isinstance(part, Wire):
                part = _with_inline(part, inner, change.text)
            elif outer == "ways" and isinstance(part, Distribution):
                part = _with_way(part, inner, change.text)
            else:
                part = _changed(part, change.key, change.text, part)
            return plan.model_copy(update={family: {**parts, change.component: part}})
    raise ValueError(f"nothing is named {change.component}")


def _with_cable(plan: Plan, part: Wire | Bond, key: str, text: str) -> tuple[Plan, Named]:
    """The conductor in a cable of its own, like its cable but for one key."""
    cables = plan.datasheets.cables
    sheet = cables[part.cable]
    name = Text.at(f"{sheet.name} of {part.name}", sheet.name.place)
    own = _changed(sheet, key, text, sheet).model_copy(update={"name": name})
    sheets = plan.datasheets.model_copy(update={"cables": {**cables, name: own}})
    changed = part.model_copy(update={"cable": name})
    return plan.model_copy(update={"datasheets": sheets}), changed


def _with_inline(wire: Wire, path: str, text: str) -> Wire:
    device, _, key = path.partition(".")
    if all(inline.device != device for inline in wire.inline):
        raise ValueError(f"`{device}` is not in `{wire.name}`")
    inlines = [
        _changed(inline, key, text, wire) if inline.device == device else inline
        for inline in wire.inline
    ]
    return wire.model_copy(update={"inline": inlines})


def _with_way(panel: Distribution, path: str, text: str) -> Distribution:
    name, _, key = path.partition(".")
    if name not in panel.ways:
        raise ValueError(f"`{panel.name}` has no way `{name}`")
    way = _changed(panel.ways[name], key, text, panel)
    return panel.model_copy(update={"ways": {**panel.ways, name: way}})


def _changed(part: Any, key: str, text: str, near: Named) -> Any:
    """A copy of a part with one key read anew, standing where the part is named."""
    field = type(part).model_fields.get(key)
    reader = _reader(field.annotation, *field.metadata) if field is not None else None
    if reader is None:
        raise ValueError(f"`{near.name}` has no key `{key}` of a single value")
    return part.model_copy(update={key: reader.read(Text.at(text, near.at))})


def _reader(*kinds: Any) -> Reader | None:
    """The reader of a field's text: beside its type, or inside `... | None`."""
    for kind in kinds:
        found = kind if isinstance(kind, Reader) else _reader(*get_args(kind))
        if found is not None:
            return found
    return None
