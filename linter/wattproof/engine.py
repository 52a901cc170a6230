"""Finds the rules, runs them over a study, isolates one that fails, and applies acceptances."""

from __future__ import annotations

import datetime
import importlib
import pkgutil
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import ModuleType

from wattproof.finding import Acceptance, Finding, Level, Observation, Related
from wattproof.plan.root import Accepted
from wattproof.rule import Rule
from wattproof.source import Place, Problem
from wattproof.study import Study
from wattproof.working import Assumption, Value, noting_assumptions

ENTRY_POINTS = "wattproof.rules"
OWN_PACK = "wattproof"
RULE_FAILED = "rule-failed"


@dataclass(frozen=True)
class PackFailure:
    """A pack or a module of one that could not be used."""

    pack: str
    module: str
    reason: str


@dataclass(frozen=True)
class RuleSet:
    """All rules found, by id, and what could not be loaded."""

    rules: dict[str, Rule]
    failures: tuple[PackFailure, ...] = ()


@dataclass(frozen=True)
class Result:
    """What came of checking one plan.

    problems: why it is unusable, empty where it could be checked. ran: ids of the rules that ran
    to their end, of those in `planned`. uses: for each assumption, the rules that read it.
    """

    file: str
    title: str = ""
    code: str = ""
    local: str = ""
    problems: tuple[Problem, ...] = ()
    findings: tuple[Finding, ...] = ()
    uses: dict[Assumption, tuple[str, ...]] = field(default_factory=dict)
    ran: tuple[str, ...] = ()
    planned: tuple[str, ...] = ()

    @property
    def failed(self) -> bool:
        """True where a rule or pack failed: no verdict of soundness may be given."""
        return any(f.rule == RULE_FAILED for f in self.findings)


def discover() -> RuleSet:
    """The rules of all installed packs. Nothing that a plan says can name code to load."""
    from importlib.metadata import entry_points

    rules: dict[str, Rule] = {}
    failures: list[PackFailure] = []
    for point in sorted(
        entry_points(group=ENTRY_POINTS), key=lambda p: (p.name != OWN_PACK, p.name)
    ):
        try:
            package = importlib.import_module(point.value)
        except Exception as error:  # a broken pack must not hide the others
            failures.append(PackFailure(point.name, point.value, _reason(error)))
            continue
        _load_pack(point.name, package, rules, failures)
    return RuleSet(rules, tuple(failures))


def _load_pack(
    pack: str, package: ModuleType, rules: dict[str, Rule], failures: list[PackFailure]
) -> None:
    """Add the rules of a package's modules. Ids of other packs are prefixed by the pack's name."""
    for name in _modules(package):
        try:
            module = importlib.import_module(name)
            for found in vars(module).values():
                if isinstance(found, Rule) and found.check.__module__ == name:
                    rule_id = found.id if pack == OWN_PACK else f"{pack}/{found.id}"
                    if rule_id in rules:
                        raise ValueError(
                            f"packs `{rules[rule_id].pack}` and `{pack}` both claim `{rule_id}`"
                        )
                    rules[rule_id] = replace(found, id=rule_id, pack=pack)
        except Exception as error:
            failures.append(PackFailure(pack, name, _reason(error)))


def _modules(package: ModuleType) -> list[str]:
    """Names of all modules below a package, sorted."""
    prefix = package.__name__ + "."
    found = [package.__name__]
    for info in pkgutil.walk_packages(package.__path__, prefix, onerror=lambda name: None):
        found.append(info.name)
    return sorted(found)


def check(
    study: Study,
    rule_set: RuleSet,
    *,
    file: str,
    today: datetime.date,
    options: Mapping[str, Mapping[str, float]] | None = None,
) -> Result:
    """Run every rule over a study.

    options: values of rules' options by rule id. today: against which acceptances end.
    """
    options = options or {}
    findings: list[Finding] = [_pack_failed(f, study) for f in rule_set.failures]
    ran: list[str] = []
    uses: dict[Assumption, list[str]] = {a: [] for a in study.noted}
    for rule in sorted(rule_set.rules.values(), key=lambda r: r.id):
        with noting_assumptions() as read:
            try:
                for observation in rule.observations(study, options.get(rule.id, {})):
                    findings.append(_finding(rule, observation, study))
                ran.append(rule.id)
            except Exception as error:  # one rule that fails must not silence the others
                findings.append(_rule_failed(rule, error, study))
        for assumption in read:
            uses.setdefault(assumption, []).append(rule.id)
    findings = _with_acceptances(findings, rule_set, study, today)
    return Result(
        file=file,
        title=str(study.plan.title or ""),
        code=study.code.id,
        local=study.code.local,
        findings=tuple(sorted(findings, key=lambda f: f.order)),
        uses={a: tuple(uses[a]) for a in sorted(uses, key=lambda a: (a.place, a.key, a.subject))},
        ran=tuple(ran),
        planned=tuple(sorted(rule_set.rules)),
    )


def _finding(rule: Rule, seen: Observation, study: Study) -> Finding:
    """A finding made of what a rule saw and what it says of itself."""
    assumptions = _assumptions(seen.values)
    certainty = "undecided" if seen.undecided else "assumed" if assumptions else "computed"
    level: Level = seen.level or rule.level
    if assumptions and not seen.whatever and level == "error":
        level = "warning"  # an error needs values that are declared, or a failure whatever they are
    others = tuple(Related(o.at, f"`{o.name}`") for o in seen.on[1:] if o.at != seen.on[0].at)
    return Finding(
        rule=rule.id,
        level=level,
        hazard=rule.hazard,
        part=rule.part,
        certainty=certainty,  # type: ignore[arg-type]
        message=seen.message,
        place=seen.on[0].at,
        subjects=tuple(str(o.name) for o in seen.on),
        related=(*others, *seen.related),
        basis=tuple(f"{c.cited}: {c.says}" for c in rule.basis_for(study.code.id)),
        local=rule.local or study.code.local,
        explanation=rule.explanation,
        caution=rule.caution,
        remedy=seen.remedy,
        values=seen.values,
        margin=seen.margin,
        assumptions=assumptions,
        acceptable=rule.acceptable,
    )


def _assumptions(values: Iterable[Value]) -> tuple[Assumption, ...]:
    found = {a for value in values for a in value.assumptions}
    return tuple(sorted(found, key=lambda a: (a.place, a.key, a.subject)))


def _rule_failed(rule: Rule, error: Exception, study: Study) -> Finding:
    where = f"{rule.check.__module__} of pack `{rule.pack or OWN_PACK}`"
    message = f"rule `{rule.id}` failed ({where}): {_reason(error)}; its findings are incomplete"
    return _failure(message, study)


def _pack_failed(failure: PackFailure, study: Study) -> Finding:
    message = f"`{failure.module}` of pack `{failure.pack}` cannot be used: {failure.reason}"
    return _failure(message, study)


def _failure(message: str, study: Study) -> Finding:
    return Finding(
        rule=RULE_FAILED,
        level="error",
        hazard="damage",
        part="plan",
        certainty="undecided",
        message=message,
        place=study.plan.setting.place,
        subjects=("plan",),
        explanation="A check that did not finish says nothing about the plan. What it guards "
        "against is not known to be absent.",
        remedy="Report it to those who keep the rule; do not rely on this run until it is mended.",
        acceptable=False,
    )


def _reason(error: Exception) -> str:
    return f"{type(error).__name__}: {error}"


def _with_acceptances(
    findings: list[Finding], rule_set: RuleSet, study: Study, today: datetime.date
) -> list[Finding]:
    """Findings with the owner's acceptances applied, and findings about those acceptances."""
    about: list[Finding] = []
    for accepted in study.plan.accepted:
        matched = [
            i
            for i, f in enumerate(findings)
            if f.rule == _current_id(accepted.rule, rule_set) and accepted.where in f.subjects
        ]
        refusal = _refusal(accepted, [findings[i] for i in matched], rule_set, today)
        if refusal is not None:
            about.append(refusal)
            continue
        for i in matched:
            findings[i] = replace(findings[i], acceptance=_acceptance(accepted))
    return findings + about


def _current_id(written: str, rule_set: RuleSet) -> str:
    """The id of a rule, where a plan may still use a former one."""
    for rule in rule_set.rules.values():
        if written in rule.former_ids:
            return rule.id
    return written


def _refusal(
    accepted: Accepted, matched: list[Finding], rule_set: RuleSet, today: datetime.date
) -> Finding | None:
    """Why an acceptance does not hold; None where it does."""
    rule_id = _current_id(accepted.rule, rule_set)
    shown = f"`{accepted.rule}` at `{accepted.where}`"
    if rule_id not in rule_set.rules:
        message = f"there is no rule `{accepted.rule}` to accept"
        return _about("acceptance-unknown", "error", accepted, message, "see `wattproof rules`")
    if not rule_set.rules[rule_id].acceptable:
        message = f"{shown} guards a hard limit and cannot be accepted"
        return _about("acceptance-refused", "error", accepted, message, "mend what it found")
    if accepted.reason is None:
        message = f"the acceptance of {shown} gives no reason and does not count"
        return _about("acceptance-without-reason", "error", accepted, message, "write `reason:`")
    if accepted.until is not None and accepted.until < today:
        message = f"the acceptance of {shown} ended on {accepted.until}"
        remedy = "mend it, or look at it again and set a new date"
        return _about("acceptance-ended", "warning", accepted, message, remedy)
    if not matched:
        message = f"the acceptance of {shown} matches no finding"
        return _about("acceptance-unused", "warning", accepted, message, "delete it")
    worst = min((f.margin for f in matched if f.margin is not None), default=None)
    if accepted.margin is not None and worst is not None and -worst > accepted.margin.value + 5e-4:
        message = (
            f"{shown} was accepted at {accepted.margin} past its limit and is now at "
            f"{-worst * 100:.1f} %"
        )
        remedy = "look at it again"
        return _about("acceptance-outgrown", "warning", accepted, message, remedy)
    return None


def _about(rule: str, level: Level, accepted: Accepted, message: str, remedy: str) -> Finding:
    place: Place = accepted.rule.place
    return Finding(
        rule=rule,
        level=level,
        hazard="legal",
        part="plan",
        certainty="computed",
        message=message,
        place=place,
        subjects=(str(accepted.where),),
        explanation="An acceptance is a decision that somebody answers for. It needs a reason, "
        "holds until its date, and only for what was looked at.",
        remedy=remedy,
        acceptable=False,
    )


def _acceptance(accepted: Accepted) -> Acceptance:
    until = accepted.until.isoformat() if accepted.until is not None else ""
    return Acceptance(str(accepted.reason), str(accepted.by or ""), until, accepted.rule.place)
