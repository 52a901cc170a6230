"""Blocks to models: each mistake becomes a problem at its place, and reading goes on."""

from __future__ import annotations

from typing import Any, TypeGuard, TypeVar, get_args, get_origin

from pydantic import BaseModel, ValidationError

from wattproof.plan.fields import Named, Part, nearest
from wattproof.quantities import Mistake
from wattproof.source import Block, Items, Kind, Node, Place, PlanUnusable, Problem, Text

MAX_NAMES = 10_000
Model = TypeVar("Model", bound=Part)
Collection = TypeVar("Collection", Block, Items)


class ModelReader:
    """Fills models from blocks of one kind of file, and collects what is wrong with them.

    unreadable: names that are declared but could not be read.
    """

    def __init__(self, kind: Kind) -> None:
        self.kind = kind
        self.problems: list[Problem] = []
        self.unreadable: set[str] = set()
        self.names = 0

    def version(self, block: Block) -> bool:
        """Whether a file says that it is written in a format that this program reads."""
        text = block.get(Text(self.kind.key))
        word, known = self.kind.word, self.kind.version
        if text is None:
            message = f"the file does not say which {word} format it is written in"
            instead = f"add `{self.kind.first_line}` at the top"
            self.problems.append(Problem(block.place, message, instead))
            return False
        if isinstance(text, Text) and text.isdecimal() and int(text[:9]) > known:
            message = (
                f"this file is written in {word} format {text}, and this program reads {known}"
            )
            self.problems.append(Problem(text.place, message, "use a newer version of wattproof"))
            return False
        return True

    def unknown_keys(self, block: Block, model: type[BaseModel], what: str) -> None:
        """Note the keys that a model does not have, each with the nearest that it has."""
        known = [f.alias or key for key, f in model.model_fields.items() if key != "name"]
        for key in block:
            if key not in known:
                near = nearest(key, known)
                instead = f"write `{near}`" if near else f"the keys here are {', '.join(known)}"
                self.problems.append(Problem(key.place, f"{what} has no key `{key}`", instead))

    def field(self, annotation: Any, key: str, node: Node, family: str) -> Any:
        """One field's value where it is a model, a family or a list of models; else the node."""
        model = _model_of(annotation)
        if model is None:
            return node
        what = f"`{key}`"
        if get_origin(annotation) is dict:
            if self.is_a(node, Block, what, "a mapping of names"):
                return self.family(model, node, family)
            return {}
        if get_origin(annotation) is list:
            if self.is_a(node, Items, what, "a list, each entry starting with `- `"):
                entries = [self.entry(model, item, f"an entry of {what}") for item in node]
                return [entry for entry in entries if entry is not None]
            return []
        if self.is_a(node, Block, what, "a mapping"):
            self.unknown_keys(node, model, what)
            return self.model(model, node, what)
        return None

    def entry(self, model: type[Model], node: Node, what: str) -> Model | None:
        """An instance of what an entry of a list says; None where it is no such thing."""
        if not self.is_a(node, Block, what, "a mapping"):
            return None
        self.unknown_keys(node, model, what)
        return self.model(model, node, what)

    def family(self, model: type[Named], node: Node, family: str) -> dict[str, Named]:
        """Models by the names that they stand under."""
        assert isinstance(node, Block)
        parts: dict[str, Named] = {}
        for key, value in node.items():
            self.names += 1
            if self.names > MAX_NAMES:
                message = f"the {self.kind.word} declares more than {MAX_NAMES:,} {self.kind.holds}"
                self.problems.append(Problem(key.place, message, self.kind.shorter))
                raise PlanUnusable(self.problems)
            what = f"{_singular(family)} `{key}`"
            try:
                model.read_key(key)
            except Mistake as mistake:
                self.problems.append(Problem(key.place, mistake.message, mistake.instead))
                continue
            if not self.is_a(value, Block, what, "a mapping of its keys"):
                self.unreadable.add(key)
                continue
            self.unknown_keys(value, model, what)
            named = Block({Text("name"): key, **value})
            named.place = key.place
            part = self.model(model, named, what)
            if part is None:
                self.unreadable.add(key)
            else:
                parts[key] = part
        return parts

    def is_a(
        self, node: Node, kind: type[Collection], what: str, wanted: str
    ) -> TypeGuard[Collection]:
        """Whether a node has the shape that is wanted; if not, that is a problem."""
        if isinstance(node, kind):
            return True
        self.problems.append(Problem(node.place, f"{what} is not {wanted}", f"write {wanted}"))
        return False

    def model(self, model: type[Model], block: Node, what: str) -> Model | None:
        """An instance, its nested models built first so that their errors stay local."""
        assert isinstance(block, Block)
        values = Block(block)
        values.place = block.place
        for key, field in model.model_fields.items():
            written = Text(field.alias or key)
            if written in values and key != "inline":
                built = self.field(field.annotation, written, values[written], key)
                if built is None:
                    del values[written]
                else:
                    values[written] = built
        part = self.validate(model, values, what, block.place)
        if part is None:
            for family in values.values():
                if isinstance(family, dict):
                    self.unreadable.update(family)
        return part

    def validate(self, model: type[Model], values: Block, what: str, place: Place) -> Model | None:
        """An instance of what a block says; None where it is no such thing."""
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
