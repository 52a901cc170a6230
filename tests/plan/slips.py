"""Slips of builders, made from plans that are right: each as a text, with what it was made of."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final, NamedTuple

from ruamel.yaml import YAML

from plan.following import span
from wattproof.source import Block, Items, Node, Text, parse

_KNOWN: Final[dict[str, Any]] = YAML(typ="safe").load(
    Path(__file__).with_name("words_of_builders.yaml").read_text(encoding="utf-8")
)
"""Words and forms of builders; the file says what each table holds."""


class Slip(NamedTuple):
    """A plan with one slip. kind: the class of it. at: the key or value, and what became of it."""

    kind: str
    at: str
    path: str
    text: str
    form: str = ""
    """What it is alike to: of each form one is enough."""
    sure: bool = True
    """True where it can mean one thing only, so that what is meant can be asked for."""
    renamed: tuple[str, str] | None = None
    """Another name of a part, and its own: whoever refers to it is to follow."""

    @property
    def of_value(self) -> bool:
        """True for another form of a value, which is alike under many keys."""
        begins = ("value ", "range", "number", "decimal", "thousands", "unit", "flag")
        return self.kind.startswith(begins) or " as " in self.kind

    @property
    def is_valid(self) -> bool:
        """True for what the language can say as well, and then means no more than it says."""
        others = ("unit of another kind", "key of another part", "ft as {}' 6", "declared name")
        return self.kind.startswith(others) or bool(_SAYS_ANYTHING.search(self.form))

    @property
    def is_open(self) -> bool:
        """True for what nobody can tell: what is written in its place is another plan."""
        others = ("key of another part", "part of another", "end of a wire", "a key of its own")
        return self.kind.startswith(others)


_SAYS_ANYTHING: Final = re.compile(
    r"(title|note|taken|make|connector\.style)( |$)|^thousands .* 2$|^kA as \{\}000A"
)
"""Words of the builder's own; thousands with a point; a kiloampere in decimals."""


class Site(NamedTuple):
    """A value of a plan. path: of keys, names as `*`. key: under which it stands."""

    path: tuple[str, ...]
    key: Text
    value: Node
    holder: Block

    @property
    def family(self) -> str:
        return self.path[1] if self.path[0] in ("datasheets", "site") else self.path[0]


_NAMED: Final = ("modules", "cables", "places", "ways", "inputs", "uses")

IN_LETTERS = {"1": "one", "2": "two", "3": "three", "4": "four", "6": "six"}


def sites(block: Block, above: tuple[str, ...] = ()) -> Iterator[Site]:
    """All keys of a plan with what they hold; names are no keys."""
    for key, value in block.items():
        path = (*above, str(key))
        yield Site(path, key, value, block)
        yield from _below(value, path)


def _below(value: Node, path: tuple[str, ...]) -> Iterator[Site]:
    if isinstance(value, Items):
        for each in value:
            if isinstance(each, Block) and path[-1] == "inline":
                for name, details in each.items():
                    yield Site((*path, "*"), name, details, each)
                    if isinstance(details, Block):
                        yield from sites(details, (*path, "*"))
            elif isinstance(each, Block):
                yield from sites(each, path)
    elif isinstance(value, Block):
        named = path[-1] in _NAMED or (
            len(path) == 1
            and path[0] not in ("site", "datasheets", "energy", "code", "told", "feeds")
        )
        if not named:
            yield from sites(value, path)
            return
        for name, held in value.items():
            yield Site((*path, "*"), name, held, value)
            if isinstance(held, Block):
                yield from sites(held, (*path, "*"))


Make = Callable[[Site, random.Random], Iterator[tuple[str, str, bool]]]


def is_key(site: Site) -> bool:
    return site.path[-1] != "*"


# --- keys


def misspelt(site: Site, dice: random.Random) -> Iterator[tuple[str, str, bool]]:
    key = str(site.key)
    if not is_key(site) or len(key) < 4:
        return
    k = dice.randrange(1, len(key) - 1)
    yield "key with a letter too few", key[:k] + key[k + 1 :], True
    yield "key with a letter twice", key[:k] + key[k] + key[k:], True
    if key[k] != key[k + 1]:
        yield "key with letters swapped", key[:k] + key[k + 1] + key[k] + key[k + 2 :], True


def spelt(site: Site, dice: random.Random) -> Iterator[tuple[str, str, bool]]:
    key = str(site.key)
    if not is_key(site):
        return
    yield "key with a capital", key.capitalize(), True
    yield "key in capitals", key.upper(), True
    if "_" in key:
        yield "key with hyphens", key.replace("_", "-"), True
        yield "key with spaces", key.replace("_", " "), True
        words = key.split("_")
        yield "key in camel case", words[0] + "".join(w.capitalize() for w in words[1:]), True
        yield "key as one word", key.replace("_", ""), True
    if key.endswith("ies"):
        yield "key in the singular", key[:-3] + "y", True
    elif key.endswith("ches"):
        yield "key in the singular", key[:-2], True
    elif key.endswith("s") and not key.endswith("ss"):
        yield "key in the singular", key[:-1], True
    elif not key.endswith(("y", "s")) and key != "module":
        yield "key in the plural", key + "s", True


SYNONYMS: Final = _KNOWN["synonyms"]
"""Other words for keys that builders use, by family."""


def other_word(site: Site, dice: random.Random) -> Iterator[tuple[str, str, bool]]:
    family = "" if len(site.path) == 1 else _owner(site)
    for word in SYNONYMS.get(family, {}).get(str(site.key), ()) if is_key(site) else ():
        yield "key by another word", word, True


def _owner(site: Site) -> str:
    """The family whose key it is."""
    inner = [part for part in site.path[:-1] if part != "*"]
    return inner[-1]


# --- values


_VALUE: Final = re.compile(r"(-?[0-9.]+) ?([^0-9].*)")


def quantities(site: Site, dice: random.Random) -> Iterator[tuple[str, str, bool]]:
    value = site.value
    if not isinstance(value, Text) or not (found := _VALUE.fullmatch(value)):
        return
    if not is_key(site) or site.path[-1] in ("title", "arrangement", "code", "type", "until"):
        return
    number, unit = found[1], found[2]
    if re.fullmatch(r"[/s]?[0-9p/].*", unit) and "%" not in unit and "²" not in unit:
        return
    yield "value without a unit", number, False
    yield "value glued to its unit", f"{number}{unit}", True
    yield "unit in capitals", f"{number} {unit.upper()}", True
    yield "unit in small letters", f"{number} {unit.lower()}", True
    for guess in (
        "~{}",
        "ca. {}",
        "about {}",
        "< {}",
        "max {}",
        "approx {}",
        "{} max",
        "{} approx",
    ):
        yield "value as a guess", guess.format(value), False
    yield "value in quotes of a word processor", f"\u201c{value}\u201d", True
    yield "value with a note", f"{value} (label)", True
    yield "value with a word behind", f"{value} nominal", True
    yield "value with an equals sign", f"= {value}", True
    if re.fullmatch(r"[0-9]+", number):
        yield "range", f"{number}-{int(number) + 2} {unit}", False
        yield "range", f"{number} to {int(number) + 2} {unit}", False
        yield "range", f"{number}/{int(number) + 2} {unit}", False
        yield "range with units", f"{number} {unit} - {int(number) + 2} {unit}", False
        yield "number with a point behind", f"{number}. {unit}", True
        yield "number with a zero before", f"0{number} {unit}", True
        yield "number with decimals", f"{number},0 {unit}", True
        yield "number with decimals", f"'{number},00 {unit}'", True
        if len(number) > 3:
            head, tail = number[:-3], number[-3:]
            yield "thousands", f"{head},{tail} {unit}", True
            yield "thousands", f"{head}.{tail} {unit}", False
            yield "thousands", f"{head}'{tail} {unit}", True
            yield "thousands", f"{head} {tail} {unit}", True
            yield "thousands", f"'{head},{tail} {unit}'", True
    elif "." in number:
        yield "decimal comma", f"{number.replace('.', ',')} {unit}", True
        yield "decimal comma", f"'{number.replace('.', ',')} {unit}'", True
        yield "decimal comma", f"'{number.replace('.', ',')}{unit}'", True
    yield "value twice", f"2x {value}", False
    yield "value twice", f"2 x {value}", False
    yield "value twice", f"2x{number}{unit}", False
    yield "value twice", f"{value} x2", False
    yield "value twice", f"{value} (x2)", False
    yield "value twice", f"2 × {value}", False
    yield "value as a sum", f"{value} + {value}", False
    yield "value as a list", f"[{value}]", True
    yield "value as a mapping", f"{{value: {number}, unit: {unit}}}", True
    others = _KNOWN["units_as"]
    for other in others.get(unit, ()):
        same = {"Vdc", "Volt", "Amps", "FT", "M"}
        yield f"unit of another kind: {unit} as {other}", f"{number} {other}", other in same
    more = _KNOWN["values_as"]
    asks = re.compile(
        r"2x|2 x|x ?2|/2|-2|/24|°$|degrees|# ?\{|total|each|mm$|VA|C\{|B\{|G\{|usable|6\"|58|32V"
        r"|12V|3G|5 mm|10 AWG|000|quadrat|²$|square|\{\}g$"
    )
    for form in more.get(unit, ()):
        yield f"{unit} as {form}", form.format(number), not asks.search(form)


WORDS: Final = _KNOWN["words"]
_SURE_WORDS: Final = re.compile(
    r"lifepo4|lfp|lithium.iron.phosphate|agm( lead)?|lead-acid agm|gel|fla|wet( cell)?|mppt.*|pwm.*"
    r"|[a-z]+-[a-z]+|van|rv|camper(van)?|motorhome|bus|yacht|sailboat|narrowboat|ship|cabin|hut"
    r"|boat|vehicle|portable|alternator|anl|ato|atc|class.t|mrbf|solar fuse|pv fuse|gpv|mcb|mccb|cu"
    r"|copper|aluminum|pos|neg|plus|minus|red|black|conduit|buried|dc-dc|b2b",
    re.IGNORECASE,
)


def words(site: Site, dice: random.Random) -> Iterator[tuple[str, str, bool]]:
    value = site.value
    if not isinstance(value, Text) or not is_key(site):
        return
    for word in WORDS.get(site.path[-1], {}).get(str(value), ()):
        if word:
            yield "word by another", word, bool(_SURE_WORDS.fullmatch(word))
    if site.path[-1] in WORDS and str(value) in WORDS[site.path[-1]] and len(value) > 3:
        k = dice.randrange(1, len(value) - 1)
        yield "word misspelt", value[:k] + value[k + 1 :], True
        yield "word with a capital", value.capitalize(), True
        yield "word with underscores", value.replace("-", "_"), True
        yield "word with spaces", value.replace("-", " "), True
        yield "word as a list", f"[{value}]", True
    if value in ("true", "false"):
        same = {
            "true": "yes Yes True TRUE on y ja 1 x ok \u2713",
            "false": "no No False FALSE off n nein 0 none",
        }
        for word in same[value].split():
            yield "flag", word, word.lower() in ("yes", "no", "true", "false", "on", "off")
    if re.fullmatch("[0-9]+", value) and site.path[-1] in (
        "series",
        "parallel",
        "poles",
        "count",
        "cells_in_series",
        "bypass_diodes",
    ):
        for form in (
            "{}x",
            "{}.0",
            "{} pcs",
            "'{}'",
            "x{}",
            "{} panels",
            "{} pieces",
            "{}s",
            "0{}",
        ):
            yield (
                "count",
                form.format(value),
                form in ("{}.0", "'{}'", "{} pcs", "{} pieces", "0{}"),
            )
        yield "count as a list", f"[{value}]", True
        letters = IN_LETTERS.get(str(value))
        yield "count in letters", letters or "thirty-six", letters is not None
    if site.path[-1] == "arrangement":
        a = str(value)
        pairs = re.fullmatch(r"([0-9]+)s([0-9]+)p", a)
        for form in (
            a.upper(),
            a.replace("s", "s "),
            a.replace("s", "S").replace("p", "P"),
            f"'{a}'",
        ):
            yield "arrangement", form, True
        if pairs:
            s, p = pairs[1], pairs[2]
            for form in (
                f"{s}x{p}",
                f"{s} series {p} parallel",
                f"'{s} in series, {p} parallel'",
                f"{s}S/{p}P",
                f"{s}s-{p}p",
                f"{s}s x {p}p",
                "series",
                "parallel",
            ):
                yield "arrangement", form, False


# --- references

TERMINALS: Final = _KNOWN["terminals"]


def references(
    site: Site, dice: random.Random, families: dict[str, str]
) -> Iterator[tuple[str, str, bool]]:
    value = site.value
    if not isinstance(value, Text) or not is_key(site):
        return
    key = site.path[-1]
    if key not in ("from", "to", "across", "feeds", "at") and key not in (
        "cable",
        "module",
        "place",
    ):
        return
    name, *rest = str(value).split(".")
    yield "name with a capital", value.capitalize(), True
    yield "name in capitals", value.upper(), True
    if "-" in value:
        yield "name with underscores", value.replace("-", "_"), True
        yield "name with spaces", value.replace("-", " "), True
        yield "name as one word", value.replace("-", ""), True
    if len(value) > 4:
        k = dice.randrange(1, len(name) - 1) if len(name) > 2 else 1
        yield "name misspelt", ".".join([name[:k] + name[k + 1 :], *rest]), True
        yield "name in the plural", ".".join([name + "s", *rest]), True
    yield "name as a list", f"[{value}]", True
    yield "name as a mapping", f"{{name: {value}}}", True
    if key not in ("from", "to") or name not in families:
        return
    family = families[name]
    for port, others in TERMINALS.get(family, {}).items():
        pole = rest[-1:] if rest and rest[-1] in ("positive", "negative") else []
        own = rest[: len(rest) - len(pole)]
        if own != ([port] if port else []):
            continue
        for other in others:
            yield f"terminal of {family} by another word", ".".join([name, other, *pole]), False
        if port:
            yield f"terminal of {family} left out", ".".join([name, *pole]), False
            for sign in ("-", "_", "/", ":", " ", "->", "(" + port + ")"):
                text = f"{name} ({port})" if len(sign) > 2 else f"{name}{sign}{port}"
                yield "terminal with another sign", f"'{text}'" if ":" in text else text, True
            yield "terminal before its part", f"{port}.{name}", False
            yield "part of a terminal twice", f"{name}.{name}.{port}", True
    signs = {
        "positive": "+ plus pos red p + positive-terminal Positive",
        "negative": "- minus neg black n ground Negative gnd",
    }
    if rest and rest[-1] in signs:
        for sign in signs[rest[-1]].split():
            yield (
                "pole by another word",
                ".".join([name, *rest[:-1], sign]),
                sign not in ("p", "n", "ground", "gnd"),
            )
            yield (
                "pole by another word",
                ".".join([name, *rest[:-1]]) + f" {sign}",
                sign not in ("p", "n", "ground", "gnd"),
            )
            yield (
                "pole by another word",
                ".".join([name, *rest[:-1]]) + f"-{sign}",
                sign not in ("p", "n", "ground", "gnd", "-", "+"),
            )
            yield (
                "pole by another word",
                ".".join([name, *rest[:-1]]) + f"_{sign}",
                sign not in ("p", "n", "ground", "gnd", "-", "+"),
            )
        yield (
            "pole by another word",
            ".".join([name, *rest[:-1]]) + "()+-"[2 + (rest[-1] == "negative")],
            True,
        )
        yield (
            "pole by another word",
            ".".join([name, *rest[:-1]]) + f" ({'+-'[rest[-1] == 'negative']})",
            True,
        )
        if len(rest) == 2:
            yield "pole before the terminal", f"{name}.{rest[1]}.{rest[0]}", True


def inline(site: Site, dice: random.Random) -> Iterator[tuple[str, str, bool]]:
    """The value of `inline`, in the forms that people write."""
    if site.path[-1] != "inline" or not isinstance(site.value, Items) or len(site.value) != 1:
        return
    [each] = site.value
    if isinstance(each, Text):
        name = str(each)
        forms = (
            *("{0}", "[{{{0}: {{}}}}]", "[{{device: {0}}}]", "[{{name: {0}}}]", "{{device: {0}}}"),
            *("{{name: {0}}}", "[[{0}]]", "{{fuse: {0}}}", "[{{switch: {0}}}]", "'{0}, '"),
            *("[{0}, ]", "[{{{0}: true}}]", "[{{{0}: null}}]"),
        )
        for form in forms:
            yield "inline by another form", form.format(name), True
        return
    if not isinstance(each, Block):
        return
    [(name, details)] = each.items()
    if not isinstance(details, Block) or "distance" not in details or "from_end" not in details:
        return
    end, far = details[Text("from_end")], details[Text("distance")]
    forms = (
        "{{{0}: {{from_end: {1}, distance: {2}}}}}",
        "[{{{0}: {{from: {1}, distance: {2}}}}}]",
        "[{{{0}: {{end: {1}, distance: {2}}}}}]",
        "[{{{0}: {{{1}: {2}}}}}]",
        "[{{device: {0}, from_end: {1}, distance: {2}}}]",
        "[{{name: {0}, from_end: {1}, distance: {2}}}]",
        "[{{fuse: {0}, from_end: {1}, distance: {2}}}]",
        "{{name: {0}, from_end: {1}, distance: {2}}}",
        "{{device: {0}, from_end: {1}, distance: {2}}}",
        "[{0}, from_end: {1}, distance: {2}]",
        "[{{{0}: , from_end: {1}, distance: {2}}}]",
        "[{{{0}: [{1}, {2}]}}]",
        "[{{{0}: {2} from {1}}}]",
        "[{{{0}: {1} {2}}}]",
        "[{0} {2}]",
        "[{0} @ {2}]",
        "{0} {2} from {1}",
        "[{{{0}: {2}}}]",
        "[{{{0}: {{distance: {2}}}}}]",
        "[{{{0}: {{at: {1}, distance: {2}}}}}]",
        "[{{{0}: {{from_end: {1}, length: {2}}}}}]",
        "[{{{0}: {{from_end: {1}, position: {2}}}}}]",
        "[{{{0}: {{from_end: {1}, at: {2}}}}}]",
        "[[{0}, {1}, {2}]]",
        "[[{{{0}: {{from_end: {1}, distance: {2}}}}}]]",
        "{{{0}: {2}}}",
    )
    asked = ("{{{0}: {2}}}", "[{0} {2}]", "[{0} @ {2}]", "distance: {2}}}}}]")
    for form in forms:
        yield "inline by another form", form.format(name, end, far), not form.endswith(asked)


MAKERS: Final[tuple[Make, ...]] = (misspelt, spelt, other_word)
VALUES: Final[tuple[Make, ...]] = (quantities, words, inline)


def families_of(block: Block) -> dict[str, str]:
    """The family of each named component."""
    return {
        str(name): str(family)
        for family, held in block.items()
        if isinstance(held, Block) and family not in ("site", "datasheets", "energy")
        for name in held
    }


def slips_of(path: str, text: str, seed: int = 1) -> Iterator[Slip]:
    """All slips of one plan, each alone."""
    block = parse(text, path)
    families = families_of(block)
    for site in sites(block):
        where = ".".join(site.path)
        dice = random.Random(f"{seed}{where}{site.key}")
        for make in MAKERS:
            for kind, new, sure in make(site, dice):
                if new == site.key or new in site.holder:
                    continue
                start, end = span(text, site.key.place)
                form = f"{kind} {where} {new}"
                made_of = text[:start] + new + text[end:]
                yield Slip(kind, f"{where} as {new}", path, made_of, form, sure)
        made = [each for make in VALUES for each in make(site, dice)]
        made += references(site, dice, families)
        counts: dict[str, int] = {}
        for kind, new, sure in made:
            counts[kind] = counts.get(kind, 0) + 1
            if not hasattr(site.value, "place") or new == site.value:
                continue
            start, end = span(text, site.value.place)
            shown = text[start:end] if isinstance(site.value, Text) else "…"
            form = f"{kind} {where} {counts[kind]}"
            made_of = text[:start] + new + text[end:]
            yield Slip(kind, f"{where}: {shown} as {new}", path, made_of, form, sure)
        yield from shapes(site, path, text, families)
        yield from misplaced(site, path, text, block)


def shapes(site: Site, path: str, text: str, families: dict[str, str]) -> Iterator[Slip]:
    """Slips of level and shape, which change more than a key or a value."""
    where = ".".join(site.path)

    def slip(kind: str, start: int, end: int, new: str, sure: bool = True) -> Slip:
        shown = f"{where} ({site.key}) {new[:60]!r}"
        made_of = text[:start] + new + text[end:]
        return Slip(kind, shown, path, made_of, f"{kind} {where}", sure)

    start = span(text, site.key.place)[0]
    end = span(text, site.value.place)[1]
    if len(site.path) == 1 and isinstance(site.value, Block):
        entries = [
            (name, text[slice(*span(text, held.place))])
            for name, held in site.value.items()
            if isinstance(held, Block) and held
        ]
        if len(entries) == len(site.value) and all(e.startswith("{") for _, e in entries):
            listed = "".join(f"\n  - {{name: {n}, {e[1:]}" for n, e in entries)
            yield slip("family as a list with names", start, end, f"{site.key}:{listed}\n", True)
            listed = "".join(f"\n  - {n}: {e}" for n, e in entries)
            yield slip("family as a list of mappings", start, end, f"{site.key}:{listed}\n", True)
    if site.path[-1] == "*" and len(site.path) == 2 and isinstance(site.value, Block):
        for _, word in (
            ("kind", "type"),
            ("name", "name"),
            ("note", "description"),
            ("id", "id"),
            ("brand", "brand"),
        ):
            if site.value and text[span(text, site.value.place)[0]] == "{":
                at = span(text, site.value.place)[0] + 1
                yield slip(f"a key of its own: {word}", at, at, f"{word}: something, ")
    if isinstance(site.value, Text) and is_key(site):
        vs, ve = span(text, site.value.place)
        yield slip("value left empty", vs, ve, "", False)
        yield slip("value as null", vs, ve, "null", False)
        yield slip("value as a question mark", vs, ve, "'?'", False)
        yield slip("value as tbd", vs, ve, "tbd", False)
        yield slip("value as n/a", vs, ve, "n/a", False)
    if site.path[-1] == "*" and len(site.path) == 2 and families.get(str(site.key)):
        if "-" in site.key:
            ks, ke = span(text, site.key.place)
            yield slip("declared name with underscores", ks, ke, str(site.key).replace("-", "_"))
        ks, ke = span(text, site.key.place)
        yield slip("declared name with a capital", ks, ke, str(site.key).capitalize())
        misspelt_name = slip("declared name misspelt", ks, ke, f"{site.key}x")
        yield misspelt_name._replace(renamed=(f"{site.key}x", str(site.key)))


ANOTHER_KIND: Final = _KNOWN["another_kind"]
"""Families of what is no such part, by the key that names a part."""


def names_in(block: Block, family: str) -> list[str]:
    above = {"modules": "datasheets", "cables": "datasheets", "places": "site"}.get(family)
    held = block.get(Text(above)) if above else block
    found = held.get(Text(family)) if isinstance(held, Block) else None
    return [str(name) for name in found] if isinstance(found, Block) else []


def misplaced(site: Site, path: str, text: str, plan: Block) -> Iterator[Slip]:
    """Parts of another kind, keys at another level, ends of wires told in another way."""
    where = ".".join(site.path)

    def slip(kind: str, start: int, end: int, new: str) -> Slip:
        made_of = text[:start] + new + text[end:]
        return Slip(
            kind,
            f"{where} ({site.key}) {new[:60]!r}",
            path,
            made_of,
            f"{kind} {where}",
            False,
        )

    key = site.path[-1]
    if isinstance(site.value, Text) and len(site.path) > 1:
        start, end = span(text, site.value.place)
        for family in ANOTHER_KIND.get(key, ()):
            for name in names_in(plan, family)[:1]:
                yield slip(f"part of another kind: one of {family}", start, end, name)
        if key in ("from", "to"):
            yield slip("end of a wire as a list", start, end, f"[{site.value}, {site.value}]")
            yield slip("end of a wire as two", start, end, f"[{site.value}, chassis]")
            yield slip("end of a wire with and", start, end, f"{site.value} and chassis")
            yield slip("end of a wire of no part", start, end, "somewhere")
            yield slip(
                "end of a wire numbered", start, end, f"{str(site.value).partition('.')[0]}-9"
            )
    if len(site.path) == 3 and site.path[1] == "*" and isinstance(site.value, Text):
        pair = f"{site.key}: {text[slice(*span(text, site.value.place))]}"
        start, end = span(text, site.key.place)[0], span(text, site.value.place)[1]
        for family in (
            "wires",
            "fuses",
            "batteries",
            "loads",
            "strings",
            "controllers",
            "cables",
            "modules",
            "switches",
            "inverters",
        ):
            if family == site.path[0]:
                continue
            above = plan.get(Text("datasheets")) if family in ("cables", "modules") else plan
            held = above.get(Text(family)) if isinstance(above, Block) else None
            if not isinstance(held, Block):
                continue
            for other in held.values():
                if isinstance(other, Block) and site.key not in other:
                    at = span(text, other.place)[0]
                    if text[at] == "{":
                        cut = _without(text, start, end)
                        shift = len(text) - len(cut) if at > start else 0
                        moved = cut[: at + 1 - shift] + pair + ", " + cut[at + 1 - shift :]
                        kind = f"key of another part: in {family}"
                        yield Slip(
                            kind, f"{where} to {family}", path, moved, f"{kind} {where}", False
                        )
                        both = text[: at + 1] + pair + ", " + text[at + 1 :]
                        kind = f"key of another part as well: in {family}"
                        yield Slip(
                            kind, f"{where} to {family}", path, both, f"{kind} {where}", False
                        )
                    break


def _without(text: str, start: int, end: int) -> str:
    """A text without a pair between braces, and its comma."""
    after = re.match(r"\s*,\s*", text[end:])
    if after:
        return text[:start] + text[end + after.end() :]
    before = re.search(r",\s*$", text[:start])
    return text[: before.start() if before else start] + text[end:]
