"""A node tree to a typed plan. Every mistake becomes a problem at its place; all are reported."""

from __future__ import annotations

import os
from typing import Any, TypeGuard, TypeVar, get_args, get_origin

from pydantic import BaseModel, ValidationError

from wattproof.plan.fields import Named, Part, nearest, read_name
from wattproof.plan.references import reference_problems
from wattproof.plan.root import VERSION, Head, PartsFile, Plan
from wattproof.quantities import Mistake
from wattproof.source import (
    Block,
    Items,
    Node,
    Place,
    PlanUnusable,
    Problem,
    Text,
    parse,
    read_text,
)

MAX_COMPONENTS = 10_000
Model = TypeVar("Model", bound=Part)
Collection = TypeVar("Collection", Block, Items)


def load_plan(path: str, *, shown_as: str | None = None, text: str | None = None) -> Plan:
    """Read a plan file and the parts files it names. Raises PlanUnusable with every problem.

    shown_as: the name that messages use and that `parts` are relative to (for standard input).
    text: the plan's text where the caller has it already.
    """
    name = shown_as or path
    if text is None:
        text = read_text(path, shown_as=name)
    block = parse(text, name)
    reader = _Reader()
    plan = reader.plan(block)
    if plan is not None:
        reader.read_parts(plan, os.path.dirname(name))
        reader.problems.extend(
            reference_problems(plan, reader.unreadable, all_sheets_read=reader.all_sheets_read)
        )
    if plan is None or reader.problems:
        raise PlanUnusable(sorted(set(reader.problems)))
    return plan


class _Reader:
    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self.unreadable: set[str] = set()
        self.all_sheets_read = True
        self.components = 0

    def plan(self, block: Block) -> Plan | None:
        """The plan of a whole file. Families are read one by one, so each error stays local."""
        self._unknown_keys(block, Plan, "a plan")
        if not self._version(block):
            return None
        heads = Block({k: v for k, v in block.items() if k in Head.model_fields})
        heads.place = block.place
        head = self._validate(Head, heads, "the plan", heads.place)
        values: dict[str, Any] = {}
        for key, field in Plan.model_fields.items():
            if key in block and key not in Head.model_fields:
                values[key] = self._field(field.annotation, key, block[Text(key)], key)
        written = head.__dict__ if head is not None else {}
        read = {key: value for key, value in values.items() if value is not None}
        return Plan.model_construct(**written, **read)

    def read_parts(self, plan: Plan, folder: str) -> None:
        """Add the datasheets of the parts files to the plan's own."""
        root = _tree_root(folder)
        for part in plan.parts:
            path = os.path.normpath(os.path.join(folder, part))
            try:
                _refuse_outside(part, path, root)
                sheets = self._parts_file(parse(read_text(path, shown_as=path), path))
            except Mistake as mistake:
                self.problems.append(Problem(part.place, mistake.message, mistake.instead))
                sheets = None
            except PlanUnusable as unusable:
                self.problems.extend(unusable.problems)
                sheets = None
            if sheets is None:
                self.all_sheets_read = False
                continue
            for family in ("modules", "cables"):
                own = getattr(plan.datasheets, family)
                for name, sheet in getattr(sheets.datasheets, family).items():
                    if name in own:
                        message = f"the datasheet `{name}` is also at {own[name].at}"
                        self.problems.append(Problem(sheet.at, message, "rename one of them"))
                    own[name] = sheet

    def _parts_file(self, block: Block) -> PartsFile | None:
        self._unknown_keys(block, PartsFile, "a parts file")
        if not self._version(block):
            return None
        return self._model(PartsFile, block, "the parts file")

    def _version(self, block: Block) -> bool:
        text = block.get(Text("wattproof"))
        if text is None:
            message = "the file does not say which plan format it is written in"
            self.problems.append(
                Problem(block.place, message, f"add `wattproof: {VERSION}` at the top")
            )
            return False
        if isinstance(text, Text) and text.isdecimal() and int(text[:9]) > VERSION:
            message = (
                f"this file is written in plan format {text}, and this program reads {VERSION}"
            )
            self.problems.append(Problem(text.place, message, "use a newer version of wattproof"))
            return False
        return True

    def _unknown_keys(self, block: Block, model: type[BaseModel], what: str) -> None:
        known = [f.alias or key for key, f in model.model_fields.items() if key != "name"]
        for key in block:
            if key not in known:
                near = nearest(key, known)
                instead = f"write `{near}`" if near else f"the keys here are {', '.join(known)}"
                self.problems.append(Problem(key.place, f"{what} has no key `{key}`", instead))

    def _field(self, annotation: Any, key: str, node: Node, family: str) -> Any:
        """One field's value where it is a model, a family or a list of models; else the node."""
        model = _model_of(annotation)
        if model is None:
            return node
        what = f"`{key}`"
        if get_origin(annotation) is dict:
            if self._is(node, Block, what, "a mapping of names"):
                return self._family(model, node, family)
            return {}
        if get_origin(annotation) is list:
            if self._is(node, Items, what, "a list, each entry starting with `- `"):
                entries = [
                    self._model(model, item, f"an entry of {what}")
                    for item in node
                    if self._is(item, Block, f"an entry of {what}", "a mapping")
                ]
                return [entry for entry in entries if entry is not None]
            return []
        if self._is(node, Block, what, "a mapping"):
            self._unknown_keys(node, model, what)
            return self._model(model, node, what)
        return None

    def _family(self, model: type[Named], node: Node, family: str) -> dict[str, Named]:
        assert isinstance(node, Block)
        parts: dict[str, Named] = {}
        for key, value in node.items():
            self.components += 1
            if self.components > MAX_COMPONENTS:
                message = f"the plan declares more than {MAX_COMPONENTS:,} components"
                self.problems.append(Problem(key.place, message, "split it into several plans"))
                raise PlanUnusable(self.problems)
            what = f"{_singular(family)} `{key}`"
            try:
                read_name(key)
            except Mistake as mistake:
                self.problems.append(Problem(key.place, mistake.message, mistake.instead))
                continue
            if not self._is(value, Block, what, "a mapping of its keys"):
                self.unreadable.add(key)
                continue
            self._unknown_keys(value, model, what)
            named = Block({Text("name"): key, **value})
            named.place = key.place
            part = self._model(model, named, what)
            if part is None:
                self.unreadable.add(key)
            else:
                parts[key] = part
        return parts

    def _is(
        self, node: Node, kind: type[Collection], what: str, wanted: str
    ) -> TypeGuard[Collection]:
        if isinstance(node, kind):
            return True
        self.problems.append(Problem(node.place, f"{what} is not {wanted}", f"write {wanted}"))
        return False

    def _model(self, model: type[Model], block: Node, what: str) -> Model | None:
        """An instance, its nested models built first so that their errors stay local."""
        assert isinstance(block, Block)
        values = Block(block)
        values.place = block.place
        for key, field in model.model_fields.items():
            written = Text(field.alias or key)
            if written in values and key != "inline":
                built = self._field(field.annotation, written, values[written], key)
                if built is None:
                    del values[written]
                else:
                    values[written] = built
        part = self._validate(model, values, what, block.place)
        if part is None:
            for family in values.values():
                if isinstance(family, dict):
                    self.unreadable.update(family)
        return part

    def _validate(self, model: type[Model], values: Block, what: str, place: Place) -> Model | None:
        known = {f.alias or key for key, f in model.model_fields.items()}
        try:
            return model.model_validate({k: v for k, v in values.items() if k in known})
        except ValidationError as error:
            for detail in error.errors(include_url=False):
                self.problems.append(_problem(model, detail, values, what, place))
            return None


def _problem(
    model: type[BaseModel], detail: Any, values: Block, what: str, place: Place
) -> Problem:
    """One validation error in our words, at the most exact place known."""
    mistake = detail.get("ctx", {}).get("error")
    where = _place_of(values, detail["loc"]) or place
    key = str(detail["loc"][-1]) if detail["loc"] else ""
    if isinstance(mistake, Mistake):
        message = (
            f"`{key}`: {mistake.message}"
            if isinstance(key, str) and key in values
            else mistake.message
        )
        return Problem(mistake.place or where, message, mistake.instead)
    if detail["type"] == "missing":
        example = next(
            (
                f.examples[0]
                for k, f in model.model_fields.items()
                if (f.alias or k) == key and f.examples
            ),
            None,
        )
        instead = f"write `{key}: {example}`" if example is not None else f"add `{key}:`"
        return Problem(where, f"{what} has no `{key}`", instead)
    if detail["type"] == "extra_forbidden":
        return Problem(where, f"{what} has no key `{key}`", "delete it or check its spelling")
    return Problem(where, f"{what}: `{key}` is not what belongs here", "see `wattproof schema`")


def _place_of(node: Any, path: tuple[Any, ...]) -> Place | None:
    """The place of the deepest node on a path of keys and indexes."""
    place: Place | None = None
    for step in path:
        if isinstance(node, Block) and len(node) == 1 and step not in node:
            [node] = node.values()  # `{name: {details}}`, an inline device
        if isinstance(node, Block) and step in node:
            place = next(key.place for key in node if key == step)
            node = node[step]
        elif isinstance(node, Items) and isinstance(step, int) and step < len(node):
            node = node[step]
            place = node.place
        else:
            break
    return place


def _model_of(annotation: Any) -> type[Any] | None:
    """The model inside `Model`, `Model | None`, `dict[str, Model]` or `list[Model]`."""
    for candidate in (annotation, *get_args(annotation)):
        if isinstance(candidate, type) and issubclass(candidate, Part):
            return candidate
    return None


_SINGULAR = {
    "switches": "switch",
    "batteries": "battery",
    "distribution": "panel",
    "busbars": "busbar",
    "places": "place",
    "ways": "way",
}


def _singular(family: str) -> str:
    return _SINGULAR.get(family, family.removesuffix("s"))


def _tree_root(folder: str) -> str:
    """The folder that parts may not leave: the repository's, or the plan's own."""
    start = os.path.realpath(folder or ".")
    candidate = start
    while True:
        if os.path.exists(os.path.join(candidate, ".git")):
            return candidate
        parent = os.path.dirname(candidate)
        if parent == candidate:
            return start
        candidate = parent


def _refuse_outside(written: Text, path: str, root: str) -> None:
    real = os.path.realpath(path)
    if os.path.isabs(written) or os.path.commonpath([real, root]) != root:
        raise Mistake(
            f"`{written}` lies outside the folder tree of the plan",
            "keep datasheets beside the plan and name them by a relative path",
        )
