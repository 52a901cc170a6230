"""Blocks to models: each mistake becomes a problem at its place, and reading goes on."""

from __future__ import annotations

import re
from typing import Any, Final, TypeVar, get_origin

from pydantic import ValidationError

from wattproof.plan.fields import Named, NoReference, Part, name_meant, names_nothing
from wattproof.plan.model_fields import (
    families_of_plan,
    fields_of,
    fields_with_models,
    fitting_keys,
    is_measured,
    keys_of,
    may_be_unknown,
    model_of,
    owners,
    readers_of,
)
from wattproof.plan.opening import OPEN
from wattproof.plan.resemblance import is_slip, nearest, spelt_alike
from wattproof.quantities import UNKNOWN, Mistake
from wattproof.source import (
    PLAN,
    Block,
    Items,
    Kind,
    Missing,
    Node,
    Place,
    PlanUnusable,
    Problem,
    Text,
)
from wattproof.words import quoted

MAX_NAMES = 10_000
MOST_TRIED = 200
"""Problems of a file up to which it is tried under which keys a value could stand."""
_WIRED = ("Plan", "Wire", "String", "Combiner", "Battery", "Distribution", "Inline")
"""Models of which an unknown key may have been meant to say what is joined to what."""
_JOINS = frozenset(
    {
        *("from", "to", "inline", "joins", "pole", "poles", "parallel", "length", "ways"),
        *("module", "modules", "series", "arrangement", "nominal", "kind", "across", "cable"),
        *("feeds", "count", "controllers"),
    }
)
"""Keys without which a component is not joined, or not as it is meant."""
Model = TypeVar("Model", bound=Part)


class ModelReader:
    """Fills models from blocks of one kind of file, and collects what is wrong with them.

    unreadable: names that are declared but could not be read. misnamed: problems of what names no
    component as it is spelt, each with what is written there. wired: False once something could
    not be read that says what is joined to what.
    """

    def __init__(self, kind: Kind) -> None:
        self.kind = kind
        self.problems: list[Problem] = []
        self.unreadable: set[str] = set()
        self.misnamed: list[tuple[Problem, str]] = []
        self.wired = True
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
        if isinstance(text, Text) and not re.fullmatch("[0-9]{1,9}", text):
            message = f"`{text}` is no {word} format; this program reads {known}"
            instead = f"write `{self.kind.first_line}`: the format has a number of its own"
            self.problems.append(Problem(text.place, message, instead))
            return False
        return True

    def unknown_keys(self, block: Block, model: type[Part], what: str) -> None:
        """Note the keys that a model does not have, each with the nearest that it has.

        One that is misspelt is read on as what it must be, so that what is wrong below it, or
        hangs on it, is told in the same run.
        """
        known = keys_of(model)
        for key in [key for key in block if key not in known]:
            if key not in block:
                continue  # read on with what stands above it
            from wattproof.plan.hints.keys import meant  # of what is wrong only

            many = len(self.problems) > MOST_TRIED
            fitting = frozenset(known) if many else fitting_keys(model, block[key])
            same = spelt_alike(key, known)
            elsewhere = () if same else owners(str(key))
            may_be = [] if elsewhere else [each for each in known if each in fitting]
            near = nearest(key, may_be, alike=1.0)
            is_section = model.__name__ != "Plan" or isinstance(block[key], Block)
            hint = "" if same else meant(model.__name__, key, block, fitting)
            is_word = hint and not isinstance(block[key], Block)
            if not is_word and near and is_section and is_slip(key, near, 0.9):
                same = near
            hint = f"write `{same}`" if same else hint
            instead = hint or (f"write `{near}`" if near else "")
            sure = hint.removeprefix("write `").removesuffix("`") if hint else near
            if sure in block:
                instead = f"`{sure}` says that, and stands here already: keep one of the two"
            if self._beside(key, block, model, sure=not hint):
                continue
            if model.__name__ == "Plan" and self._of_a_family(key, hint, near, block):
                continue
            if not instead and (empty := _empty_above(key, block)):
                instead = f"indent it by two spaces more than `{empty}`, if it belongs there"
            if not instead and isinstance(block[key], Missing):
                self.wired = self.wired and model.__name__ not in _WIRED
                continue  # that it has no value was told
            if not instead:
                whose = f"it is told of {quoted(elsewhere)}; " if elsewhere else ""
                instead = f"{whose}the keys here are {', '.join(known)}"
            self.problems.append(Problem(key.place, f"{what} has no key `{key}`", instead))
            self.wired = self.wired and model.__name__ not in _WIRED
            if model.__name__ == "Plan" and _moved_below(key, block):
                continue
            if sure in known and sure not in block and (hint or is_slip(key, sure)):
                block[Text.at(sure, key.place)] = block[key]
            else:
                self.unreadable.update(_named_in(block[key]))

    def _beside(self, key: Text, block: Block, model: type[Part], *, sure: bool) -> bool:
        """Read on below the family above what stands beside it, indented too little; else False.

        sure: False where its name is another word for a section, so that its keys have to tell.
        """
        above, held = _empty_above(key, block), block[key]
        if above not in fields_with_models(model) or not isinstance(held, Block):
            return False
        of: type[Part] | None = model_of(fields_with_models(model)[above][1])
        if not sure and (of is None or not held or not set(held) <= set(keys_of(of))):
            return False
        empty = next(each for each in block if each == above)
        untold = Problem(empty.place, f"`{above}` has no value", "write a value, or delete it")
        self.problems = [each for each in self.problems if each != untold]
        family = Block({key: block.pop(key)})
        family.place = key.place
        keys = list(block)
        for other in keys[keys.index(empty) + 1 :]:
            if not isinstance(block[other], Block) or other in keys_of(model):
                break
            family[other] = block.pop(other)
        message = f"`{key}` stands beside `{above}`, and belongs to it"
        more = len(family) - 1
        also = f", with the {more} that stand below it" if more else ""
        instead = f"indent it by two spaces more than `{above}`{also}"
        self.problems.append(Problem(key.place, message, instead))
        self.wired = False
        block[empty] = family
        return True

    def _of_a_family(self, key: Text, hint: str, near: str | None, block: Block) -> bool:
        """Read on what stands at the margin and belongs into a family; False for anything else.

        It is one component without a name, one under its own name, or more of a family that
        stands there too. hint, near: what to write instead, and the key that is spelt most alike.
        """
        from wattproof.plan.hints.shown import FORMS
        from wattproof.plan.shapes import family_by_ending, is_nameless, name_for, under_a_name

        held = block[key]
        if not isinstance(held, Block) or not held:
            return False
        families = families_of_plan()
        named = re.match("write `([a-z_]+)[`:]", hint)
        family = named[1] if named else "" if hint else near or family_by_ending(key)
        if family not in families:
            return False
        model = families[family]
        alone = is_nameless(held, model.__name__, keys_of(model))
        alone = alone or not any(isinstance(each, Block) for each in held.values())
        there = block.get(Text(family))
        if not alone and not isinstance(there, Block):
            return False
        name = name_for(key, family)
        parts = under_a_name(name, held) if alone else held
        below = f"below it a name, such as `{name}:`, with the rest indented under that"
        own = hint if named and hint[7:-1] not in (family, f"{family}: {FORMS[family]}") else ""
        instead = own or f"write `{family}:`, and {below}"
        if isinstance(there, Block):
            where = f", under a name such as `{name}:`" if alone else ""
            instead = own or f"move what stands here to `{family}`, which there is already{where}"
            for each, part in parts.items():
                there.setdefault(each, part)
        else:
            block[Text.at(family, key.place)] = parts
        self.problems.append(Problem(key.place, f"a plan has no key `{key}`", instead))
        self.wired = False
        return True

    def field(self, annotation: Any, key: str, node: Node, family: str) -> Any:
        """One field's value where it is a model, a family or a list of models; else the node."""
        model = model_of(annotation)
        if model is None:
            return node
        what = f"`{key}`"
        if isinstance(node, Missing):
            return {} if get_origin(annotation) is dict else node
        if get_origin(annotation) is dict:
            if isinstance(node, Block):
                return self.family(model, node, family)
            self._nameless(key, node)
            return self._listed(model, node, family) if isinstance(node, Items) else {}
        if get_origin(annotation) is list:
            if not isinstance(node, Items):
                self._shapeless(key, node, "entries belong in a list")
                return []
            entries = [self.entry(model, item, key) for item in node]
            return [entry for entry in entries if entry is not None]
        if node == UNKNOWN and self.kind is PLAN:
            return node
        if not isinstance(node, Block):
            self._shapeless(key, node, "values belong under keys")
            return None
        self.unknown_keys(node, model, what)
        return self.model(model, node, what)

    def _listed(self, model: type[Named], node: Items, family: str) -> dict[str, Named]:
        """Models out of a list, under names by which they can be told."""
        from wattproof.plan.shapes import out_of_a_list  # of what is wrong only

        listed = out_of_a_list(node, _singular(family), keys_of(model))
        return {} if listed is None else self.family(model, listed, family)

    def _shapeless(self, key: str, node: Node, wanted: str) -> None:
        """Tell what belongs under a key, and show its form."""
        from wattproof.plan.hints.shown import FORMS

        if self._glued(node):
            return
        message = f"`{key}` is {_shown(node)}, and its {wanted}"
        instead = f"write `{key}: {FORMS[key]}`" if key in FORMS else "write its keys below it"
        self.problems.append(Problem(node.place, message, instead))

    def _glued(self, node: Node) -> bool:
        """Tell of keys that were read as a text, for want of a space behind their colons."""
        from wattproof.plan.shapes import glued_pairs

        pairs = glued_pairs(node) if isinstance(node, Text) else ()
        written = ", then ".join(f"`{pair}`" for pair in pairs)
        if written:
            message = "a colon and a space stand between a key and its value"
            self.problems.append(Problem(node.place, message, f"write {written}"))
        return bool(written)

    def _nameless(self, key: str, node: Node) -> None:
        """Tell that a family holds names, and show its form."""
        from wattproof.plan.hints.shown import FORMS

        shape = "is a list" if isinstance(node, Items) else "has no names below it"
        if isinstance(node, Items) and (instead := _out_of_a_list(key, node)):
            message = f"`{key}` is a list: each entry here stands under a name of its own"
            self.problems.append(Problem(node.place, message, instead))
            self.unreadable.update(_named_in(node))
            self.wired = False
            return
        shown = f"`{key}: {FORMS[key]}`" if key in FORMS else "a name, with its keys below it"
        if node == UNKNOWN:
            message = f"whether there are more `{key}` than the plan says is not told by `unknown`"
            self.problems.append(Problem(node.place, message, f"write `told: {{{key}: part}}`"))
            return
        self.unreadable.update(_named_in(node))
        message = f"`{key}` {shape}: each entry here stands under a name of its own"
        self.problems.append(Problem(node.place, message, f"give each a name: {shown}"))
        self.wired = False

    def entry(self, model: type[Model], node: Node, key: str) -> Model | None:
        """An instance of what an entry of a list says; None where it is no such thing."""
        what = f"an entry of `{key}`"
        if not isinstance(node, Block):
            self._shapeless(key, node, "entries hold values under keys")
            return None
        self.unknown_keys(node, model, what)
        return self.model(model, node, what)

    def family(self, model: type[Named], node: Node, family: str) -> dict[str, Named]:
        """Models by the names that they stand under."""
        assert isinstance(node, Block)
        node = self._with_a_name(model, node, family)
        node = self._with_those_beside(model, node, family)
        parts: dict[str, Named] = {}
        for written, value in node.items():
            key = written
            self.names += 1
            if self.names > MAX_NAMES:
                message = f"the {self.kind.word} declares more than {MAX_NAMES:,} {self.kind.holds}"
                self.problems.append(Problem(key.place, message, self.kind.shorter))
                raise PlanUnusable(self.problems)
            what = f"{_singular(family)} `{key}`"
            nothing_known = value if value == UNKNOWN and self.kind is PLAN else None
            if nothing_known is not None:
                value = Block()
                value.place = nothing_known.place
            try:
                model.read_key(key)
            except Mistake as mistake:
                self.problems.append(Problem(key.place, mistake.message, mistake.instead))
                self.unreadable.add(key)
                self.wired = False
                plain = name_meant(key)
                if not plain or plain in node:
                    continue
                key = Text.at(plain, key.place)
            if not isinstance(value, Block):
                self.unreadable.add(key)
                self.wired = False
                empty = _empty_above(written, node)
                if empty and key in keys_of(model):
                    message = f"`{key}` stands beside `{empty}`, and belongs to it"
                    instead = f"indent it by two spaces more than `{empty}`"
                    self.problems.append(Problem(key.place, message, instead))
                elif not isinstance(value, Missing):
                    self._keyless(family, key, value)
                continue
            self.unknown_keys(value, model, what)
            named = Block({Text("name"): key, **value})
            named.place = key.place
            if nothing_known is not None:
                named[Text("left_unknown")] = nothing_known  # told of it as a whole
            part = self.model(model, named, what)
            if part is None:
                self.unreadable.add(key)
                self.wired = False
            else:
                parts[key] = part
        return parts

    def _with_a_name(self, model: type[Named], node: Block, family: str) -> Block:
        """A family, in which the keys of one component that stand right under it have a name."""
        if not any(isinstance(held, Text) for held in node.values()):
            return node
        from wattproof.plan.hints.shown import FORMS
        from wattproof.plan.shapes import is_nameless, name_for, under_a_name

        first = next(iter(node))
        if not is_nameless(node, model.__name__, keys_of(model)):
            return node
        message = f"the keys of a {_singular(family)} stand right under `{family}`, with no name"
        shown = f", as in `{family}: {FORMS[family]}`" if family in FORMS else ""
        instead = f"write a name above them, and indent them under it{shown}"
        self.problems.append(Problem(first.place, message, instead))
        self.wired = False
        return under_a_name(name_for(Text.at(family, first.place), family), node)

    def _with_those_beside(self, model: type[Named], node: Block, family: str) -> Block:
        """A family, in which the keys of one component that stand among others have a name."""
        keys = keys_of(model)
        bare = Block()
        for key, value in node.items():
            told = isinstance(value, Text) and value != UNKNOWN
            if told and key in keys and not _empty_above(key, node):
                bare[key] = value
        if not bare:
            return node
        from wattproof.plan.shapes import name_for

        first = next(iter(bare))
        message = f"`{first}` of a {_singular(family)} stands right under `{family}`"
        instead = "write the name of the part above it, and indent it under that"
        self.problems.append(Problem(first.place, message, instead))
        self.wired = False
        bare.place = first.place
        others = {key: value for key, value in node.items() if key not in bare}
        family_of_all = Block({name_for(Text.at(family, first.place), family): bare, **others})
        family_of_all.place = node.place
        return family_of_all

    def _keyless(self, family: str, name: Text, node: Node) -> None:
        """Tell that the values of a component stand under keys, and show its form."""
        from wattproof.plan.hints.shown import FORMS
        from wattproof.plan.told_alone import told_alone

        if self._glued(node):
            return
        part = f"{_singular(family)} `{name}`"
        message = f"{part} is {_shown(node)}, and its values belong under keys"
        shown = FORMS.get(family, "").partition(": ")[2].removesuffix("}")
        told, more = told_alone(family, node) if isinstance(node, Text) else ("", "")
        shown = told or shown
        instead = f"write `{name}: {shown}`{more}" if shown else "write its keys below it"
        self.problems.append(Problem(node.place, message, instead))

    def model(self, model: type[Model], block: Node, what: str) -> Model | None:
        """An instance, its nested models built first so that their errors stay local."""
        assert isinstance(block, Block)
        values = Block(block)
        values.place = block.place
        for key, (written, annotation) in fields_with_models(model).items():
            untold = key in model.MAY_BE_UNKNOWN and values.get(written) == UNKNOWN
            if written in values and not untold:
                built = self.field(annotation, written, values[written], key)
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
        """An instance of what a block says; None where it is no such thing.

        Where single values of it cannot be read, it is read without them, so that what else is
        wrong with the plan is told in the same run.
        """
        read, unknown = self._told(model, values, what)
        lost = {str(k) for k, v in read.items() if isinstance(v, Missing)}
        if unknown:
            read["left_unknown"] = unknown
        if opened := self._opened(model, read, what, lost):
            read["left_open"] = opened
        try:
            return model.model_validate({k: v for k, v in read.items() if k not in lost})
        except ValidationError as error:
            from wattproof.plan.refused import problem_of  # of what is wrong only

            for detail in error.errors(include_url=False):
                key = str(detail["loc"][0]) if detail["loc"] else ""
                if key not in lost:
                    problem = problem_of(model, detail, values, what, place)
                    self.problems.append(problem)
                    mistake = detail.get("ctx", {}).get("error")
                    if isinstance(mistake, NoReference):
                        self.misnamed.append((problem, mistake.written))
                lost.add(key)
        self.wired = self.wired and not lost & _JOINS and "" not in lost
        try:
            return model.model_validate({k: v for k, v in read.items() if k not in lost})
        except ValidationError:
            return None

    def _unknown_at(self, model: type[Part], key: str, value: Any) -> Place | None:
        """Where a value is said to be unknown, and may be; None where it is not."""
        if self.kind is not PLAN or key in model.MUST_TELL:
            return None
        place = _unknown_in(value)
        if place is None and not (isinstance(value, Text) and names_nothing(value)):
            return None
        field = fields_of(model)[key]
        if place is None:
            words = any(reader.words for reader in readers_of(field.annotation, *field.metadata))
            return value.place if words else None
        families = get_origin(field.annotation) in (dict, list)
        single = model_of(field.annotation) is not None and not families
        listed = key == "modules" and isinstance(value, Items)
        listed = listed or key in model.MAY_BE_UNKNOWN
        may = single or listed or may_be_unknown(field.annotation, *field.metadata)
        return place if may else None

    def _opened(
        self, model: type[Part], read: dict[Any, Any], what: str, lost: set[str]
    ) -> dict[str, Place]:
        """What is left to be chosen, taken out of what is read; lost: what cannot be left so."""
        opened: dict[str, Place] = {}
        for key in [k for k, v in read.items() if self.kind is PLAN and v == OPEN]:
            place = read[key].place
            if key in model.MAY_BE_OPEN:
                opened[str(key)] = place
                del read[key]
            elif is_measured(model, str(key)):
                from wattproof.plan.refused import to_add  # of what is wrong only

                message = f"`{key}` of {what} cannot be `open`: it is not yours to choose"
                instead = to_add(model, str(key)).replace("add ", "write ", 1)
                self.problems.append(Problem(place, message, f"{instead}; or `unknown`"))
                lost.add(str(key))
        return opened

    def _told(
        self, model: type[Model], values: Block, what: str
    ) -> tuple[dict[Any, Any], dict[str, Place]]:
        """What a block tells under the keys of a model, and what it says nobody knows."""
        fields = fields_of(model)
        read: dict[Any, Any] = {}
        unknown: dict[str, Place] = {}
        for key, value in values.items():
            if key == "left_unknown":
                unknown[""] = value.place
            elif key in fields:
                place = self._unknown_at(model, str(key), value)
                if place is None:
                    read[key] = value
                elif fields[key].is_required():
                    from wattproof.plan.refused import to_add  # of what is wrong only

                    message = f"`{key}` of {what} cannot be `unknown`: the rest hangs on it"
                    instead = to_add(model, str(key)).replace("add ", "look it up: ", 1)
                    self.problems.append(Problem(place, message, instead))
                    read[key] = Missing.at("", place)
                else:
                    unknown[str(key)] = place
                    if isinstance(value, Items) and len(value) > 1:
                        read[key] = value if key == "modules" else _known_of(value)
        return read, unknown


def _out_of_a_list(key: str, node: Items) -> str:
    """How a list of parts that tell their names, or chains, is written; empty for another."""
    from wattproof.plan.shapes import chain_meant, name_told  # of what is wrong only

    first = node[0] if node else None
    if not isinstance(first, Block) or not first:
        return chain_meant(node) if key == "wires" else ""
    if name := name_told(first):
        return f"write each name as a key, `{name}:`, with the rest below it and without the hyphen"
    [key, *more] = first
    under = f"`{key}:`" if not more and isinstance(first[key], Block) else ""
    return f"delete the hyphens: each stands under its name already, as {under}" if under else ""


_BELOW: Final = {
    **dict.fromkeys(("modules", "module", "panels", "solar_panels"), ("datasheets", "modules")),
    **dict.fromkeys(("cables", "cable"), ("datasheets", "cables")),
    **dict.fromkeys(("places", "place"), ("site", "places")),
    "coldest": ("site", "coldest"),
    "hottest": ("site", "hottest"),
}
"""Where keys belong that people write at the margin of a plan."""


def _moved_below(key: Text, block: Block) -> bool:
    """Read on where it belongs what stands at the margin; False for anything else.

    A family there is one of labels or places, under their names.
    """
    section, below = _BELOW.get(key.lower().replace("-", "_"), ("", ""))
    held, above = block[key], block.get(Text(section), Block())
    named = isinstance(held, Block) and all(isinstance(each, Block) for each in held.values())
    single = below in ("coldest", "hottest")
    if not section or not isinstance(above, Block) or named is single or below in above:
        return False
    if section not in block:
        above.place = key.place
        block[Text.at(section, key.place)] = above
    above[Text.at(below, key.place)] = held
    return True


def _named_in(node: Node) -> set[str]:
    """Names that may be declared somewhere in what could not be read."""
    if isinstance(node, Items):
        named = {
            str(each[Text("name")]) for each in node if isinstance(each, Block) and "name" in each
        }
        return named.union(*map(_named_in, node))
    if not isinstance(node, Block):
        return set()
    named = {str(key) for key, held in node.items() if isinstance(held, Block)}
    return named.union(*map(_named_in, node.values()))


def _unknown_in(value: Any) -> Place | None:
    """Where the word for what nobody knows stands, by itself or in a list."""
    if isinstance(value, Items):
        return next((each.place for each in value if each == UNKNOWN), None)
    return value.place if isinstance(value, Text) and value == UNKNOWN else None


def _known_of(value: Items) -> Items:
    known = Items(each for each in value if each != UNKNOWN)
    known.place = value.place
    return known


def _empty_above(key: Text, block: Block) -> str:
    """The key above that holds nothing, if what is between belongs to nothing either."""
    keys = list(block)
    for above in reversed(keys[: keys.index(key)]):
        if isinstance(block[above], Missing):
            return str(above)
        if isinstance(block[above], Block):
            return ""
    return ""


_SINGULAR = {
    "switches": "switch",
    "batteries": "battery",
    "power_boxes": "power box",
    "distribution": "panel",
    "busbars": "busbar",
    "places": "place",
    "ways": "way",
}


def _shown(node: Node) -> str:
    """What stands where something else belongs."""
    if isinstance(node, Text):
        return f"`{node}`"
    return "a list" if isinstance(node, Items) else "a mapping"


def _singular(family: str) -> str:
    return _SINGULAR.get(family, family.removesuffix("s").replace("_", " "))
