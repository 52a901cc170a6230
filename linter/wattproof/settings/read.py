"""A settings file to settings. Every mistake becomes a problem at its place; all are reported."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from typing import cast

from wattproof.finding import Level
from wattproof.packs import OWN_PACK, RuleSet
from wattproof.plan.models import ModelReader
from wattproof.plan.resemblance import nearest
from wattproof.rule import Rule
from wattproof.settings.effective import Setting, Settings, is_milder
from wattproof.settings.file import KIND, RuleSettings, SettingsFile
from wattproof.source import Block, PlanUnusable, Problem, Text, parse, read_text


def load_settings(path: str, rule_set: RuleSet) -> Settings:
    """Read a settings file. Raises PlanUnusable with every problem."""
    block = parse(read_text(path, shown_as=path, kind=KIND), path, KIND)
    reader = ModelReader(KIND)
    reader.unknown_keys(block, SettingsFile, "a settings file")
    if not reader.version(block):
        raise PlanUnusable(reader.problems)
    written = _rules(block, reader)
    head = Block({key: value for key, value in block.items() if key != "rules"})
    head.place = block.place
    file = reader.validate(SettingsFile, head, "the settings file", block.place)
    rules, problems = _known(written, rule_set)
    reader.problems += problems
    reader.problems += [p for rule, own in rules.values() for p in _problems(own, rule)]
    if file is None or reader.problems:
        raise PlanUnusable(sorted(set(reader.problems)))
    return Settings(
        file=path,
        threshold=_level(file.threshold) if file.threshold is not None else None,
        exclude=tuple(str(pattern) for pattern in file.exclude),
        off={
            rule_id: Setting(True, own.at, str(own.reason))
            for rule_id, (_, own) in rules.items()
            if own.off
        },
        levels={
            rule_id: _level(own.level, own.reason)
            for rule_id, (_, own) in rules.items()
            if own.level is not None
        },
        options={
            rule_id: {str(n): Setting(float(v), v.text.place) for n, v in own.options.items()}
            for rule_id, (_, own) in rules.items()
            if own.options
        },
    )


def _rules(block: Block, reader: ModelReader) -> dict[str, RuleSettings]:
    node = block.get(Text("rules"))
    if node is None:
        return {}
    kept: dict[str, RuleSettings] = reader.field(
        SettingsFile.model_fields["rules"].annotation, "rules", node, "rules"
    )
    return kept


def _known(
    written: dict[str, RuleSettings], rule_set: RuleSet
) -> tuple[dict[str, tuple[Rule, RuleSettings]], list[Problem]]:
    """The rules that are set, by their present ids, and a problem for each that does not exist.

    What is set for a pack that could not be loaded in full is passed over: the check says that the
    pack failed, and the rule may have been in it.
    """
    present = {former: r.id for r in rule_set.rules.values() for former in r.former_ids}
    failed = {failure.pack for failure in rule_set.failures}
    known: dict[str, tuple[Rule, RuleSettings]] = {}
    problems: list[Problem] = []
    for rule_id, own in written.items():
        current = present.get(rule_id, rule_id)
        pack, slash, _ = rule_id.rpartition("/")
        if current not in rule_set.rules:
            if (pack if slash else OWN_PACK) not in failed:
                near = nearest(rule_id, sorted(rule_set.rules))
                instead = f"write `{near}`" if near else "`wattproof rules` lists the ids"
                problems.append(Problem(own.at, f"there is no rule `{rule_id}`", instead))
        elif current in known:
            line = known[current][1].at.line
            message = f"`{rule_id}` is set twice: it is the same rule as on line {line}"
            problems.append(Problem(own.at, message, f"keep `{current}`"))
        else:
            known[current] = (rule_set.rules[current], own)
    return known, problems


def _problems(own: RuleSettings, rule: Rule) -> Iterator[Problem]:
    """What cannot be set for a rule."""
    milder = own.level is not None and is_milder(cast(Level, str(own.level)), rule.level)
    if own.off:
        yield from _unfounded(own, rule, "switched off", "off")
    if milder:
        yield from _unfounded(own, rule, f"made a {own.level}", "level")
    options = [f.name for f in fields(rule.options)] if rule.options is not None else []
    for name in own.options:
        if name not in options:
            message = f"the rule `{rule.id}` has no option `{name}`"
            near = nearest(name, options)
            instead = f"write `{near}`" if near else _options(options)
            yield Problem(name.place, message, instead)


def _unfounded(own: RuleSettings, rule: Rule, done: str, key: str) -> Iterator[Problem]:
    """Why a rule may not say less: it guards a hard limit, or no reason is given."""
    if not rule.acceptable:
        message = f"`{rule.id}` guards a hard limit and cannot be {done}"
        yield Problem(own.at, message, f"delete `{key}`, and mend what the rule finds")
    elif own.reason is None:
        message = f"`{rule.id}` is {done} without a reason"
        yield Problem(own.at, message, "add `reason:` and say why")


def _options(names: list[str]) -> str:
    return f"its options are {', '.join(names)}" if names else "it has none; delete this"


def _level(written: Text, reason: Text | None = None) -> Setting[Level]:
    return Setting(cast(Level, str(written)), written.place, str(reason or ""))
