"""One rule, for people: what it compares, why, on what basis, and what it looks like."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import fields

from wattproof.reports.writing.columns import hanging, labelled
from wattproof.reports.writing.wording import HAZARD_WORDS, cited
from wattproof.rule import COMMON_PRACTICE, Rule
from wattproof.words import enumerated


def render(rule: Rule, local: Mapping[str, str]) -> str:
    """The page of a rule. local: whom to ask, for each body of rules that the page tells of."""
    return "\n".join(_page(rule, local)) + "\n"


def render_own(rule_id: str, says: str) -> str:
    """The page of a finding that no rule but the engine makes."""
    return "\n".join([*labelled("Finding", rule_id), *labelled("Means", says)]) + "\n"


def _page(rule: Rule, local: Mapping[str, str]) -> Iterator[str]:
    yield from labelled("Rule", rule.id)
    yield from labelled("Compares", rule.summary)
    yield from labelled("Level", f"{rule.level}; hazard: {HAZARD_WORDS[rule.hazard]}")
    yield from labelled("Part", rule.part)
    yield from labelled("Was once", ", ".join(rule.former_ids))
    yield from labelled("Since", f"version {rule.since}" if rule.since else "")
    if rule.settings:
        yield from labelled("Only in", f"{enumerated(rule.settings)}: {rule.elsewhere}")
    yield ""
    yield from labelled("Why", rule.explanation)
    if rule.caution is not None:
        yield from labelled(rule.caution.signal, rule.caution.text)
    yield from labelled("Fine", fine_words(rule))
    yield ""
    yield from _basis(rule, local)
    yield ""
    yield from _ask(rule, local)
    yield ""
    yield from _options(rule)
    yield ""
    yield from _examples(rule)


def fine_words(rule: Rule) -> str:
    """When what a rule finds is right all the same, and who may say so."""
    if rule.acceptable:
        who = "The owner may accept it, with a reason that stands in the plan."
    else:
        who = (
            "No one may accept it: it guards a hard limit. Mend it, or correct what the plan says."
        )
    return f"{rule.fine} {who}".strip()


def _basis(rule: Rule, codes: Container[str]) -> Iterator[str]:
    yield "Basis"
    for code, clause in rule.basis.items():
        if code != COMMON_PRACTICE and code not in codes:
            continue
        text = clause.says if clause.reference == code else cited(clause)
        yield from hanging(f"{code}: {text}", first="  * ", margin=4)
    if COMMON_PRACTICE not in rule.basis:
        yield from hanging(
            "A body of rules that is not named here says nothing of its own.",
            first="  * ",
            margin=4,
        )


def _ask(rule: Rule, local: Mapping[str, str]) -> Iterator[str]:
    if rule.local:
        yield from labelled("Ask", rule.local)
        return
    yield "Whom to ask"
    for code, whom in local.items():
        yield from hanging(f"{code}: {whom}", first="  * ", margin=4)


def _options(rule: Rule) -> Iterator[str]:
    if rule.options is None:
        yield from labelled("Options", "none")
        return
    yield "Options, set by `--option RULE.OPTION=NUMBER`"
    for option in fields(rule.options):
        says = option.metadata.get("description", "")
        text = f"{option.name}, {option.default} unless set: {says}"
        yield from hanging(text, first="  * ", margin=4)


def _examples(rule: Rule) -> Iterator[str]:
    yield "A plan without this finding"
    yield ""
    yield from _quoted(rule.sound)
    yield ""
    yield "The one edit that brings it"
    yield ""
    yield "  instead of"
    yield from _quoted(rule.faulty.old)
    yield "  write"
    yield from _quoted(rule.faulty.new)


def _quoted(text: str) -> Iterator[str]:
    """A text as it stands, indented and not wrapped, so that it can be copied."""
    for line in text.splitlines():
        yield f"    {line}".rstrip()
