"""Runs the rules over a study, isolates one that fails, and makes findings of what they saw."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final

from wattproof.acceptances import with_acceptances
from wattproof.circuit import build_circuit
from wattproof.finding import Finding, Level, Observation, Related, Remedy
from wattproof.packs import OWN_PACK, PackFailure, RuleSet, reason
from wattproof.plan import load_plan
from wattproof.rule import Rule
from wattproof.source import Place, PlanUnusable, Problem
from wattproof.stories import Story, stories
from wattproof.study import Study
from wattproof.trials import MAX_TRIALS, Trials
from wattproof.working import Assumption, Value, declared_places, noting_assumptions

RULE_FAILED = "rule-failed"

OWN_FINDINGS: Final[dict[str, str]] = {
    RULE_FAILED: "A rule or a pack of rules did not finish, so nothing is known of what it guards.",
    "acceptance-ended": "An acceptance whose date has passed.",
    "acceptance-outgrown": "An acceptance of a finding that has become worse since.",
    "acceptance-refused": "An acceptance of a hard limit, which no one can accept.",
    "acceptance-unknown": "An acceptance that names a rule which does not exist.",
    "acceptance-unused": "An acceptance that matches no finding.",
    "acceptance-without-reason": "An acceptance that gives no reason.",
}
"""Findings that no rule but the engine itself makes: id, and what it stands for."""


@dataclass(frozen=True)
class Result:
    """What came of checking one plan.

    problems: why it is unusable, empty where it could be checked. ran: ids of the rules that ran
    to their end, of those in `planned`. stories: findings about one component, by their numbers in
    `findings`. uses: for each assumption, the rules that read it.
    code, code_title: the body of rules it was calculated by. local: whom to ask under it.
    """

    file: str
    title: str = ""
    code: str = ""
    code_title: str = ""
    local: str = ""
    problems: tuple[Problem, ...] = ()
    findings: tuple[Finding, ...] = ()
    stories: tuple[Story, ...] = ()
    uses: dict[Assumption, tuple[str, ...]] = field(default_factory=dict)
    ran: tuple[str, ...] = ()
    planned: tuple[str, ...] = ()

    @property
    def failed(self) -> bool:
        """True where a rule or pack failed: no verdict of soundness may be given."""
        return any(f.rule == RULE_FAILED for f in self.findings)


def check_file(
    path: str,
    rule_set: RuleSet,
    *,
    today: datetime.date,
    shown_as: str | None = None,
    text: str | None = None,
    options: Mapping[str, Mapping[str, float]] | None = None,
    try_remedies: bool = True,
) -> Result:
    """Read one plan, compute it and check it. Whatever is in the file, a Result comes back.

    shown_as: the name that messages use and that `parts` are relative to (for standard input).
    text: the plan's text where the caller has it already. options, try_remedies: as for `check`.
    """
    file = shown_as or path
    planned = tuple(sorted(rule_set.rules))
    try:
        study = Study(build_circuit(load_plan(path, shown_as=shown_as, text=text)))
        return check(
            study, rule_set, file=file, today=today, options=options, try_remedies=try_remedies
        )
    except PlanUnusable as unusable:
        problems = tuple(sorted(set(unusable.problems)))
        return Result(file=file, problems=problems, planned=planned)
    except Exception as error:  # one plan that fails must not silence the others
        return Result(file=file, findings=(_not_computed(file, error),), planned=planned)


def check(
    study: Study,
    rule_set: RuleSet,
    *,
    file: str,
    today: datetime.date,
    options: Mapping[str, Mapping[str, float]] | None = None,
    try_remedies: bool = True,
) -> Result:
    """Run every rule over a study.

    options: values of rules' options by rule id. today: against which acceptances end.
    try_remedies: False where only what is found matters.
    """
    values = options or {}
    found = _run(study, rule_set, values)
    trials = Trials(
        study.plan,
        found.findings,
        lambda other: _run(other, rule_set, values).findings,
        MAX_TRIALS if try_remedies else 0,
    )
    findings = with_acceptances(trials.with_trials(found.findings), rule_set, study, today)
    findings.sort(key=lambda f: f.order)
    uses = found.uses
    return Result(
        file=file,
        title=str(study.plan.title or ""),
        code=study.code.id,
        code_title=f"{study.code.title} ({study.code.edition})",
        local=study.code.local,
        findings=tuple(findings),
        stories=stories(findings, trials),
        uses={a: tuple(uses[a]) for a in sorted(uses, key=lambda a: (a.place, a.key, a.subject))},
        ran=tuple(found.ran),
        planned=tuple(sorted(rule_set.rules)),
    )


@dataclass
class _Run:
    """What one run of all rules over one study gives."""

    findings: list[Finding] = field(default_factory=list)
    ran: list[str] = field(default_factory=list)
    uses: dict[Assumption, list[str]] = field(default_factory=dict)


def _run(study: Study, rule_set: RuleSet, options: Mapping[str, Mapping[str, float]]) -> _Run:
    """Run every rule over a study."""
    found = _Run([_pack_failed(f, study) for f in rule_set.failures])
    found.uses = {a: [] for a in study.noted}
    for rule in sorted(rule_set.rules.values(), key=lambda r: r.id):
        with noting_assumptions() as read:
            try:
                for observation in rule.observations(study, options.get(rule.id, {})):
                    found.findings.append(_finding(rule, observation, study))
                found.ran.append(rule.id)
            except Exception as error:  # one rule that fails must not silence the others
                found.findings.append(_rule_failed(rule, error, study))
        for assumption in read:
            found.uses.setdefault(assumption, []).append(rule.id)
    return found


def _finding(rule: Rule, seen: Observation, study: Study) -> Finding:
    """A finding made of what a rule saw and what it says of itself."""
    assumptions = _assumptions(seen.values)
    remedy = seen.remedy if isinstance(seen.remedy, Remedy) else Remedy(seen.remedy)
    doubts = _doubts(rule, seen, study)
    level: Level = seen.level or rule.level
    if (assumptions or doubts) and not seen.whatever and level == "error":
        level = "warning"  # an error needs values that are declared, or a failure whatever they are
    others = tuple(Related(o.at, f"`{o.name}`") for o in seen.on[1:] if o.at != seen.on[0].at)
    return Finding(
        rule=rule.id,
        level=level,
        hazard=rule.hazard,
        part=rule.part,
        certainty="undecided"
        if seen.undecided or doubts
        else "assumed"
        if assumptions
        else "computed",
        message=seen.message,
        place=seen.on[0].at,
        subjects=tuple(str(o.name) for o in seen.on),
        related=(*others, *seen.related, *doubts),
        basis=tuple(f"{c.cited}: {c.says}" for c in rule.basis_for(study.code.id)),
        local=rule.local or study.code.local,
        explanation=rule.explanation,
        caution=rule.caution,
        remedy=remedy.words,
        ways=tuple(way for way in remedy.ways if way),
        values=seen.values,
        margin=seen.margin,
        assumptions=assumptions,
        acceptable=rule.acceptable,
    )


def _doubts(rule: Rule, seen: Observation, study: Study) -> tuple[Related, ...]:
    """Label values that cannot be right and on which what a rule saw rests.

    What depends on them is not decided, and says so, until the label is read again. Rules on
    labels themselves are what finds them.
    """
    if rule.part == "module" or not study.doubtful:
        return ()
    places = declared_places(seen.values) & set(study.doubtful)
    return tuple(
        Related(place, f"rests on the label of `{study.doubtful[place]}`, which cannot be right")
        for place in sorted(places)
    )


def _assumptions(values: Iterable[Value]) -> tuple[Assumption, ...]:
    found = {a for value in values for a in value.assumptions}
    return tuple(sorted(found, key=lambda a: (a.place, a.key, a.subject)))


def _rule_failed(rule: Rule, error: Exception, study: Study) -> Finding:
    where = f"{rule.check.__module__} of pack `{rule.pack or OWN_PACK}`"
    message = f"rule `{rule.id}` failed ({where}): {reason(error)}; its findings are incomplete"
    return _failure(message, study)


def _pack_failed(failure: PackFailure, study: Study) -> Finding:
    message = f"`{failure.module}` of pack `{failure.pack}` cannot be used: {failure.reason}"
    return _failure(message, study)


def _not_computed(file: str, error: Exception) -> Finding:
    message = f"wattproof failed, not the plan: {reason(error)}; nothing was checked"
    return _failure_at(Place(file, 1, 1, 1, 1), message)


def _failure(message: str, study: Study) -> Finding:
    return _failure_at(study.plan.setting.place, message)


def _failure_at(place: Place, message: str) -> Finding:
    return Finding(
        rule=RULE_FAILED,
        level="error",
        hazard="damage",
        part="plan",
        certainty="undecided",
        message=message,
        place=place,
        subjects=("plan",),
        explanation="A check that did not finish says nothing about the plan. What it guards "
        "against is not known to be absent.",
        remedy="Report it to those who keep the rule; do not rely on this run until it is mended.",
        acceptable=False,
    )
