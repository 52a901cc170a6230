"""The kinds of value a plan's keys hold: quantities, names, references, words, counts.

Each kind reads the text of a node, keeps its place, and says how it looks in the JSON Schema.
"""

import contextlib
import datetime
import re
import unicodedata
from collections.abc import Callable, Mapping
from typing import Annotated, Any, ClassVar, Final, TypeAlias, get_args

from pydantic import BaseModel, ConfigDict, Field, GetJsonSchemaHandler
from pydantic.fields import FieldInfo
from pydantic.json_schema import SkipJsonSchema
from pydantic_core import CoreSchema, core_schema

from wattproof.plan.resemblance import nearest
from wattproof.quantities import (
    DIMENSIONS,
    FEET_AND_INCHES,
    Dimension,
    Mistake,
    Quantity,
    gauges,
    read_quantity,
    sign_of,
    spelt,
)
from wattproof.record import record
from wattproof.source import Block, Items, Node, Place, Text

INNER: Final = ("name", "left_unknown", "left_open")
"""Fields of models that are no keys of the plan language."""


class Part(BaseModel):
    """Base of everything that a plan declares: no unknown keys, no changes after reading.

    Models build their validators when first used, so that a plan pays for what it declares.
    """

    MUST_TELL: ClassVar[tuple[str, ...]] = ()
    """Keys that may be left out, but not held by the word `unknown`."""

    MAY_BE_UNKNOWN: ClassVar[tuple[str, ...]] = ()
    """Families of names that the word `unknown` may stand for, beside single values."""

    MAY_BE_OPEN: ClassVar[tuple[str, ...]] = ()
    """Keys that the word `open` may stand under: what is the builder's to choose."""

    left_unknown: SkipJsonSchema[Any] = Field(
        default=None, description="Where the word `unknown` stands, by key."
    )
    left_open: SkipJsonSchema[Any] = Field(
        default=None, description="Where the word `open` stands, by key."
    )
    model_config = ConfigDict(
        extra="forbid", frozen=True, defer_build=True, arbitrary_types_allowed=True
    )

    hidden: ClassVar[frozenset[str]] = frozenset()
    """Keys of its base that are not for a plan to write."""

    @property
    def unknown(self) -> Mapping[str, Place]:
        """Where the plan says that a value is not known, by the keys as written."""
        written: Mapping[str, Place] = self.left_unknown or {}
        return written

    @property
    def open(self) -> Mapping[str, Place]:
        """Where the plan leaves a value to be chosen, by the keys as written."""
        written: Mapping[str, Place] = self.left_open or {}
        return written


def needed(description: str, examples: list[Any]) -> Any:
    """A key whose value every plan needs, and which need not be known.

    It is None in a plan as read where nobody told it; what is computed, is computed of a plan in
    which a usual figure stands there (`wattproof.study.assumptions.completing`).
    """
    return Field(None, description=description, examples=examples)


class Named(Part):
    """A component or datasheet with a name of its own; the name carries the place."""

    name: SkipJsonSchema[Any] = Field(default=None, description="The key it stands under.")

    def __hash__(self) -> int:
        """By its name: what it holds may be mappings."""
        return hash(str(self.name))

    @classmethod
    def read_key(cls, node: Any) -> Text:
        """The key as a name. Raises Mistake."""
        return read_name(node, declares=True)

    @property
    def at(self) -> Place:
        """Where its name stands in the plan."""
        place: Place = self.name.place
        return place


def is_needed(field: FieldInfo) -> bool:
    """Whether a field was made by `needed`."""
    optional = field.annotation is Any or type(None) in get_args(field.annotation)
    return not field.is_required() and field.default is None and not optional


@record
class Reader:
    """Marks a field: how its text is read, and its part of the JSON Schema.

    unknown: whether the word for what nobody knows may stand there. words: whether any words are
    read there, so that others which say the same are no value either.
    """

    read: Callable[[Any], Any]
    schema: Callable[[], dict[str, Any]]
    unknown: bool = False
    words: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {**self.schema(), UNKNOWABLE: True} if self.unknown else self.schema()


def hide(keys: frozenset[str]) -> Callable[[dict[str, Any]], None]:
    """What takes the keys out of a model's JSON Schema that a plan does not write."""

    def change(schema: dict[str, Any]) -> None:
        schema["properties"] = {k: v for k, v in schema["properties"].items() if k not in keys}

    return change


def no_entries() -> list[Any]:
    """An empty list: `list` itself has a signature in words, which takes pydantic 6 ms to read."""
    return []


_NOT_KNOWN: Final = frozenset((
    "null", "none", "nil", "n/a", "na", "n.a.", "tbd", "tba", "todo", "tbc", "?", "??", "???",
    "-", "--", "xxx", "...", "unknown?", "not known", "no idea", "dunno", "don't know", "not sure",
    "unclear", "undefined", "nothing", "unk", "to be decided", "to be determined",
    "unbekannt", "inconnu", "desconocido", "onbekend",
))  # fmt: skip
"""What people write where they know nothing."""


def is_not_known(text: str) -> bool:
    """True for words that say that nobody knows, and are not the one of the plan language."""
    return text.strip().lower() in _NOT_KNOWN


_NONE_AMONG_MANY: Final = frozenset((
    "unknown", "various", "varies", "mixed", "assorted", "several", "different", "any", "generic",
    "no name", "no-name", "noname", "unbranded", "no brand", "other", "others",
))  # fmt: skip


def names_nothing(text: str) -> bool:
    """True for words in the place of a name or a make that stand for none."""
    plain = text.strip().lower()
    return plain in _NONE_AMONG_MANY or is_not_known(plain)


def _refuse_not_known(text: Text, *, unknown: bool = True) -> None:
    """Raise Mistake for what says that nobody knows."""
    if is_not_known(text):
        instead = "write `unknown`, or delete the key" if unknown else "write it, or delete the key"
        raise Mistake(f"`{text}` is no value", instead, text.place)


def _text(node: Any, wanted: str) -> Text:
    if isinstance(node, Text):
        return node
    if isinstance(node, Block | Items):
        shape = "a list" if isinstance(node, Items) else "a mapping"
        if isinstance(node, Block) and (one := _value_of(node)):
            raise Mistake(f"this is {shape}, not {wanted}", f"write `{one}`", node.place)
        once = (
            set(node) if isinstance(node, Items) and all(isinstance(n, Text) for n in node) else ()
        )
        alike = f"write `{next(iter(once))}`" if len(once) == 1 else ""
        raise Mistake(f"this is {shape}, not {wanted}", alike or f"write {wanted}", node.place)
    raise Mistake(f"this is not {wanted}", f"write {wanted}")


def _value_of(node: Block) -> str:
    """The value that a block holds under keys of its own; empty where it holds more."""
    texts = {str(key): str(held) for key, held in node.items() if isinstance(held, Text)}
    if set(texts) == set(node) == {"value", "unit"}:
        return f"{texts['value']} {texts['unit']}"
    [key, *more] = texts or [""]
    return texts[key] if not more and key in ("value", "name", "id", "ref") else ""


def quantity(*dimensions: str) -> Reader:
    """A field that holds a quantity of one of the dimensions."""
    kinds = [DIMENSIONS[name] for name in dimensions]

    def read(node: Any) -> Quantity:
        text = node
        if not isinstance(node, Text):
            text = _text(node, f"a number with its unit, such as `{kinds[0].form}`")
        try:
            return read_quantity(text, *dimensions)
        except Mistake as mistake:
            _refuse_not_known(text)
            if not re.search("[0-9]", text):
                mistake.instead += ", or `unknown`"
            raise

    def schema() -> dict[str, Any]:
        gauge = "conductor size" in dimensions
        units = [unit for kind in kinds for unit in kind.units]
        return {
            "type": "string",
            "pattern": _quantity_pattern(kinds, gauge=gauge),
            "examples": [kind.example for kind in kinds],
            UNITS: ["AWG", "kcmil", *units] if gauge else units,
        }

    return Reader(read, schema, unknown=True)


UNITS = "units"
"""Keyword under which a quantity's schema lists its units, until they stand in its description."""
UNKNOWABLE = "unknowable"
"""Keyword that marks, until a schema is finished, where the word `unknown` may stand."""

_NUMBERED: Final = "([0-9]|1[0-9]|2[0-4]|[1-4]/0|0{2,4})"
_SPACE = "[ \u00a0\u2009\u200a\u202f]*"


def _quantity_pattern(kinds: list[Dimension], gauge: bool) -> str:
    """What a quantity looks like, in the regular expressions that JSON Schema programs share."""
    signed = any(kind.signed or "°C" in kind.units for kind in kinds)
    sign = "[-+\u2212\u2013]?" if signed else sign_of(kinds[0], _SPACE) + "[+]?"
    number = rf"{sign}([0-9]+[.]?[0-9]*|[.][0-9]+)([eE][-+]?[0-9]+)?"
    units = "|".join(_alike(each) for kind in kinds for each in spelt(kind, _SPACE))
    pattern = f"{number}({_SPACE}|-)({units})"
    if gauge:
        pattern = f"({pattern}|{gauges(_NUMBERED).replace('~', _SPACE)})"
    if any("ft" in kind.units for kind in kinds):
        pattern = f"({pattern}|{FEET_AND_INCHES.replace('~', _SPACE)})"
    return f"^{_SPACE}{pattern}{_SPACE}$"


def _alike(pattern: str) -> str:
    """A pattern with the signs that are taken as the same."""
    signs = pattern.replace("°", "[°º]").replace("Ω", "[Ω\u2126]")
    return signs.replace("[+]/-", "[+]/[-\u2212\u2013]")


def _cable_schema() -> dict[str, Any]:
    """What the name of a cable looks like, or a size in its place."""
    size = quantity("conductor size").schema()
    either = f"{NAME_SCHEMA['pattern'][1:-1]}|{size['pattern'][1:-1]}"
    return {**NAME_SCHEMA, "pattern": f"^({either})$", UNITS: size[UNITS]}


_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_REFERENCE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9-]+){0,2}")


def is_name(text: str) -> bool:
    """True for what can be the name of something."""
    return _NAME.fullmatch(text) is not None


def read_name(node: Any, *, declares: bool = False) -> Text:
    """A name: lower-case words joined by hyphens. Raises Mistake with a name that would do.

    declares: the name of what is told under it, and not of what stands elsewhere.
    """
    if isinstance(node, Block) and not _value_of(node):
        message = "these are values, where a name belongs"
        instead = (
            "write them under a name of their own (labels stand under `datasheets:`), and the name "
            "here"
        )
        raise Mistake(message, instead, node.place)
    text = _text(node, "a name of lower-case words with hyphens")
    if not is_name(text):
        _refuse_not_known(text)
        name = name_meant(text)
        instead = f"write `{name}`" if name else "write for example `roof-lead`"
        if re.match(r"[0-9]+ ?[x×*]", text):
            instead = "write the name of one here, and how many there are as `series` or in a list"
        if not declares:
            instead = as_size(text) or instead
        message = f"`{text}` is not a name; names are lower-case words joined by hyphens"
        raise Mistake(message, instead, text.place)
    return text


def name_meant(text: str) -> str:
    """A text as a name: in lower case, with hyphens; empty where it holds no letter or figure."""
    spelt = re.sub("-$", "-negative", _in_plain_letters(text)).replace("+", "-positive-")
    return "-".join(re.findall(r"[a-z0-9]+", spelt))


_SPELT_OUT: Final = str.maketrans(
    {"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "ø": "oe", "æ": "ae", "œ": "oe", "ł": "l"}
)


def _in_plain_letters(text: str) -> str:
    """In lower case, without accents: `Kühlbox` as `kuehlbox`, `réfrigérateur` as it sounds."""
    spelt = unicodedata.normalize("NFC", text.lower()).translate(_SPELT_OUT)
    return "".join(c for c in unicodedata.normalize("NFD", spelt) if not unicodedata.combining(c))


def as_size(text: Text) -> str:
    """What to write for a size that cannot be read in the place of a cable's name; else empty."""
    if bare := re.fullmatch("([0-9.]+) ?mm", text.lower()):
        return (
            f"write `{bare[1]} mm²` if that is the area of its copper and not a diameter; or "
            f"`{name_meant(text)}`, if a cable under `datasheets: cables:` is called that"
        )
    try:
        read_quantity(text, "conductor size")
    except Mistake as mistake:
        is_size = re.search("[0-9] ?(mm|awg|ga)|^[0-9]{1,2}(-[2-9])?$", text.lower())
        return mistake.instead if is_size else ""
    return ""


def size_in(text: Text) -> Quantity | None:
    """The size of a conductor that stands in the place of a cable's name; None for a name."""
    with contextlib.suppress(Mistake):
        return read_quantity(text, "conductor size")
    return None


def _read_cable(node: Any) -> Text:
    """The name of a cable's datasheet, or the size that is all that is told of it. Raises Mistake.

    Which of both a word such as `6mm2` is, what is declared tells.
    """
    if isinstance(node, Text) and not is_name(node) and size_in(node) is not None:
        return node
    if isinstance(node, Text) and re.fullmatch("[0-9]{1,2}/[2-9].*", node):
        read_quantity(node, "conductor size")  # a gauge and how many conductors: it says so
    return read_name(node)


_ONE_END: Final = (
    "name one; what else it is joined to takes a wire of its own, and strings side by side a joint "
    "under `combiners:`"
)


class NoReference(Mistake):
    """A text that names no component or terminal as it is spelt; what is meant hangs on names."""

    def __init__(self, text: Text, instead: str) -> None:
        message = f"`{text}` does not name a component or a terminal of one"
        super().__init__(message, instead, text.place)
        self.written = str(text)


_SEVERAL: Final = re.compile(
    r"[a-z0-9] ?(,|&| and | or |[+] ?(?!(ve|pos|plus|term|post|pole))[a-z])"
)
"""More than one name, and not a pole behind one."""


def read_reference(node: Any) -> Text:
    """A component, or a terminal of one. Raises Mistake."""
    if isinstance(node, Items) and len(set(map(str, node))) > 1:
        raise Mistake("this is a list, and a wire ends at one component", _ONE_END, node.place)
    text = _text(node, "the name of a component")
    if _SEVERAL.search(text.lower()):
        raise Mistake(f"`{text}` names more than one component", _ONE_END, text.place)
    if not _REFERENCE.fullmatch(text):
        if is_not_known(text):
            instead = "write what it is joined to: a component, or a terminal of one"
            raise Mistake(f"`{text}` names nothing", instead, text.place)
        meant = _as_reference(text) or "name`, `name.port` or `name.port.negative"
        raise NoReference(text, f"write `{meant}`")
    return text


def _as_reference(text: str) -> str:
    """A reference as it is to be written: `house +` as `house.positive`; empty without a name."""
    named, sign = text.rstrip(" +"), "+" * text.rstrip().endswith("+")
    if re.search(r"[\s.]-$|[^-]-$", text.rstrip()):
        named, sign = text.rstrip(" -"), "-"
    parts = [
        "-".join(re.findall(r"[a-z0-9]+", _in_plain_letters(part))) for part in named.split(".")
    ]
    parts = [part for part in parts if part]
    if not parts or len(parts) > 3:
        return ""
    return ".".join([*parts, *([POLE_WORDS[sign]] if sign else [])])


POLE_WORDS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("plus", "pos", "red", "+", "p"), "positive"),
    **dict.fromkeys(
        ("minus", "neg", "black", "-", "n", "gnd", "ground", "masse", "return"), "negative"
    ),
}
"""What people call the two poles."""


def _read_words(node: Any) -> Text:
    text = _text(node, "text")
    if not text.strip():
        raise Mistake("this text is empty", "write it, or delete the key", text.place)
    return text


class Count(int):
    """A whole number from 1, with its place and its text."""

    place: Place
    text: str


MAX_COUNT = 1000
NUMBER_WORDS: Final[Mapping[str, int]] = {
    "one": 1,
    "single": 1,
    **dict.fromkeys(("two", "double", "pair"), 2),
    **dict.fromkeys(("three", "triple"), 3),
    "four": 4,
    "five": 5,
    "six": 6,
    "eight": 8,
    "ten": 10,
    "twelve": 12,
}
"""Counts in letters."""


def read_count(node: Any) -> Count:
    """A whole number from 1. Raises Mistake."""
    _refuse_listed(node)
    text = _text(node, "a whole number")
    if not re.fullmatch(r"[0-9]{1,6}", text) or not 1 <= int(text) <= MAX_COUNT or text[0] == "0":
        message = f"`{text}` is not a whole number from 1 to {MAX_COUNT}"
        _refuse_not_known(text)
        if re.search("[0-9] ?(p|parallel)", text.lower()) and not re.search(
            "panel|pcs|piece", text
        ):
            instead = "how many are side by side is told by `arrangement`, as in `2s2p` or `1s2p`"
            raise Mistake(message, instead, text.place)
        plain = re.fullmatch(r"[xX×]? ?([1-9][0-9]{0,2})([.,]0*)?", text)
        if plain:
            raise Mistake(message, f"write `{plain[1]}`", text.place)
        noted = re.fullmatch(r"([1-9][0-9]{0,2}) *(//|--|;|[(]|[A-Za-z]).*", text)
        if noted:
            instead = f"write `{noted[1]}`; a comment stands behind ` #`"
            raise Mistake(message, instead, text.place)
        if (count := NUMBER_WORDS.get(text.lower().partition(" ")[0])) is not None:
            raise Mistake(message, f"write `{count}`", text.place)
        number = re.sub("[^0-9]", "", text).lstrip("0")[:5]
        counts = bool(number) and text.strip("0 ") == number and int(number) <= MAX_COUNT
        raise Mistake(
            message, f"write `{number}`" if counts else "count, and write it in digits", text.place
        )
    return _count(text)


def _refuse_listed(node: Any) -> None:
    """Raise Mistake for a list where its length belongs, or the one number in it."""
    if not isinstance(node, Items) or not node:
        return
    numbers = [each for each in node if re.fullmatch("[0-9]+", str(each))]
    instead = f"write `{len(node)}`" if not numbers else "write one whole number"
    if len(node) == len(numbers) == 1:
        instead = f"write `{numbers[0]}`"
    raise Mistake("this is a list, not a whole number", instead, node.place)


def _read_count_or_none(node: Any) -> Count:
    _refuse_listed(node)
    text = _text(node, "a whole number, or `0`")
    return _count(text) if text == "0" else read_count(text)


def counted_as(count: Count, number: int) -> Count:
    """Another number in the place of a count."""
    other = Count(number)
    other.place, other.text = count.place, str(number)
    return other


def _count(text: Text) -> Count:
    count = Count(text)
    count.place = text.place
    count.text = str(text)
    return count


def _count_schema(least: int, pattern: str) -> dict[str, Any]:
    return {
        "anyOf": [
            {"type": "integer", "minimum": least, "maximum": MAX_COUNT},
            {"type": "string", "pattern": pattern},
        ]
    }


_FLAGS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("yes", "on", "y", "ja", "oui", "si", "sí"), "true"),
    **dict.fromkeys(("no", "off", "n", "nein", "non"), "false"),
}


def _read_flag(node: Any) -> bool:
    text = _text(node, "`true` or `false`")
    if text not in ("true", "false"):
        meant = _FLAGS.get(text.lower())
        instead = f"write `{meant or text.lower() if text.lower() in ('true', 'false') else meant}`"
        if not meant and text.lower() not in ("true", "false"):
            instead = "write `true` or `false`"
        raise Mistake(f"`{text}` is neither `true` nor `false`", instead, text.place)
    return text == "true"


def _read_date(node: Any) -> datetime.date:
    text = _text(node, "a date such as `2027-06-30`")
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        message = f"`{text}` is not a date"
        raise Mistake(message, "write year, month and day as `2027-06-30`", text.place) from None


def one_of(*words: str, same: Mapping[str, str] | None = None, other: str = "") -> Reader:
    """A field that holds one of a few words. same: other spellings of them, which are read.

    other: what to do about one that is like none of them.
    """
    spelt = same or {}

    def read(node: Any) -> Text:
        text = _text(node, f"one of {', '.join(words)}")
        if text in spelt:
            return Text.at(spelt[text], text.place)
        if text not in words:
            from wattproof.plan.hints.values import meant_word  # of what is wrong only

            untold = is_not_known(text)
            near = None if untold else nearest(text, words)
            instead = f"write `{near}`" if near else f"use one of {', '.join(words)}"
            instead += ", or delete the key if nobody knows" if untold else ""
            instead += f"; {other}" if other and not near and not untold else ""
            instead = meant_word(text, words) or instead
            raise Mistake(f"`{text}` is none of {', '.join(words)}", instead, text.place)
        return text

    return Reader(read, lambda: {"type": "string", "enum": [*words, *spelt]}, unknown=True)


def _listed(text: str) -> list[str]:
    """The names in a text of several: `roof to cabin`, `left and right`; empty where it is one."""
    names = re.split(r" ?(?:,|&|->|→) ?| (?:and|to|then|-) ", text.strip())
    several = len(names) > 1 and all(re.fullmatch(r"[a-z0-9.-]+", name) for name in names)
    return names if several else []


def list_of(read: Callable[[Any], Any], item: dict[str, Any], *, unknown: bool = False) -> Reader:
    """A field that holds one value or a list of them."""

    def read_all(node: Any) -> tuple[Any, ...]:
        nodes: list[Node] = list(node) if isinstance(node, Items) else [node]
        if not nodes:
            raise Mistake("this list is empty", "name at least one, or delete the key", node.place)
        if isinstance(node, Text) and (listed := _listed(node)):
            message = f"`{node}` is one text, and several stand in a list"
            raise Mistake(message, f"write `[{', '.join(listed)}]`", node.place)
        return tuple(read(each) for each in nodes)

    return Reader(
        read_all,
        lambda: {"anyOf": [item, {"type": "array", "items": item, "minItems": 1}]},
        unknown,
    )


NAME_SCHEMA = {"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$"}
REFERENCE_SCHEMA = {
    "type": "string",
    "pattern": r"^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9-]+){0,2}$",
    "examples": ["tracker.pv", "house"],
}

Name: TypeAlias = Annotated[Text, Reader(read_name, lambda: NAME_SCHEMA)]
Reference: TypeAlias = Annotated[Text, Reader(read_reference, lambda: REFERENCE_SCHEMA)]


def component_of(reference: str) -> str:
    """Name of the component that a reference leads to: `tracker` of `tracker.pv.positive`."""
    return reference.partition(".")[0]


Names: TypeAlias = Annotated[tuple[Text, ...], list_of(read_name, NAME_SCHEMA)]
NameOrUnknown: TypeAlias = Annotated[Text, Reader(read_name, lambda: NAME_SCHEMA, unknown=True)]
"""The name of a datasheet or a place, which need not be known."""
CableOrUnknown: TypeAlias = Annotated[Text, Reader(_read_cable, _cable_schema, unknown=True)]
"""The name of a cable's datasheet or its size, which need not be known."""
NamesOrUnknown: TypeAlias = Annotated[
    tuple[Text, ...], list_of(read_name, NAME_SCHEMA, unknown=True)
]
References: TypeAlias = Annotated[tuple[Text, ...], list_of(read_reference, REFERENCE_SCHEMA)]
_WORDS_SCHEMA = {"type": ["string", "number", "boolean"], "pattern": "[^ ]"}
Words: TypeAlias = Annotated[Text, Reader(_read_words, lambda: _WORDS_SCHEMA)]
LabelWords: TypeAlias = Annotated[
    Text, Reader(_read_words, lambda: _WORDS_SCHEMA, unknown=True, words=True)
]
"""Words off a label, which need not be known."""
Paths: TypeAlias = Annotated[
    tuple[Text, ...], list_of(_read_words, {"type": "string", "pattern": "[^ ]"})
]
Whole: TypeAlias = Annotated[
    Count, Reader(read_count, lambda: _count_schema(1, "^[1-9][0-9]*$"), unknown=True)
]
WholeOrNone: TypeAlias = Annotated[
    Count,
    Reader(_read_count_or_none, lambda: _count_schema(0, "^(0|[1-9][0-9]*)$"), unknown=True),
]
Flag: TypeAlias = Annotated[
    bool,
    Reader(
        _read_flag,
        lambda: {"anyOf": [{"type": "boolean"}, {"type": "string", "enum": ["true", "false"]}]},
        unknown=True,
    ),
]
Date: TypeAlias = Annotated[
    datetime.date, Reader(_read_date, lambda: {"type": "string", "format": "date"})
]

Voltage: TypeAlias = Annotated[Quantity, quantity("voltage")]
VoltageDifference: TypeAlias = Annotated[Quantity, quantity("voltage difference")]
Current: TypeAlias = Annotated[Quantity, quantity("current")]
Duration: TypeAlias = Annotated[Quantity, quantity("time")]
Power: TypeAlias = Annotated[Quantity, quantity("power")]
PowerShown: TypeAlias = Annotated[Quantity, quantity("power shown")]
EnergyShown: TypeAlias = Annotated[Quantity, quantity("energy")]
Charge: TypeAlias = Annotated[Quantity, quantity("charge")]
Resistance: TypeAlias = Annotated[Quantity, quantity("resistance")]
Length: TypeAlias = Annotated[Quantity, quantity("length")]
Distance: TypeAlias = Annotated[Quantity, quantity("distance")]
Area: TypeAlias = Annotated[Quantity, quantity("area")]
ConductorSizeField: TypeAlias = Annotated[Quantity, quantity("conductor size")]
Temperature: TypeAlias = Annotated[Quantity, quantity("temperature")]
AirTemperature: TypeAlias = Annotated[Quantity, quantity("temperature of air")]
PlaceTemperature: TypeAlias = Annotated[Quantity, quantity("temperature of a place")]
BatteryTemperature: TypeAlias = Annotated[Quantity, quantity("temperature of a battery")]
Angle: TypeAlias = Annotated[Quantity, quantity("angle")]
Latitude: TypeAlias = Annotated[Quantity, quantity("latitude")]
Height: TypeAlias = Annotated[Quantity, quantity("height above the sea")]
Share: TypeAlias = Annotated[Quantity, quantity("share")]
MeasuredVoltage: TypeAlias = Annotated[Quantity, quantity("measured voltage")]
MeasuredCurrent: TypeAlias = Annotated[Quantity, quantity("measured current")]
ZeroDrift: TypeAlias = Annotated[Quantity, quantity("zero drift")]
Irradiance: TypeAlias = Annotated[Quantity, quantity("irradiance")]
VoltageCoefficient: TypeAlias = Annotated[
    Quantity, quantity("relative coefficient", "voltage coefficient")
]
CurrentCoefficient: TypeAlias = Annotated[
    Quantity, quantity("relative coefficient", "current coefficient")
]
PowerCoefficient: TypeAlias = Annotated[
    Quantity, quantity("relative coefficient", "power coefficient")
]
