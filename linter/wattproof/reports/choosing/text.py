"""What `choose` writes into a plan: each choice with its reason, its numbers, and what is left."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.amend.difference import unified
from wattproof.choosing.choice import Choice, Chosen
from wattproof.finding import Addition
from wattproof.reports.findings.glance import headline, remedy_of
from wattproof.reports.findings.head import about, head_lines, verdict_lines
from wattproof.reports.findings.verdict import live
from wattproof.reports.findings.workings import short_lines, whole_lines
from wattproof.reports.writing.columns import LABEL, hanging, labelled
from wattproof.reports.writing.paint import Paint, plain
from wattproof.reports.writing.wording import STANDING, numbered
from wattproof.words import enumerated

PROPOSAL: Final = (
    "A choice is a proposal, computed from what the plan tells of labels and lengths. Buy parts "
    "that have these ratings, measure what the plan does not tell, and check again before anything "
    "is connected."
)
NEXT: Final = (
    "Measure the lengths and look up the labels that are asked for, write them in, and check the "
    "plan again before buying; `wattproof expect` prints what a meter should show once it is built."
)
_INDENT: Final = 4
_WORDS: Final = {
    "size": "conductor size",
    "rating": "rating",
    "style": "style",
    "max_input_voltage": "highest input voltage",
    "max_output_current": "output current",
    "capacity": "capacity",
    "voltage": "DC voltage",
}


def render(
    made: Chosen, file: str, written: str, *, working: bool = False, paint: Paint = plain
) -> str:
    """The text. written: the file that was written; empty where nothing was."""
    lines = [*about(file, made.before.title, made.before.code, made.before.code_title)]
    lines += _summary(made, written)
    lines += ["", paint("Once it is built so", "strong"), *head_lines(made.after, paint)]
    lines += _not_met(made)
    if made.joining is not None:
        lines += ["", *_joined(made, made.joining.name)]
        if made.with_all is not None:
            all_of = f"{headline(made.with_all)}; or {remedy_of(made.with_all)}"
            lines += labelled("With all", all_of, indent=_INDENT)
    for choice in made.choices:
        lines += ["", *_choice(choice, made, working)]
    if made.text != made.before_text:
        lines += ["", unified(made.before_text, made.text, file).rstrip("\n")]
    lines += ["", *verdict_lines(made.after, paint), ""]
    if written:
        lines += labelled("Next", NEXT)
    lines += labelled("CAUTION", PROPOSAL)
    lines += labelled("Remember", STANDING)
    return "\n".join(lines) + "\n"


def _summary(made: Chosen, written: str) -> Iterator[str]:
    count = (made.joining is not None) + len(made.choices)
    if not count:
        yield from labelled("Chosen", "nothing: the plan leaves nothing open")
        return
    where = f"written into {written}" if written else "shown here; `--write` writes it"
    yield from labelled("Chosen", f"{numbered(count, 'value')}, {where}", keep=True)
    if not made.whole:
        more = "broken off at its limit of checks: a value may be larger than it has to be"
        yield from labelled("", more)
    for words, _ in told_of(made):
        yield from hanging(words, first="  * ", margin=_INDENT)


def told_of(made: Chosen) -> Iterator[tuple[str, str]]:
    """Each choice and why it was made, in the words of the text."""
    if made.joining is not None:
        yield f"modules joined as {made.joining.name}", _why_joined(made)
    for choice in made.choices:
        yield _chosen(choice), _why(choice)


def _joined(made: Chosen, name: str) -> Iterator[str]:
    yield from hanging(f"modules joined as {name}", first="  * ", margin=_INDENT)
    yield from labelled("Because", _why_joined(made), indent=_INDENT)


def _why_joined(made: Chosen) -> str:
    if made.told:
        return "it was asked for"
    if made.before_it is None:
        return "it stands first in the order of `wattproof layouts`"
    name, against = made.before_it
    return (
        "of the order of `wattproof layouts`, the first that has the fewest faults once its wires "
        f"are told; against `{name}`, the first there: {headline(against)}"
    )


def _chosen(choice: Choice) -> str:
    *_, name, key = choice.path
    also = f" (up to {choice.largest} passes as well)" if choice.largest else ""
    return f"`{name}`: {_WORDS.get(key, key)} {choice.text}{also}"


def _why(choice: Choice) -> str:
    if choice.reason is None:
        return "the smallest that there is passes"
    return f"{choice.smaller} would not do: {choice.reason.message} [{choice.reason.rule}]"


def _choice(choice: Choice, made: Chosen, working: bool) -> Iterator[str]:
    added = next((a for a in made.added if a.name == choice.path[-2]), None)
    yield from hanging(_chosen(choice), first="  * ", margin=_INDENT)
    if added is not None:
        yield from labelled("Added", _added(added), indent=_INDENT)
    if choice.path[0] == "combiners" and choice.path[-1] == "rating":
        where = dict(made.placed).get(choice.path[1])
        yield from labelled("Placed", where, indent=_INDENT) if where else ()
    yield from labelled("Because", _why(choice), indent=_INDENT)
    if words := _by_length(choice, made):
        yield from labelled("Length", words, indent=_INDENT)
    if choice.reason is None:
        return
    if working:
        yield from whole_lines(choice.reason.values, margin=_INDENT + LABEL)
        return
    first = f"{' ' * _INDENT}{'Numbers':<{LABEL}}"
    for line in short_lines(choice.reason.values):
        yield from hanging(line, first=first, margin=_INDENT + LABEL + 2)
        first = " " * (_INDENT + LABEL)


def _by_length(choice: Choice, made: Chosen) -> str:
    """What is taken of a length that nobody told, where a size hangs on it; empty where none."""
    if choice.path[-1] != "size":
        return ""
    for assumption in made.after.uses:
        if assumption.instead == "length" and assumption.subject == choice.owner:
            return f"not told. {assumption.says} Measure it, and choose again"
    return ""


def _added(added: Addition) -> str:
    values = ", ".join(f"{key} {text}" for key, text in added.values if key != "rating")
    where = f", {added.distance} from its `{added.from_end}` end" if added.from_end else ""
    return f"in `{added.wire}`{where}, which the rules ask for: {values}"


def _not_met(made: Chosen) -> Iterator[str]:
    left = [f for f in live(made.after.findings) if f.level != "note"]
    if not left:
        return
    yield ""
    rules = enumerated([f"`{rule}`" for rule in dict.fromkeys(f.rule for f in left)])
    yield from hanging(f"Not met by anything that is open: {rules}", first="", margin=2)
    for finding in left:
        yield from hanging(headline(finding), first="  ! ", margin=_INDENT)
        yield from labelled("It would", remedy_of(finding), indent=_INDENT)
