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
    r"(?:~|≈|about|approx\.?|approximately|around|roughly|circa|ca\.?|some|maybe|up to|max\.?"
    r"|[<>]=?|≤|≥|less than|more than|at least|at most|under|over|min\.?|nearly|almost|est\.?"
    r"|estimated|probably|likely) ?(.+)"
)
_GUESS_BEHIND: Final = re.compile(
    r"(.+?) ?[(]?(?:\?+|approx\.?|approximately|or so|ish|est\.?|estimated|a guess|guess|roughly"
    r"|give or take|i think|maybe|probably)[)]?"
)
_RANGE: Final = re.compile(
    rf"(-?{_NUMBER})( ??[^\d]*?) ?(?:-|/|\.\.+| to | or | and ) ?(-?{_NUMBER}.*)"
)
_COUNT: Final = re.compile(r"(\d+) ?[xX×*] ?(.+)")
_THOUSANDS: Final = re.compile("[0-9]{1,3}([' ’][0-9]{3})+([.][0-9]+)? ?[^0-9].*")
_UNITS: Final = {
    **dict.fromkeys(("centimeter", "centimeters", "centimetre", "centimetres", "cms"), "cm"),
    **dict.fromkeys(("millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("mtr", "mtrs", "mts", "lfm", "mètre", "mètres", "metros"), "m"),
    **dict.fromkeys(("kiloamps", "kiloampere"), "kA"),
    **dict.fromkeys(("kilowatts", "kilowatt"), "kW"),
    **dict.fromkeys(("std", "stunden", "heures", "horas"), "h"),
    **dict.fromkeys(("quadrat", "square", "squared", "mm quadrat", "²", "mm square"), "mm²"),
    **dict.fromkeys(("square mm", "sq millimeters", "square millimeters", "mm carré"), "mm²"),
    **dict.fromkeys(("square millimetres", "square millimetre", "mmsq", "mm cuadrados"), "mm²"),
    **dict.fromkeys(("g", "b&s", "b & s", "b and s", "b+s", "bs", "jauge"), "AWG"),
    **dict.fromkeys(("amp hour", "amphour", "amphours", "ampere hours", "ampere-hours"), "Ah"),
    **dict.fromkeys(("ampère", "ampères", "amperios"), "A"),
    **dict.fromkeys(("oc", "° celsius", "grad", "grad c", "degrés", "degré"), "°C"),
    **dict.fromkeys(("of", "° fahrenheit"), "°F"),
    **dict.fromkeys(("% per degree", "% per deg", "percent per degree"), "%/°C"),
}
_SPELT_OUT: Final = re.compile(
    rf"(-?{_NUMBER}) ?({'|'.join(map(re.escape, _UNITS))})", re.IGNORECASE
)
"""Units written out, or as in other languages."""
_COUNT_BEHIND: Final = re.compile(r"(.+?) ?[(]?[xX×] ?(\d+)[)]?")
_SUM: Final = re.compile(r"(.+?) ?[+] ?(.+)")
_WHOLE: Final = re.compile(r"(\d+)[.]0+( ?[A-Za-z].*)")
_MARKED: Final = re.compile(r"[BCDKZ] ?(\d+)")
"""The curve of a breaker before its current, as it is printed on it."""
_AT: Final = re.compile(
    r"(.+?) ?(?:@|/|,| at | ) ?[(]?([0-9.]+ ?-?(?:V(?: ?DC)?|A|Ah|°C|h|hrs?|hours?))(?: rate)?[)]?"
)
_OF_A_LABEL: Final = re.compile(r"(.*[VAW])[ _-]?(?:oc|sc|mpp?|pm|pp|nom|max|cont|stc)\.?")
"""A unit with what the figure is of, as in 24.3Voc."""
_PART: Final = {"½": ".5", "¼": ".25", "¾": ".75"}
_FRACTION: Final = re.compile("([0-9]*)([½¼¾])(.*)")
_METRES: Final = re.compile("([0-9]+) ?m ?([0-9]{2})")
_RATE: Final = re.compile(rf"({_NUMBER}) ?C")
_PER_DEGREE: Final = re.compile(rf"(-?{_NUMBER}) ?/ ?(?:°? ?C|K)")
_HORSE: Final = re.compile(rf"(?:{_NUMBER}|[0-9]+/[0-9]+) ?(?:hp|ps|cv|horsepower)", re.IGNORECASE)
_BY_CURRENT: Final = re.compile(rf"{_NUMBER} ?[aA](?:mps?)?(?: .*)?")
_OF_CORES: Final = re.compile(r"(?:twin|two|three|[2-5])[- ]?(?:core|cores|conductor)?s? (.+)")
_USABLE: Final = re.compile("(?:usable )?([0-9.]+ ?[Aa][Hh])(?: [(]?usable[)]?)?")
_A_DAY: Final = re.compile(r"(.+?) ?(?:/ ?d(?:ay)?|a day|per day|daily|each day)")
_TOGETHER: Final = re.compile(r"(.+?) ?[(]?(?:total|in total|bank|together|altogether|all)[)]?")
_CORES: Final = re.compile(r"(\d{1,2})[/-]([2-9])(?: ?(?:AWG|ga\.?|gauge))?(?: .*)?", re.IGNORECASE)
_QUOTES: Final = " \u201c\u201d\u201e\u2018\u2019\u201a\u00ab\u00bb`"
"""Quotes that word processors and telephones put in the place of straight ones."""
_APPARENT: Final = re.compile(rf"({_NUMBER}) ?k?VA", re.IGNORECASE)
_BARE_DEGREES: Final = re.compile(rf"(minus ?)?(-?(?:{_NUMBER})) ?(?:°|deg\.?|degrees?)?")


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
        if dimension == "length":
            return f"`{text}` is a sum", "add it up, and write the whole length, one way"
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
    plain = re.sub("^(= ?|DC ?)|( ?=|[.,;])$", "", written)
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
        number = f"{'-' * bool(bare[1])}{bare[2]}".replace("--", "-")
        return f"`{text}` is of no scale", f"write `{number} °C` or `{number} °F`"
    if dimension == "relative coefficient" and re.fullmatch(rf"-?({_NUMBER}) ?%", written):
        return (
            f"`{text}` does not say for how many degrees",
            f"write `{written}/°C` if it is for one",
        )
    return (
        _printed(text, written, readable)
        or _of_its_dimension(text, written, dimension, readable)
        or _more_words(text, written, readable)
    )


def _printed(text: str, written: str, readable: Callable[[str], bool]) -> tuple[str, str] | None:
    """Where a value is written as it is said, or as a label prints what it is of."""
    if (guess := _GUESS_BEHIND.fullmatch(written)) and readable(guess[1]):
        return (
            f"`{text}` is no certain value",
            f"write `{guess[1]}` if it is measured or printed so, or `unknown`",
        )
    if (label := _OF_A_LABEL.fullmatch(written)) and readable(label[1]):
        return f"`{text}` says more than a value", f"write `{label[1]}`"
    if (part := _FRACTION.fullmatch(written)) and readable(
        decimal := f"{part[1] or 0}{_PART[part[2]]}{part[3]}"
    ):
        return f"`{text}` holds a fraction", f"write `{decimal}`"
    if (daily := _A_DAY.fullmatch(written)) and readable(daily[1]):
        return f"`{text}` says more than a value", f"write `{daily[1]}`"
    return None


def _of_its_dimension(
    text: str, written: str, dimension: str, readable: Callable[[str], bool]
) -> tuple[str, str] | None:
    """What people write of one kind of value alone."""
    if dimension == "length" and (metres := _METRES.fullmatch(written)):
        return f"`{text}` is not spelt as a length", f"write `{metres[1]}.{metres[2]} m`"
    if dimension == "current" and (rate := _RATE.fullmatch(written)):
        return (
            f"`{text}` is a rate by the capacity",
            f"write {rate[1]} times its ampere-hours, as `… A`",
        )
    if dimension == "relative coefficient" and (each := _PER_DEGREE.fullmatch(written)):
        share = f"{float(each[1]) * 100:.4g} %/°C"
        return f"`{text}` is a part of the whole for each degree", f"write `{share}`"
    if dimension == "power" and _HORSE.fullmatch(written):
        return (
            f"`{text}` is what a motor gives, and a plan tells what it draws",
            "look for the amperes or watts on its label, and write `current` or `power`",
        )
    if dimension == "charge" and (used := _USABLE.fullmatch(written)) and readable(used[1]):
        return (
            f"`{text}` is a part of its capacity",
            "write the whole that its label says; how deep it may be discharged is "
            "`depth_of_discharge`",
        )
    if dimension in ("power", "current", "voltage") and (
        (all_ := _TOGETHER.fullmatch(written)) and readable(all_[1])
    ):
        return (
            f"`{text}` does not say of how many it is",
            "write what the label of one says; how many there are is told elsewhere",
        )
    if dimension != "conductor size":
        return None
    if (cores := _OF_CORES.fullmatch(written)) and readable(cores[1]):
        return (
            f"`{text}` is a count of conductors and their size",
            f"write `{cores[1]}`; a wire of a plan is a pair already",
        )
    if _BY_CURRENT.fullmatch(written):
        return (
            f"`{text}` is what it is sold as, and tells no size",
            "look for the area or gauge of its copper in its print, `… mm²` or `… AWG`; or "
            "`unknown`",
        )
    if re.fullmatch(rf"{_NUMBER} ?swg", written.lower()):
        return (
            f"`{text}` is of the British gauge, which counts otherwise",
            "write the area of its copper, `… mm²`",
        )
    return None


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
    """Where words without a figure stand beside a value ("30 A fuse", "Voc 24.3 V")."""
    words = written.split(" ")
    cuts = range(len(words) - 1, 0, -1)
    parts = [*((words[:n], words[n:]) for n in cuts), *((words[-n:], words[:-n]) for n in cuts)]
    for own, beside in parts:
        value, rest = " ".join(own), " ".join(beside)
        if readable(value) and not re.search(r"\d", rest):
            return (
                f"`{text}` says more than a value",
                f"write `{value}`; what else there is to say of it stands under keys of its own, "
                "or behind a `#`",
            )
    return None
