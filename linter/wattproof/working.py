"""Numbers that remember how they were worked out.

A Value behaves like a number in + - * / and comparisons, and keeps the expression it came from,
down to the place in the plan, the table row or the assumption of each input. Formula and number
cannot disagree, because the arithmetic is the working. The steps are written out only when asked
for. Physics functions stay plain: they use arithmetic alone, and so take Values as well as floats.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final, Literal, NamedTuple, Self, TypeAlias

from wattproof.kept import note_figure
from wattproof.quantities import UNKNOWN, Quantity, plainly, si_unit
from wattproof.source import Place, Text

Likelihood: TypeAlias = Literal["often", "sometimes", "rarely"]


NOT_CHOSEN: Final = "not chosen yet"


class LookUp(NamedTuple):
    """How something that a plan does not tell is asked for.

    asks: what to look up, with {names} for what it is about. where: where such a thing is printed
    or seen. harsh: how likely its harsh figure is. presence: True where it is asked whether
    something is there at all, which comes before what is printed on what is there.
    """

    asks: str
    where: str
    harsh: Likelihood = "sometimes"
    presence: bool = False


class Assumption(NamedTuple):
    """Something that the plan leaves out, and what is taken in its place.

    key: what is assumed, in a word or two, the same for all plans.
    subject: the component, or the site.
    says: the assumption in a sentence, with its value.
    instead: the key to write in the plan.
    place: where the plan would say it.
    look_up: how to ask for it; None for what cannot be looked up.
    open: True for what is the builder's to choose, and is not chosen yet.
    guess: True where the figure says little of the thing itself, such as the length of a wire that
    nobody told: nothing is found by it alone.
    """

    key: str
    subject: str
    says: str
    instead: str
    place: Place
    look_up: LookUp | None = None
    open: bool = False
    guess: bool = False

    @property
    def order(self) -> tuple[object, ...]:
        """By which assumptions are sorted, to the end: no two that differ are equal in it."""
        return self.place, self.key, self.subject, self.says, self.instead


class Declared(NamedTuple):
    """Origin of a number: the plan, as written there, its unit as this program spells it."""

    text: str
    place: Place


class Tabled(NamedTuple):
    """Origin of a number: a published table, standard or physical constant."""

    source: str


class Supposed(Quantity):
    """A quantity that the plan does not tell, with the usual figure in its place.

    It is shown as `unknown`, or as not chosen yet; a number made of it carries the assumption.
    ends: the smallest and the largest value that are plausible. now: its value, which a reading of
    the plan may set to another for a while; who asks for it is noted.
    """

    assumption: Assumption
    ends: tuple[float, float]
    now: float

    @property
    def value(self) -> float:
        """In the SI unit of its dimension."""
        note_figure(self.assumption[:2])
        return self.now

    @classmethod
    def of(
        cls,
        value: float,
        dimension: str,
        place: Place,
        assumption: Assumption,
        ends: tuple[float, float] | None = None,
    ) -> Self:
        """value: in the SI unit of its dimension. place: where the plan would tell it."""
        text = NOT_CHOSEN if assumption.open else UNKNOWN
        made = cls(value, dimension, text, place, 0.0)
        made.assumption = assumption
        made.ends = ends if ends is not None else (value, value)
        made.now = value
        return made

    def at(self, value: float) -> Self:
        """The same with another value."""
        return self.of(value, self.dimension, self.place, self.assumption, self.ends)


class SupposedWord(Text):
    """A word that the plan does not tell, with the usual one in its place.

    It is shown as `unknown`. usual: the word that is taken. ends: others that are plausible, one at
    each end of what can be asked.
    """

    __slots__ = ("assumption", "ends", "usual")
    assumption: Assumption
    usual: str
    ends: tuple[str, str]

    @classmethod
    def of(cls, usual: str, place: Place, assumption: Assumption, ends: tuple[str, str]) -> Self:
        """place: where the plan would tell it."""
        made = cls.at(usual, place)
        made.assumption, made.usual, made.ends = assumption, usual, ends
        return made

    def as_if(self, word: str) -> Self:
        """The same with another word in its place."""
        other = type(self).of(word, self.place, self.assumption, self.ends)
        other.usual = self.usual
        return other


def told_word(word: str) -> str:
    """A word of the plan as it is shown: `unknown` where it is supposed."""
    return UNKNOWN if isinstance(word, SupposedWord) else str(word)


Origin: TypeAlias = Declared | Tabled | Assumption
_NONE: frozenset[Assumption] = frozenset()
_noting: list[set[Assumption]] = []


class _Noting(set[Assumption]):
    """Collects while entered. Every rule enters one, and a decorated generator takes longer."""

    def __enter__(self) -> Self:
        _noting.append(self)
        return self

    def __exit__(self, *raised: object) -> None:
        _noting.pop()


def noting_assumptions() -> _Noting:
    """Collects, entered, the assumptions behind every comparison of Values made meanwhile."""
    return _Noting()


def note_read(assumption: Assumption) -> None:
    """Note an assumption that a verdict rests on without a number of its own."""
    for noted in _noting:
        noted.add(assumption)


class Value:
    """A number with its unit, its symbol, and where it comes from.

    number: in SI (temperatures in °C, shares as plain numbers).
    unit: "" for factors and for expressions that have no name yet.
    symbol, words: as a formula and a reader know it; empty for expressions that have no name yet.
    """

    __slots__ = ("assumptions", "expression", "number", "origin", "symbol", "unit", "words")

    def __init__(
        self,
        number: float,
        unit: str = "",
        symbol: str = "",
        words: str = "",
        origin: Origin | None = None,
        expression: _Expression | None = None,
        assumptions: frozenset[Assumption] | None = None,
    ) -> None:
        """assumptions: those of its expression, where they are gathered already."""
        self.number = number
        self.unit = unit
        self.symbol = symbol
        self.words = words
        self.origin = origin
        self.expression = expression
        if assumptions is not None:
            self.assumptions = assumptions
        elif expression is not None:
            self.assumptions = _gathered(expression.operands)
        else:
            self.assumptions = frozenset((origin,)) if isinstance(origin, Assumption) else _NONE

    def named(self, symbol: str, words: str, unit: str) -> Value:
        """The same number as a step of its own, with a name."""
        expression = self.expression or _Expression("", (self,))
        return Value(self.number, unit, symbol, words, None, expression, self.assumptions)

    def __add__(self, other: Value | float) -> Value:
        return _operation(self.number + _number(other), "+", self, other)

    def __radd__(self, other: float) -> Value:
        return _operation(other + self.number, "+", other, self)

    def __sub__(self, other: Value | float) -> Value:
        return _operation(self.number - _number(other), "−", self, other)

    def __rsub__(self, other: float) -> Value:
        return _operation(other - self.number, "−", other, self)

    def __mul__(self, other: Value | float) -> Value:
        return _operation(self.number * _number(other), "×", self, other)

    def __rmul__(self, other: float) -> Value:
        return _operation(other * self.number, "×", other, self)

    def __truediv__(self, other: Value | float) -> Value:
        return _operation(_quotient(self.number, _number(other)), "/", self, other)

    def __rtruediv__(self, other: float) -> Value:
        return _operation(_quotient(other, self.number), "/", other, self)

    def __lt__(self, other: Value | float) -> bool:
        return self._compared(other) and self.number < _number(other)

    def __le__(self, other: Value | float) -> bool:
        return self._compared(other) and self.number <= _number(other)

    def __gt__(self, other: Value | float) -> bool:
        return self._compared(other) and self.number > _number(other)

    def __ge__(self, other: Value | float) -> bool:
        return self._compared(other) and self.number >= _number(other)

    def _compared(self, other: Value | float) -> bool:
        """Note what a comparison rests on; True, so that it can stand before the comparison."""
        for noted in _noting:
            noted |= self.assumptions
            if isinstance(other, Value):
                noted |= other.assumptions
        return True

    def __float__(self) -> float:
        return self.number

    def __str__(self) -> str:
        """The number for a reader: as written where it was declared, else rounded."""
        if isinstance(self.origin, Declared):
            return signed(self.origin.text)
        return shown(self.number, self.unit)

    def __repr__(self) -> str:
        return f"Value({self.number!r}, {self.unit!r}, {self.symbol!r})"


class _Expression(NamedTuple):
    """An operator between operands, or the name of a function of them."""

    operator: str
    operands: tuple[Value, ...]


class Input(NamedTuple):
    """An input of a step, with where it comes from."""

    symbol: str
    words: str
    text: str
    origin: Origin


class Step(NamedTuple):
    """One line of a working: symbol = formula = numbers = result, and the inputs it reads."""

    symbol: str
    words: str
    formula: str
    substituted: str
    number: float
    unit: str
    inputs: tuple[Input, ...]


def declared(quantity: Quantity, symbol: str, words: str) -> Value:
    """A number that the plan declares, or that is taken where it does not."""
    if isinstance(quantity, Supposed):
        unit = si_unit(quantity.dimension)
        return assumed(quantity.value, unit, symbol, words, quantity.assumption)
    origin = Declared(plainly(quantity), quantity.place)
    return Value(quantity.value, si_unit(quantity.dimension), symbol, words, origin)


def counted(number: int, text: str, place: Place, symbol: str, words: str) -> Value:
    """A whole number that the plan declares, shows by listing, or by a short form such as 2s2p."""
    told = text if text == str(number) else f"{number} (from {text})"
    return Value(float(number), "", symbol, words, Declared(told, place))


def tabled(number: float, unit: str, symbol: str, words: str, source: str) -> Value:
    """A number from a table, a standard or physics."""
    return Value(number, unit, symbol, words, Tabled(source))


def assumed(number: float, unit: str, symbol: str, words: str, assumption: Assumption) -> Value:
    """A number that the plan leaves out."""
    return Value(number, unit, symbol, words, assumption)


def largest(values: list[Value]) -> Value:
    """The largest of some values; a single one stays itself."""
    return _chosen("largest of", max(v.number for v in values), values)


def smallest(values: list[Value]) -> Value:
    """The smallest of some values; a single one stays itself."""
    return _chosen("smallest of", min(v.number for v in values), values)


def total(values: list[Value]) -> Value:
    """The sum of some values; a single one stays itself, alike ones are multiplied."""
    first = values[0]
    if len(values) == 1:
        return first
    if all(v is first for v in values):
        return len(values) * first
    whole = sum(v.number for v in values)
    return Value(whole, _unit_of(values), expression=_Expression("+", tuple(values)))


def function(name: str, number: float, *inputs: Value) -> Value:
    """The result of a function that is more than arithmetic, with what it was given."""
    return Value(number, expression=_Expression(name, inputs))


def steps(value: Value) -> list[Step]:
    """Every named step that leads to a value, inputs before what reads them, each once."""
    found: dict[int, Step] = {}
    _collect(value, found)
    return list(found.values())


def declared_places(values: Iterable[Value]) -> set[Place]:
    """Where the plan declares what some values were worked out from."""
    places: set[Place] = set()
    seen: set[int] = set()
    waiting = list(values)
    while waiting:
        value = waiting.pop()
        if id(value) in seen:
            continue
        seen.add(id(value))
        if isinstance(value.origin, Declared):
            places.add(value.origin.place)
        if value.expression is not None:
            waiting.extend(value.expression.operands)
    return places


def once(values: Iterable[Value]) -> list[Value]:
    """Values without those that read alike and stand at one place."""
    different = {id(v): v for v in values}  # most are the same ones
    return list({(v.symbol, str(v), v.origin): v for v in different.values()}.values())


def _chosen(name: str, number: float, values: list[Value]) -> Value:
    if len({id(v) for v in values}) == 1:
        return values[0]
    return Value(number, _unit_of(values), expression=_Expression(name, tuple(values)))


def _unit_of(values: list[Value]) -> str:
    """The unit that all have; empty where they have not one."""
    units = {v.unit for v in values}
    return units.pop() if len(units) == 1 else ""


def _operation(number: float, operator: str, one: Value | float, other: Value | float) -> Value:
    first = one if isinstance(one, Value) else Value(float(one))
    second = other if isinstance(other, Value) else Value(float(other))
    return Value(number, expression=_Expression(operator, (first, second)))


def _number(value: Value | float) -> float:
    return value.number if isinstance(value, Value) else value


def _quotient(a: float, b: float) -> float:
    return a / b if b else math.copysign(math.inf, a)


def _gathered(operands: tuple[Value, ...]) -> frozenset[Assumption]:
    gathered = _NONE
    for operand in operands:
        if operand.assumptions and operand.assumptions is not gathered:
            gathered = gathered | operand.assumptions if gathered else operand.assumptions
    return gathered


def _collect(value: Value, found: dict[int, Step]) -> None:
    if id(value) in found or value.expression is None:
        return
    for operand in value.expression.operands:
        _collect(operand, found)
    if value.symbol:
        found[id(value)] = _step(value)


def _step(value: Value) -> Step:
    assert value.expression is not None
    inputs = {i.symbol + i.text: i for i in _inputs(value.expression)}
    return Step(
        value.symbol,
        value.words,
        _formula(value.expression),
        _formula(value.expression, numbers=True),
        value.number,
        value.unit,
        tuple(inputs.values()),
    )


def _inputs(expression: _Expression) -> Iterator[Input]:
    for operand in expression.operands:
        if operand.origin is not None:
            yield Input(operand.symbol, operand.words, _exactly(operand), operand.origin)
        elif not operand.symbol and operand.expression is not None:
            yield from _inputs(operand.expression)


_WHOLE = 1e-9

_BINDING = {"+": 1, "−": 1, "×": 2, "/": 2}


def _formula(expression: _Expression, *, numbers: bool = False) -> str:
    operator = expression.operator
    parts = [_operand(v, operator, i, numbers) for i, v in enumerate(expression.operands)]
    if operator == "":
        return parts[0]
    if operator in _BINDING:
        return f" {operator} ".join(parts)
    return f"{operator} ({'; '.join(parts)})"


def _exactly(value: Value) -> str:
    """A number of a working: as written where it was declared."""
    if isinstance(value.origin, Declared):
        return signed(value.origin.text)
    return shown(value.number, value.unit, EXACT)


def _operand(value: Value, around: str, index: int, numbers: bool) -> str:
    if value.symbol and not numbers:
        return value.symbol
    if value.symbol or value.expression is None:
        plain = not value.symbol and not value.unit
        text = f"{value.number:g}".replace("-", "−") if plain else _exactly(value)
        negative = text.startswith(("-", "−"))
        return f"({text})" if negative and around in _BINDING else text
    inner = value.expression
    text = _formula(inner, numbers=numbers)
    weaker = _BINDING.get(inner.operator, 3) < _BINDING.get(around, 0)
    same_right = (
        index > 0
        and around in ("−", "/")
        and _BINDING.get(inner.operator, 3) == _BINDING.get(around, 0)
    )
    return f"({text})" if weaker or same_right else text


_PREFIXED = {
    "Ω": ((1.0, "Ω", 1.0), (1e-3, "mΩ", 1e3), (1e-6, "µΩ", 1e6)),
    "Ω/m": ((1.0, "Ω/m", 1.0), (0.0, "mΩ/m", 1e3)),
    "A": ((1e4, "kA", 1e-3), (0.0, "A", 1.0)),
    "W": ((1e4, "kW", 1e-3), (0.0, "W", 1.0)),
    "m²": ((0.0, "mm²", 1e6),),
    "C": ((0.0, "Ah", 1 / 3600),),
    "J": ((3.6e7, "kWh", 1 / 3.6e6), (0.0, "Wh", 1 / 3600)),
    "s": ((36.0, "h", 1 / 3600), (1e-9, "s", 1.0), (0.0, "h", 1 / 3600)),
    "1/K": ((0.0, "%/K", 100.0),),
    "1/s": ((0.0, "%/h", 100.0 * 3600.0),),
    "%": ((0.0, "%", 100.0),),
}


MOST_DECIMALS: Final = 9
EXACT: Final = 4
"""Digits of the steps of a working, so that they can be reckoned after."""


def shown(number: float, unit: str, figures: int = 3) -> str:
    """A number for a reader: three digits, a handy prefix, a true minus sign."""
    if math.isinf(number):
        return "no limit"
    if unit in _PREFIXED:
        scale = next((s for s in _PREFIXED[unit] if abs(number) >= s[0]), _PREFIXED[unit][-1])
        number, unit = number * scale[2], scale[1]
    text = digits(number, figures)
    return f"{text} {unit}" if unit else text


def told_apart(message: str, values: Sequence[Value]) -> str:
    """A message whose two numbers, which were compared, read alike: with digits to tell them apart.

    values: the two compared come first. What the plan tells stays as it is written.
    """
    if len(values) < 2:
        return message
    one, other = values[:2]
    alike = shown(one.number, one.unit) == shown(other.number, other.unit)
    if not alike or one.unit != other.unit or one.number == other.number:
        return message
    figures = next((n for n in (4, 5, 6) if _in(one, n) != _in(other, n)), None)
    head, found, rest = message.partition(str(one))
    if figures is None or not found or str(other) not in rest:
        return message
    return f"{head}{_in(one, figures)}{rest.replace(str(other), _in(other, figures), 1)}"


def _in(value: Value, figures: int) -> str:
    if isinstance(value.origin, Declared):
        return str(value)
    return shown(value.number, value.unit, figures)


def signed(text: str) -> str:
    """A number as somebody wrote it, with a true minus sign."""
    return f"−{text[1:]}" if text.startswith("-") else text


def digits(number: float, figures: int = 3) -> str:
    """A number in so many significant digits, never in powers of ten, true minus sign.

    What is whole stays as it is: 1275 W are no 1280 W.
    """
    if number == 0:
        return "0"
    place = figures - 1 - math.floor(math.log10(abs(number)))
    if place < 0 and abs(number - round(number)) > _WHOLE * abs(number):
        number = round(number, place)
    decimals = max(0, place)
    text = f"{number:.{min(decimals, MOST_DECIMALS)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−")
