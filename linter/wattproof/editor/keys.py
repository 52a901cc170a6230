"""The keys of the plan language by where they stand, from the schema that is made of the models."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any, NamedTuple, TypeAlias

from wattproof.editor.words import Path
from wattproof.plan.fields import Part
from wattproof.plan.root import Plan
from wattproof.plan.schema import plan_schema

Schema: TypeAlias = dict[str, Any]


class Key(NamedTuple):
    """A key, or a name that a plan gives. model: whose it is. key: empty for a name.

    schema: of what stands under it.
    """

    model: str
    key: str
    schema: Schema
    required: bool = False

    @property
    def words(self) -> str:
        """What it is, with its units."""
        return str(self.schema.get("description", ""))


class Keys:
    """What stands where in a plan."""

    @cached_property
    def _schema(self) -> Schema:
        return plan_schema()

    @cached_property
    def models(self) -> dict[str, type[Part]]:
        """Every model by its name."""
        found: list[type[Part]] = [Plan, *_below(Part)]
        return {model.__name__: model for model in found}

    def find(self, path: Path) -> Key | None:
        """The key at the end of a path; None where the language has none there."""
        held: Key | None = Key("Plan", "", self._schema)
        for step in path:
            if held is None:
                return None
            held = next(self._steps(held, step), None)
        return held

    def below(self, path: Path) -> dict[str, Key]:
        """The keys that may stand in what is at a path, in the order of the language."""
        held = self.find(path)
        found: dict[str, Key] = {}
        if held is not None:
            for model, form in self._forms(held):
                required = form.get("required", ())
                for key, schema in form.get("properties", {}).items():
                    found.setdefault(key, Key(model, key, schema, key in required))
        return found

    def choices(self, key: Key) -> list[str]:
        """The words that may stand under a key, where only some may."""
        found: dict[str, None] = {}
        for _, form in self._forms(key):
            for each in (form, form.get("items", {})):
                words = each.get("enum", [each["const"]] if "const" in each else [])
                found.update((_written(word), None) for word in words)
                if each.get("type") == "boolean":
                    found.update({"true": None, "false": None})
        return list(found)

    def _steps(self, held: Key, step: str | int) -> Iterator[Key]:
        for model, form in self._forms(held):
            if isinstance(step, int):
                if isinstance(form.get("items"), dict):
                    yield Key(model, held.key, form["items"])
            elif step in form.get("properties", {}):
                required = step in form.get("required", ())
                yield Key(model, step, form["properties"][step], required)
            elif isinstance(form.get("additionalProperties"), dict):
                yield Key(model, "", form["additionalProperties"])

    def _forms(self, held: Key) -> Iterator[tuple[str, Schema]]:
        """The forms that what stands under a key may have, each with the model that it is of."""
        waiting = [(held.model, held.schema)]
        while waiting:
            model, form = waiting.pop(0)
            if "$ref" in form:
                model = str(form["$ref"]).rsplit("/", 1)[-1]
                waiting.append((model, self._schema["$defs"][model]))
            waiting += [(model, each) for each in form.get("anyOf", ()) if isinstance(each, dict)]
            yield model, form


def _written(word: object) -> str:
    return str(word).lower() if isinstance(word, bool) else str(word)


def _below(model: type[Part]) -> Iterator[type[Part]]:
    for each in model.__subclasses__():
        yield each
        yield from _below(each)
