"""What the models of a plan hold: their keys, what each may be, and where a key stands."""

from __future__ import annotations

import re
from functools import cache
from typing import Any, get_args, get_origin

from pydantic.fields import FieldInfo

from wattproof.plan.fields import INNER, UNITS, Named, Part, Reader
from wattproof.plan.opening import OPEN
from wattproof.quantities import UNKNOWN, Mistake, is_quantity
from wattproof.source import Node, Text


@cache
def fields_of(model: type[Part]) -> dict[str, FieldInfo]:
    """The fields of a model by their keys, as a plan writes them."""
    return {f.alias or key: f for key, f in model.model_fields.items() if key not in model.hidden}


@cache
def keys_of(model: type[Part]) -> list[str]:
    """The keys that may stand in a model, as a plan writes them."""
    return [key for key in fields_of(model) if key not in INNER]


@cache
def fields_with_models(model: type[Part]) -> dict[str, tuple[Text, Any]]:
    """The fields of a model that hold models, by their names: the key and what it holds."""
    return {
        key: (Text(field.alias or key), field.annotation)
        for key, field in model.model_fields.items()
        if key not in ("inline", *INNER) and model_of(field.annotation) is not None
    }


def model_of(annotation: Any) -> type[Any] | None:
    """The model inside `Model`, `Model | None`, `dict[str, Model]` or `list[Model]`."""
    for candidate in (annotation, *get_args(annotation)):
        if isinstance(candidate, type) and issubclass(candidate, Part):
            return candidate
    return None


@cache
def families_of_plan() -> dict[str, type[Named]]:
    """The families of components of a plan, by their keys."""
    from wattproof.plan.root import Plan

    return {
        family: of
        for family, (_, annotation) in fields_with_models(Plan).items()
        if family not in Plan.hidden
        and get_origin(annotation) is dict
        and (of := model_of(annotation))
    }


@cache
def owners(key: str) -> tuple[str, ...]:
    """The families and sections of a plan that have a key."""
    from wattproof.plan.root import Plan

    found: dict[str, type[Part]] = {}
    for family, (_, annotation) in fields_with_models(Plan).items():
        if family in Plan.hidden:
            continue
        model: type[Part] | None = model_of(annotation)
        assert model is not None
        found[family] = model
        if model.__name__ in ("Datasheets", "Site", "Distribution", "Energy"):
            found |= {k: m for k, (_, a) in fields_with_models(model).items() if (m := model_of(a))}
    return tuple(family for family, model in found.items() if key in keys_of(model))


def readers_of(*kinds: Any) -> list[Reader]:
    """The readers that an annotation and its metadata hold, at any depth."""
    found: list[Reader] = []
    for kind in kinds:
        found += [kind] if isinstance(kind, Reader) else readers_of(*get_args(kind))
    return found


def may_be_unknown(*kinds: Any) -> bool:
    """Whether a reader of those takes the word for what nobody knows."""
    return any(
        kind.unknown if isinstance(kind, Reader) else may_be_unknown(*get_args(kind))
        for kind in kinds
    )


def is_measured(model: type[Part], key: str) -> bool:
    """Whether a key holds a figure with a unit, or a count."""
    field = fields_of(model).get(key)
    if field is None:
        return False
    return any(
        UNITS in reader.schema()
        or any("minimum" in form for form in reader.schema().get("anyOf", ()))
        for reader in readers_of(field.annotation, *field.metadata)
    )


def fitting_keys(model: type[Part], node: Node) -> frozenset[str]:
    """The keys of a model that may hold a value, by what kind of value it is."""
    every = frozenset(keys_of(model))
    if not isinstance(node, Text) or node in ("", UNKNOWN, OPEN):
        return every
    fields = fields_of(model)
    readers = {key: readers_of(fields[key].annotation, *fields[key].metadata) for key in every}
    measured = {key for key in every if is_measured(model, key)}
    if not re.search("[0-9]", node):
        return every - measured
    words = {key for key in every if any("enum" in r.schema() for r in readers[key])}
    others = every - words if re.match("[-+0-9.]", node) else every
    if not is_quantity(node):
        return others
    return others - {key for key in measured if not any(_reads(r, node) for r in readers[key])}


def _reads(reader: Reader, node: Node) -> bool:
    try:
        reader.read(node)
    except Mistake:
        return False
    return True
