"""Pages about the built-in rules: one for each rule, one for each part, and indexes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields

from wattproof.codes import body, known
from wattproof.engine import OWN_FINDINGS, examine
from wattproof.finding import HAZARDS, LEVELS
from wattproof.packs import RuleSet, load_pack
from wattproof.reports.findings.glance import headline
from wattproof.reports.findings.telling import as_told
from wattproof.reports.rules.basis_text import fine_words
from wattproof.reports.writing.wording import HAZARD_WORDS, numbered
from wattproof.rule import COMMON_PRACTICE, PARTS, Rule
from wattproof.testing import A_DAY
from wattproof.words import enumerated
from wattproof_docs.beside import beside
from wattproof_docs.markdown import admonition, code, contents, definition, folded, plain, table

CLASSES = {"DANGER": "danger", "WARNING": "warning", "CAUTION": "caution", "NOTICE": "note"}
PART_WORDS = {part: f"The {part}" for part in PARTS} | {
    "module": "Modules and their labels",
    "string": "Strings and arrays",
    "combiner": "Joints of strings",
    "overcurrent": "Fuses and breakers",
    "conductor": "Wires and cables",
    "connector": "Connectors, plugs and busbars",
    "switch": "Switches",
    "controller": "Charge controllers",
    "battery": "Batteries",
    "bonding": "Grounding and bonding",
    "energy": "Sun and use",
    "reading": "What a meter showed",
    "plan": "The plan itself",
}


def built_in() -> RuleSet:
    """The built-in rules, whatever else is installed. Raises RuntimeError where one is broken."""
    found = load_pack("wattproof", "wattproof_rules")
    if found.failures:
        raise RuntimeError(str(found.failures))
    return found


def pages() -> dict[str, str]:
    """All pages about rules, by file."""
    rule_set = built_in()
    rules = sorted(rule_set.rules.values(), key=lambda r: r.id)
    made = {f"rules/{rule.id}.md": "\n".join(_rule(rule, rule_set)) for rule in rules}
    parts = [part for part in PARTS if any(r.part == part for r in rules)]
    for part in parts:
        made[f"rules/part-{part}.md"] = _part(part, [r for r in rules if r.part == part])
    made["rules/by-hazard.md"] = _by_hazard(rules)
    made["rules/by-clause.md"] = _by_clause(rules)
    made["rules/of-the-program.md"] = _own()
    made["tables/rules.md"] = _overview(rules, parts)
    return made


def _link(rule: Rule, folder: str = "") -> str:
    return f"[`{rule.id}`]({folder}{rule.id}.md)"


def _rule(rule: Rule, rule_set: RuleSet) -> Iterator[str]:
    """What is wrong beside what is right comes first; what only some look for is folded."""
    faulty = rule.faulty.of(rule.sound)
    yield f"# {rule.id}\n\n{plain(rule.summary)}\n\n{_facts(rule)}"
    yield beside(faulty, rule.sound)
    result = examine("plan.yaml", rule_set, today=A_DAY, text=faulty, ask=False).result
    [finding] = as_told(result)
    yield f"A check says: **{plain(headline(finding))}**\n"
    if finding.remedy:
        yield f"Remedy: {plain(finding.remedy)}\n"
    yield f"## Why\n\n{plain(rule.explanation)}\n"
    if rule.caution is not None:
        signal = rule.caution.signal
        yield admonition(signal, CLASSES[signal], plain(rule.caution.text))
    yield f"## When it is fine as it is\n\n{plain(fine_words(rule))}\n"
    yield "## Basis\n"
    yield from _basis(rule)
    if rule.options is not None:
        yield f"## Options\n\nSet with `--option {rule.id}.NAME=NUMBER`.\n"
        for option in fields(rule.options):
            says = plain(option.metadata.get("description", ""))
            yield f"- `{option.name}`, {option.default} unless set: {says}"
        yield ""
    yield folded("The whole plan without this finding", code(rule.sound, "yaml"))


def _facts(rule: Rule) -> str:
    """Level, hazard, part and version in one line, with ways on."""
    hazard = HAZARD_WORDS[rule.hazard]
    facts = [
        f"**{rule.level.capitalize()}**",
        f"[{hazard}](by-hazard.md#{hazard.replace(' ', '-')})",
        f"[{PART_WORDS[rule.part]}](part-{rule.part}.md)",
        f"since version {rule.since}",
    ]
    if rule.settings:
        facts.append(f"only in {enumerated(rule.settings)}: {plain(rule.elsewhere)}")
    if rule.former_ids:
        facts.append(f"was once called {', '.join(rule.former_ids)}")
    return " · ".join(facts) + "\n"


def _basis(rule: Rule) -> Iterator[str]:
    """What each body of rules says; those that say the same together."""
    said: dict[str, list[str]] = {}
    for key, clause in rule.basis.items():
        own = key == COMMON_PRACTICE or clause.reference == key
        term = "Common practice" if key == COMMON_PRACTICE else f"`{key}`"
        cited = "" if own and clause.reference == key else f", {plain(clause.cited)}"
        said.setdefault(plain(clause.says), []).append(f"{term}{cited}")
    for says, terms in said.items():
        yield f"- {'; '.join(terms)}: {says}"
    others = "" if COMMON_PRACTICE in rule.basis else "Others say nothing of their own. "
    ask = f"{plain(rule.local)}." if rule.local else "see [whom each body names](../../bodies.md)."
    yield f"\n{others}Ask: {ask}\n"


def _entry(rule: Rule, folder: str = "") -> str:
    about = f"{rule.level}, {HAZARD_WORDS[rule.hazard]}"
    return definition(_link(rule, folder), f"{plain(rule.summary)} *({about})*")


def _part(part: str, rules: list[Rule]) -> str:
    entries = "".join(_entry(rule) for rule in rules)
    return f"# {PART_WORDS[part]}\n\n{entries}{contents([rule.id for rule in rules])}"


def _by_hazard(rules: list[Rule]) -> str:
    text = (
        "# Which rule covers which hazard\n\n"
        "The hazard is the worst that a rule is there to prevent; many prevent lesser harm too. "
        "What no rule on this page names is not checked.\n\n"
    )
    for hazard in HAZARDS:
        here = [r for r in rules if r.hazard == hazard]
        here.sort(key=lambda r: (LEVELS.index(r.level), PARTS.index(r.part), r.id))
        if here:
            text += f"## {HAZARD_WORDS[hazard].capitalize()}\n\n"
            text += table(
                ("What is compared", "Part", "Level", "Rule"),
                [(plain(r.summary), r.part, r.level, _link(r)) for r in here],
            )
    return text


def _by_clause(rules: list[Rule]) -> str:
    text = (
        "# Which clause each rule rests on\n\n"
        "What the clauses say is told in our words. *From memory* means that nobody compared it "
        "with a published copy.\n\n"
    )
    for key in (*known(), COMMON_PRACTICE):
        here = [r for r in rules if key in r.basis]
        title = "Common practice" if key == COMMON_PRACTICE else f"{body(key).title}, `{key}`"
        if here:
            rows = [(_link(r), plain(r.basis[key].cited), plain(r.basis[key].says)) for r in here]
            text += f"## {title}\n\n" + table(("Rule", "Clause", "What it says"), rows)
    return text


def _own() -> str:
    entries = "".join(definition(f"`{key}`", plain(says)) for key, says in OWN_FINDINGS.items())
    return (
        "# Findings of the program itself\n\n"
        "No rule makes these: they tell of a check that did not finish, or of acceptances.\n\n"
        + entries
    )


def _overview(rules: list[Rule], parts: list[str]) -> str:
    """The overview that the hand-written page about rules includes."""
    rows = []
    for part in parts:
        cells = []
        for hazard in HAZARDS:
            count = sum(r.part == part and r.hazard == hazard for r in rules)
            cells.append(str(count) if count else "")
        title = f"[{PART_WORDS[part]}](generated/rules/part-{part}.md)"
        rows.append((title, *cells))
    text = f"{numbered(len(rules), 'rule').capitalize()} are built in; by part and hazard:\n\n"
    text += table(("Part", *(HAZARD_WORDS[h] for h in HAZARDS)), rows)
    for part in parts:
        here = "".join(_entry(r, "generated/rules/") for r in rules if r.part == part)
        text += f"## {PART_WORDS[part]}\n\n{here}"
    indexes = ("by-hazard", "by-clause", "of-the-program")
    names = [f"generated/rules/{name}" for name in indexes]
    return text + contents([*names, *(f"generated/rules/part-{part}" for part in parts)])
