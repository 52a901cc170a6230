"""A plan with some of its values changed, as a remedy would change them. The plan itself stays."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, NamedTuple, TypeAlias, get_args

from wattproof.plan.array import String
from wattproof.plan.bonding import FrameBond
from wattproof.plan.devices import Distribution
from wattproof.plan.fields import Named, Part, Reader, is_needed
from wattproof.plan.references import FAMILIES
from wattproof.plan.root import Plan
from wattproof.plan.wiring import Bond, Inline, Wire
from wattproof.source import Text
from wattproof.words import quoted


class Change(NamedTuple):
    """One value that a plan would hold instead.

    component: its name. key: its key there; `cable.size` is a key of the cable of a wire or bond,
    `place.coldest` of the place that a component is in, `modules.rigid-200.voc` of a label that a
    string uses, each of which others keep as it is; `inline.charge-fuse.distance` is one of a
    device in a wire, `ways.fridge.fuse` one of a way of a panel, `use.switched_on` one of what is
    declared of a consumer's use, and `connector.make` one of a part. text: what to write; empty
    where the key is left out. Of a string's `series` and `arrangement` each takes the place of the
    other.
    """

    component: str
    key: str
    text: str

    @property
    def target(self) -> tuple[str, str]:
        """What it changes: of several changes that agree, no two have the same."""
        return self.component, "series" if self.key == "arrangement" else self.key

    @property
    def of(self) -> str:
        """Whose key it is, in words."""
        owner, whose, _ = owner_of(self.key)
        if owner in ("cable", "place"):
            return f"the {owner} of `{self.component}`"
        if owner == "modules":
            return f"the label of `{whose}` in `{self.component}`"
        if owner == "use":
            return f"the use of `{self.component}`"
        return f"`{whose}` in `{self.component}`" if owner else f"`{self.component}`"

    @property
    def written(self) -> str:
        """What to write; empty where the key is left out."""
        if not self.text:
            return ""
        *outer, key = owner_of(self.key)[2]
        written = f"{key}: {self.text}"
        for each in reversed(outer):
            written = f"{each}: {{{written}}}"
        return written

    def __str__(self) -> str:
        left_out = ".".join(owner_of(self.key)[2])
        return (
            f"`{self.written}` for {self.of}" if self.written else f"no `{left_out}` for {self.of}"
        )


class Addition(NamedTuple):
    """A fuse, breaker or switch that a plan would hold as well, in a wire.

    family: such as `fuses`. values: its keys with what to write. from_end, distance: its place in
    the wire, from which it becomes the device nearest to that end; empty where it is anywhere.
    """

    family: str
    name: str
    values: tuple[tuple[str, str], ...]
    wire: str
    from_end: str = ""
    distance: str = ""

    @property
    def target(self) -> tuple[str, str]:
        """What it adds: of several changes that agree, no two have the same."""
        return self.name, ""

    def __str__(self) -> str:
        values = ", ".join(f"{key}: {text}" for key, text in self.values)
        where = f", {self.distance} from its `{self.from_end}` end" if self.from_end else ""
        return f"`{self.name}: {{{values}}}` under `{self.family}`, in `{self.wire}`{where}"


Amendment: TypeAlias = Change | Addition
Edit: TypeAlias = Callable[[Any], Any]
"""A copy of a part of a plan with one key changed."""

_OF = " of "  # no name in a plan has spaces


def following(first: Iterable[Amendment], then: Iterable[Amendment]) -> Iterable[Amendment]:
    """Some changes and others made after them, where what comes later holds."""
    all_of = {change.target: change for change in first}
    for change in then:
        added = all_of.get((change.component, "")) if isinstance(change, Change) else None
        if isinstance(change, Change) and isinstance(added, Addition):
            values = {**dict(added.values), change.key: change.text}
            all_of[added.target] = added._replace(values=tuple(values.items()))
        else:
            all_of[change.target] = change
    return all_of.values()


def amended(plan: Plan, changes: Iterable[Amendment]) -> Plan:
    """A copy of a plan with some values changed and some devices added.

    Raises ValueError where a change names no component or key of the plan, Mistake where its text
    cannot be read as that value.
    """
    for change in changes:
        plan = _added(plan, change) if isinstance(change, Addition) else _with(plan, change)
    return plan


def owner_of(key: str) -> tuple[str, str, list[str]]:
    """Whose key a change has: what the component refers to or holds, its name, and the key."""
    parts = key.split(".")
    if parts[0] in ("inline", "ways", "modules") and len(parts) > 2:
        return parts[0], parts[1], parts[2:]
    if parts[0] in ("cable", "place", "use") and len(parts) > 1:
        return parts[0], "", parts[1:]
    return "", "", parts


def _with(plan: Plan, change: Change) -> Plan:
    for family in FAMILIES:
        parts: dict[str, Named] = getattr(plan, family)
        if change.component in parts:
            plan, part = _changed_part(plan, parts[change.component], change)
            return plan.model_copy(update={family: {**parts, change.component: part}})
    raise ValueError(f"nothing is named {change.component}")


def _changed_part(plan: Plan, part: Any, change: Change) -> tuple[Plan, Named]:
    owner, whose, keys = owner_of(change.key)

    def edit(held: Any) -> Any:
        return _changed(held, keys, change.text, part)

    if owner == "cable" and isinstance(part, Wire | Bond | FrameBond):
        return _with_cable(plan, part, edit)
    if owner == "place":
        return _with_place(plan, part, edit)
    if owner == "use":
        return _with_use(plan, part, edit), part
    if owner == "modules" and isinstance(part, String):
        return _with_label(plan, part, whose, edit)
    if owner == "inline" and isinstance(part, Wire):
        return plan, _with_inline(part, whose, edit)
    if owner == "ways" and isinstance(part, Distribution):
        return plan, _with_way(part, whose, edit)
    changed = edit(part)
    if isinstance(part, String) and change.key in ("series", "arrangement"):
        other = "arrangement" if change.key == "series" else "series"
        changed = changed.model_copy(update={other: None})
    return plan, changed


def _with_cable(plan: Plan, part: Wire | Bond | FrameBond, edit: Edit) -> tuple[Plan, Named]:
    """The conductor in a cable of its own, like its cable but for one key."""
    cables = plan.datasheets.cables
    sheet = _own(edit(cables[part.cable]), part)
    sheets = plan.datasheets.model_copy(update={"cables": {**cables, sheet.name: sheet}})
    changed = part.model_copy(update={"cable": sheet.name})
    return plan.model_copy(update={"datasheets": sheets}), changed


def _with_place(plan: Plan, part: Any, edit: Edit) -> tuple[Plan, Named]:
    """The component in a place of its own, like its place but for one key."""
    places = plan.site.places
    if not isinstance(getattr(part, "place", None), Text):
        raise ValueError(f"`{part.name}` is in no single place")
    place = _own(edit(places[part.place]), part)
    site = plan.site.model_copy(update={"places": {**places, place.name: place}})
    changed = part.model_copy(update={"place": place.name})
    return plan.model_copy(update={"site": site}), changed


def _with_use(plan: Plan, part: Any, edit: Edit) -> Plan:
    """The plan with what is declared of a consumer's use changed."""
    energy = plan.energy
    if energy is None or part.name not in energy.uses:
        raise ValueError(f"no use of `{part.name}` is declared")
    uses = {**energy.uses, part.name: edit(energy.uses[part.name])}
    return plan.model_copy(update={"energy": energy.model_copy(update={"uses": uses})})


def _with_label(plan: Plan, string: String, label: str, edit: Edit) -> tuple[Plan, Named]:
    """The string with a label of its own for some of its modules."""
    modules, used = plan.datasheets.modules, string.modules or (string.module,)
    held = next((m for m in used if m is not None and name_in_plan(m) == label), None)
    if held is None:
        raise ValueError(f"`{label}` is not in `{string.name}`")
    sheet = _own(edit(modules[held]), string)
    sheets = plan.datasheets.model_copy(update={"modules": {**modules, sheet.name: sheet}})
    update: dict[str, Any] = {"module": sheet.name}
    if string.modules is not None:
        update = {"modules": tuple(sheet.name if m == held else m for m in string.modules)}
    return plan.model_copy(update={"datasheets": sheets}), string.model_copy(update=update)


def name_in_plan(name: str) -> str:
    """The name in the plan of what a changed plan holds under that name."""
    return name.partition(_OF)[0]


def _own(sheet: Any, user: Named) -> Any:
    """What a component refers to as its own: under a name that no other refers to."""
    name = f"{name_in_plan(sheet.name)}{_OF}{user.name}"
    return sheet.model_copy(update={"name": Text.at(name, sheet.name.place)})


def _with_inline(wire: Wire, device: str, edit: Edit) -> Wire:
    held = next((inline for inline in wire.inline if inline.device == device), None)
    if held is None:
        raise ValueError(f"`{device}` is not in `{wire.name}`")
    changed = edit(held)
    if changed.from_end != held.from_end:
        return _beside_end(wire, changed)
    inlines = [changed if inline is held else inline for inline in wire.inline]
    return wire.model_copy(update={"inline": inlines})


def _beside_end(wire: Wire, inline: Inline) -> Wire:
    """The wire with a device as the one nearest to the end that it is measured from."""
    others = [other for other in wire.inline if other.device != inline.device]
    first = inline.from_end == "from"
    inlines = [inline, *others] if first else [*others, inline]
    return wire.model_copy(update={"inline": inlines})


def _with_way(panel: Distribution, name: str, edit: Edit) -> Distribution:
    if name not in panel.ways:
        raise ValueError(f"`{panel.name}` has no way `{name}`")
    return panel.model_copy(update={"ways": {**panel.ways, name: edit(panel.ways[name])}})


def _added(plan: Plan, addition: Addition) -> Plan:
    wire = plan.wires.get(addition.wire)
    if wire is None or any(addition.name in getattr(plan, family) for family in FAMILIES):
        raise ValueError(f"`{addition.name}` cannot be added in `{addition.wire}`")
    family: dict[str, Named] = getattr(plan, addition.family)
    model = _model(Plan, addition.family)
    name = Text.at(addition.name, wire.at)
    given = {key for key, _ in addition.values}
    lacking = {k for k, f in model.model_fields.items() if is_needed(f)} - given
    if lacking:
        raise ValueError(f"`{addition.name}` cannot be added without {quoted(sorted(lacking))}")
    device = model.model_validate(
        {"name": name, **{key: Text.at(text, wire.at) for key, text in addition.values}}
    )
    inline = Inline(device=name)
    for key, text in (("from_end", addition.from_end), ("distance", addition.distance)):
        if text:
            inline = _changed(inline, [key], text, wire)
    wires = {**plan.wires, addition.wire: _beside_end(wire, inline)}
    return plan.model_copy(
        update={addition.family: {**family, addition.name: device}, "wires": wires}
    )


def _changed(part: Any, keys: list[str], text: str, near: Named) -> Any:
    """A copy of a part with one key read anew, standing where the part is named."""
    written, *inner = keys
    fields = type(part).model_fields
    key = next((k for k, field in fields.items() if (field.alias or k) == written), written)
    field = fields.get(key)
    if field is not None and inner:
        held = getattr(part, key)
        held = _model(type(part), key)() if held is None else held
        return part.model_copy(update={key: _changed(held, inner, text, near)})
    if field is not None and not text and not (field.is_required() or is_needed(field)):
        return part.model_copy(update={key: field.get_default(call_default_factory=True)})
    reader = _reader(field.annotation, *field.metadata) if field is not None else None
    if reader is None:
        raise ValueError(f"`{near.name}` has no key `{key}` of a single value")
    unknown = {k: place for k, place in part.unknown.items() if k not in (written, "")} or None
    opened = {k: place for k, place in part.open.items() if k != written} or None
    value = reader.read(Text.at(text, near.at))
    return part.model_copy(update={key: value, "left_unknown": unknown, "left_open": opened})


def _reader(*kinds: Any) -> Reader | None:
    """The reader of a field's text: beside its type, or inside `... | None`."""
    for kind in kinds:
        found = kind if isinstance(kind, Reader) else _reader(*get_args(kind))
        if found is not None:
            return found
    return None


def _model(owner: type[Part], key: str) -> type[Part]:
    """The model inside a field of models."""
    field = owner.model_fields[key]
    for kind in (field.annotation, *get_args(field.annotation)):
        if isinstance(kind, type) and issubclass(kind, Part):
            return kind
    raise ValueError(f"`{key}` holds no parts")
