"""Why a text is no value, where people write more than one value or a guess, and what to write.

What an author writes of a part is often right and only too much: a range, a count before the size,
the name of the thing behind it. The figure that is shown is always the author's own.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

_NUMBER: Final = r"(?:\d+(?:\.\d+)?|\.\d+)"
_GUESS: Final = re.compile(
    r"(?:~|≈|about|approx\.?|approximately|around|roughly|circa|ca\.?|some|maybe|up to|max\.?|<|>)"
    r" ?(.+)"
)
_RANGE: Final = re.compile(
    rf"(-?{_NUMBER})( ??[^\d]*?) ?(?:-|/|\.\.+| to | or | and ) ?(-?{_NUMBER}.*)"
)
_COUNT: Final = re.compile(r"(\d+) ?[xX×] ?(.+)")
_THOUSANDS: Final = re.compile("[0-9]{1,3}([' ’][0-9]{3})+([.][0-9]+)? ?[^0-9].*")
_UNITS: Final = {
    **dict.fromkeys(("centimeter", "centimeters", "centimetre", "centimetres", "cms"), "cm"),
    **dict.fromkeys(("millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("mtr", "mtrs", "mts", "lfm", "mètre", "mètres", "metros"), "m"),
    **dict.fromkeys(("kiloamps", "kiloampere"), "kA"),
    **dict.fromkeys(("kilowatts", "kilowatt"), "kW"),
    **dict.fromkeys(("std", "stunden", "heures", "horas"), "h"),
    **dict.fromkeys(("quadrat", "square", "squared", "mm quadrat", "²", "mm square"), "mm²"),
}
_SPELT_OUT: Final = re.compile(rf"({_NUMBER}) ?({'|'.join(_UNITS)})", re.IGNORECASE)
"""Units written out, or as in other languages."""
_COUNT_BEHIND: Final = re.compile(r"(.+?) ?[(]?[xX×] ?(\d+)[)]?")
_SUM: Final = re.compile(r"(.+?) ?[+] ?(.+)")
_WHOLE: Final = re.compile(r"(\d+)[.]0+( ?[A-Za-z].*)")
_MARKED: Final = re.compile(r"[BCDKZ] ?(\d+)")
"""The curve of a breaker before its current, as it is printed on it."""
_AT: Final = re.compile(r"(.+?) ?(?:@|/|,| ) ?([0-9.]+ ?(?:V(?: ?DC)?|A|Ah|°C|h))")
_TOGETHER: Final = re.compile(r"(.+?) ?[(]?(?:total|in total|bank|together|altogether|all)[)]?")
_CORES: Final = re.compile(r"(\d{1,2})[/-]([2-9])(?: ?(?:AWG|ga\.?|gauge))?(?: .*)?", re.IGNORECASE)
_QUOTES: Final = " \u201c\u201d\u201e\u2018\u2019\u201a\u00ab\u00bb`"
"""Quotes that word processors and telephones put in the place of straight ones."""
_APPARENT: Final = re.compile(rf"({_NUMBER}) ?k?VA", re.IGNORECASE)
_BARE_DEGREES: Final = re.compile(rf"(-?(?:{_NUMBER})) ?(?:°|deg\.?|degrees?)")


def explain(
    text: str, written: str, dimension: str, readable: Callable[[str], bool]
) -> tuple[str, str] | None:
    """What is wrong with a text, and what to write instead; None where nothing is recognised.

    text, written: as in the plan, and with its spaces and signs in one kind.
    dimension: the name of what is expected.
    readable: whether a text would be read as such a value.
    """
    unquoted = text.strip(_QUOTES)
    if unquoted != text.strip() and readable(unquoted):
        return f"`{text}` is in quotes that YAML does not know", f"write `{unquoted}`"
    if dimension == "conductor size" and (cores := _CORES.fullmatch(written)):
        return (
            f"`{text}` is a gauge and how many conductors the cable has",
            f"write `{cores[1]} AWG`; a wire of a plan is a pair already",
        )
    if (count := _COUNT.fullmatch(written)) and readable(count[2]):
        return f"`{text}` is a count and a value", _one_of_them(count[2], dimension)
    if (count := _COUNT_BEHIND.fullmatch(written)) and readable(count[1]):
        return f"`{text}` is a value and a count", _one_of_them(count[1], dimension)
    if (parts := _SUM.fullmatch(written)) and readable(parts[1]) and readable(parts[2]):
        return (
            f"`{text}` is a sum",
            "write what one part has, and each part by itself; what is alike in one part is told "
            "by `series`, `parallel` or `arrangement`",
        )
    if (whole := _WHOLE.fullmatch(written)) and readable(whole[1] + whole[2]):
        return f"`{text}` is a size that has no decimals", f"write `{whole[1]}{whole[2]}`"
    if _THOUSANDS.fullmatch(written) and readable(
        joined := re.sub("(?<=[0-9])[' ’](?=[0-9]{3})", "", written)
    ):
        return f"`{text}` has marks of thousands", f"write `{joined}`"
    if (spelt := _SPELT_OUT.fullmatch(written)) and readable(
        known := f"{spelt[1]} {_UNITS[spelt[2].lower()]}"
    ):
        return f"`{spelt[2]}` is not spelt as a unit", f"write `{known}`"
    plain = re.sub("^(= ?|DC ?)|( ?=|[.])$", "", written)
    if plain != written and readable(plain):
        return f"`{text}` holds a sign that belongs to no value", f"write `{plain}`"
    if (marked := _MARKED.fullmatch(written)) and dimension == "current":
        return (
            f"`{text}` is a curve and a current",
            f"write `{marked[1]} A`; how fast it trips is not told",
        )
    if (at := _AT.fullmatch(written)) and readable(at[1]) and not readable(at[2]):
        return (
            f"`{text}` says more than a value",
            f"write `{at[1]}`; what else is printed there stands under keys of its own",
        )
    if (guess := _GUESS.fullmatch(written)) and readable(guess[1]):
        return (
            f"`{text}` is no certain value",
            f"write `{guess[1]}` if it is measured or printed so, or `unknown`",
        )
    if (minus := re.fullmatch("minus ?(.+)", written)) and readable(f"-{minus[1]}"):
        return f"`{text}` writes a sign in letters", f"write `-{minus[1]}`"
    if two := _two_values(written, readable):
        return (
            f"`{text}` is two values",
            f"write the one that holds here, `{two[0]}` or `{two[1]}`, or `unknown`",
        )
    if dimension == "charge" and re.fullmatch(rf"{_NUMBER} ?[kK]?[wW][hH]", written):
        return (
            f"`{text}` is an energy, and a capacity is a charge",
            "write its ampere-hours from the label: watt-hours over the battery's nominal volts",
        )
    if dimension == "length" and (told := _lengths_both_ways(text, written)):
        return told
    if dimension == "charge" and (all_ := _TOGETHER.fullmatch(written)) and readable(all_[1]):
        return (
            f"`{text}` does not say whether it is of one battery",
            f"write `{all_[1]}` here if it is of each, or `bank_capacity: {all_[1]}` in the place "
            "of `capacity` if it is of all together",
        )
    if dimension == "power" and (apparent := _APPARENT.fullmatch(written)):
        return (
            f"`{text}` is apparent power; what is drawn hangs on the watts",
            "look for the continuous power on its label, and write it as `… W`; where there is "
            f"none, `{apparent[1]} {'kW' if 'k' in written.lower() else 'W'}` is on the safe side",
        )
    if dimension.startswith("temperature") and (bare := _BARE_DEGREES.fullmatch(written)):
        return f"`{text}` is of no scale", f"write `{bare[1]} °C` or `{bare[1]} °F`"
    if dimension == "relative coefficient" and re.fullmatch(rf"-?({_NUMBER}) ?%", written):
        return (
            f"`{text}` does not say for how many degrees",
            f"write `{written}/°C` if it is for one",
        )
    return _more_words(text, written, readable)


def _lengths_both_ways(text: str, written: str) -> tuple[str, str] | None:
    """Where a length is told there and back, and a wire of a plan is one way."""
    found = _BOTH_WAYS.fullmatch(written)
    if found is None:
        return None
    half = f"{float(found[1]) / 2:g} {found[2]}"
    if "total" in written:
        instead = f"write `{half}` if that is there and back, `{found[1]} {found[2]}` if one way"
    else:
        instead = f"write `{half}`, its length one way"
    return f"`{text}` is not the length of a wire one way", instead


_BOTH_WAYS: Final = re.compile(
    rf"({_NUMBER}) ?(m|ft|cm|in) ?[(]?(?:round[ -]?trip|return|both ways|there and back|total)[)]?"
)


def _one_of_them(each: str, dimension: str) -> str:
    """What to write of a value with a count before it."""
    if dimension == "conductor size":
        return (
            f"write `{each}`; a cable of two cores is one wire of a plan, and `parallel: 2` of the "
            "wire says that two such cables lie side by side"
        )
    if dimension == "charge":
        return (
            f"write `{each}`, and `arrangement: 2p` or `2s` for how many there are and how joined"
        )
    return f"write `{each}`: a label holds the value of one; how many there are is told elsewhere"


def _two_values(written: str, readable: Callable[[str], bool]) -> tuple[str, str] | None:
    """The two values of a range or a choice ("12-14 V", "10 to 16 mm²", "12/24 V")."""
    both = re.fullmatch(r"(.+?) ?[(](.+)[)]", written)
    if both and readable(both[1]) and readable(both[2]):
        return both[1], both[2]
    match = _RANGE.fullmatch(written)
    if not match or not readable(match[3]) or re.match(r"1/[2-9]\b", written):
        return None
    unit = match[2].strip() or re.sub(rf"^-?({_NUMBER})", "", match[3]).strip()
    first = f"{match[1]} {unit}"
    return (first, match[3]) if readable(first) else None


def _more_words(text: str, written: str, readable: Callable[[str], bool]) -> tuple[str, str] | None:
    """Where words without a figure stand behind a value ("30 A fuse", "4/0 welding cable")."""
    words = written.split(" ")
    for count in range(len(words) - 1, 0, -1):
        value, rest = " ".join(words[:count]), " ".join(words[count:])
        if readable(value) and not re.search(r"\d", rest):
            return (
                f"`{text}` says more than a value",
                f"write `{value}`; what else there is to say of it stands under keys of its own, "
                "or behind a `#`",
            )
    return None
