"""Runs the rules over a study, isolates one that fails, and makes findings of what they saw."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Set
from dataclasses import field, replace
from typing import Final, NamedTuple

from wattproof.acceptances import with_acceptances
from wattproof.causes import folded
from wattproof.codes import Bodies
from wattproof.codes.seen import said
from wattproof.combinations import found_without
from wattproof.consequences import with_remedies_of_causes
from wattproof.finding import HAZARDS, LEVELS, Finding, Level, Observation, Related, Remedy, Since
from wattproof.guarding import Guard, TookTooLong, guarding, reason
from wattproof.loading import load_study
from wattproof.packs import OWN_PACK, PackFailure, RuleSet
from wattproof.plan.amend import Amendment, Change
from wattproof.plan.opening import Open
from wattproof.plan.told_units import ToldUnits
from wattproof.plan.ways import FedWire
from wattproof.question import Asked, Question
from wattproof.record import record
from wattproof.remedies.one_size import with_one_size
from wattproof.remedies.sold import as_sold
from wattproof.remedies.trials import MAX_TRIALS, Trials
from wattproof.rereading import AskedBy, Rereading
from wattproof.rule import Rule
from wattproof.settings import NOTHING_SET, Settings
from wattproof.source import Place, PlanUnusable, Problem
from wattproof.stories import Story, stories
from wattproof.study import Study
from wattproof.study.assumptions.reading import ENDS, Label, chosen_kindly
from wattproof.together import Together, together
from wattproof.verdicts import Known, Run, judged, known_by, with_verdicts
from wattproof.working import (
    Assumption,
    LookUp,
    Value,
    declared_places,
    noting_assumptions,
    told_apart,
)

RULE_FAILED = "rule-failed"

OWN_FINDINGS: Final[dict[str, str]] = {
    RULE_FAILED: "A rule or a pack of rules did not finish, so nothing is known of what it guards.",
    "acceptance-ended": "An acceptance whose date has passed.",
    "acceptance-outgrown": "An acceptance of a finding that has become worse since.",
    "acceptance-refused": "An acceptance of a hard limit, which no one can accept.",
    "acceptance-unknown": "An acceptance that names a rule which does not exist.",
    "acceptance-unused": "An acceptance that matches no finding.",
    "acceptance-without-margin": "An acceptance that tells no margin, so that it does not count.",
    "acceptance-without-reason": "An acceptance that gives no reason.",
}
"""Findings that no rule but the engine itself makes: id, and what it stands for."""


@record
class Result:
    """What came of checking one plan.

    problems: why it is unusable, empty where it could be checked. ran: ids of the rules that ran
    to their end, of those in `planned`; rules that are switched off are not among them, nor those
    of `elsewhere`, which the plan's setting leaves out: for each, why. findings:
    in the order of reports, one for each rule and cause. questions: what to look up, the first
    first. at_worst: how many more would fail with everything that is not told at its worst.
    stories: findings about one component, by their numbers in `findings`. together: what comes of
    following all remedies at once; None where fewer than two can be written. uses: for each
    assumption, the rules that read it. code, code_title: the body of rules it was calculated by, or
    which side by which. codes: ids of those of the array side and of the battery side. local: whom
    to ask under them. seen: how much of them was seen in public text, and how much is from memory.
    settings: what it was checked under. since: what it says of an older check; None without one.
    opens: what is not chosen yet. waiting: what would be found with what would be usual in its
    place, and cannot be judged before it is chosen.
    """

    file: str
    title: str = ""
    code: str = ""
    code_title: str = ""
    codes: tuple[str, str] = ("", "")
    local: str = ""
    seen: str = ""
    problems: tuple[Problem, ...] = ()
    findings: tuple[Finding, ...] = ()
    questions: tuple[Question, ...] = ()
    at_worst: int = 0
    stories: tuple[Story, ...] = ()
    together: Together | None = None
    uses: dict[Assumption, tuple[str, ...]] = field(default_factory=dict)
    ran: tuple[str, ...] = ()
    planned: tuple[str, ...] = ()
    elsewhere: dict[str, str] = field(default_factory=dict)
    settings: Settings = NOTHING_SET
    since: Since | None = None
    opens: tuple[Open, ...] = ()
    waiting: tuple[Finding, ...] = ()

    @property
    def failed(self) -> bool:
        """True where a rule or pack failed: no verdict of soundness may be given."""
        return any(f.rule == RULE_FAILED for f in self.findings)

    @property
    def each(self) -> tuple[Finding, ...]:
        """Every finding alone, those too that are folded into others of their cause."""
        return tuple(single for finding in self.findings for single in finding.each)


class Checked(NamedTuple):
    """A plan checked: its study where it could be computed, and what came of it."""

    study: Study | None
    result: Result


def check_file(
    path: str,
    rule_set: RuleSet,
    *,
    today: datetime.date,
    shown_as: str | None = None,
    text: str | None = None,
    settings: Settings = NOTHING_SET,
    try_remedies: bool = True,
) -> Result:
    """What comes of checking one plan; see `examine`."""
    return examine(
        path,
        rule_set,
        today=today,
        shown_as=shown_as,
        text=text,
        settings=settings,
        try_remedies=try_remedies,
    ).result


def examine(
    path: str,
    rule_set: RuleSet,
    *,
    today: datetime.date,
    shown_as: str | None = None,
    text: str | None = None,
    settings: Settings = NOTHING_SET,
    try_remedies: bool = True,
    ask: bool = True,
) -> Checked:
    """Read one plan, compute it and check it. Whatever is in the file, a result comes back.

    shown_as: the name that messages use and that `parts` are relative to (for standard input).
    text: the plan's text where the caller has it already. try_remedies, ask: as for `check`.
    """
    file = shown_as or path
    study = None
    try:
        study = load_study(path, shown_as=shown_as, text=text)
        return check(
            study,
            rule_set,
            file=file,
            today=today,
            settings=settings,
            try_remedies=try_remedies,
            ask=ask,
        )
    except PlanUnusable as unusable:
        result = replace(not_checked(file, rule_set, unusable), settings=settings)
    except KeyboardInterrupt:
        raise
    except BaseException as error:  # one plan that fails must not silence the others
        findings = (_not_computed(file, error),)
        planned = _planned(rule_set, settings)
        result = Result(file=file, findings=findings, planned=planned, settings=settings)
    return Checked(study, result)


def not_checked(file: str, rule_set: RuleSet, unusable: PlanUnusable) -> Result:
    """What comes of a plan that cannot be used, or whose settings cannot."""
    problems = tuple(sorted(set(unusable.problems), key=lambda p: (not p.hazard, p)))
    return Result(file=file, problems=problems, planned=_planned(rule_set, NOTHING_SET))


def check(
    study: Study,
    rule_set: RuleSet,
    *,
    file: str,
    today: datetime.date,
    settings: Settings = NOTHING_SET,
    try_remedies: bool = True,
    ask: bool = True,
) -> Checked:
    """Run every rule that is not switched off over a study.

    today: against which acceptances end. try_remedies, ask: False where only what is found matters,
    and not what would mend it or what is to be looked up.
    """
    stuck: frozenset[str] = frozenset()
    whatever: frozenset[Known] = frozenset()

    def run(other: Study, rules: Set[str] | None = None, asked_by: AskedBy = _unheard) -> Run:
        return _run(other, rule_set, settings, rules, asked_by, without=stuck, whatever=whatever)

    def run_worded(other: Study) -> list[Finding]:
        return with_verdicts(run(other), lambda reading, rules: run(other.read_as(reading), rules))

    reader = Rereading(study, run)
    study, found = reader.study, reader.usual
    stuck = frozenset(found.stuck)
    whatever = _whatever_is_chosen(found, study, rule_set, settings)
    said = judged(found, reader, OWN_FINDINGS, ask=ask)
    trials = Trials(
        study.plan,
        found.findings,
        lambda other: run(other).findings,
        MAX_TRIALS if try_remedies else 0,
    )
    findings = trials.with_trials(said.findings)
    findings += found_without(study.plan, findings, run_worded)
    findings = with_acceptances(findings, rule_set, study, today, off=settings.off)
    findings = with_one_size(findings, trials)
    told = [trials.with_common_remedy(f) for f in folded(findings)]
    told = with_remedies_of_causes(told)
    in_stories = stories(told, trials)
    uses = {a: rules for a, rules in found.uses.items() if not study.waits_for(a)}
    result = Result(
        file=file,
        title=str(study.plan.title or ""),
        code=study.codes.id,
        code_title=study.codes.title,
        codes=(study.codes.array.id, study.codes.battery.id),
        local=study.codes.local,
        seen=_seen(rule_set, study.codes),
        findings=tuple(told),
        questions=said.questions,
        at_worst=said.at_worst,
        stories=in_stories,
        together=together(told, in_stories, trials),
        uses={a: tuple(uses[a]) for a in sorted(uses, key=lambda a: a.order)},
        ran=tuple(found.ran),
        planned=_planned(rule_set, settings, study),
        elsewhere=_elsewhere(rule_set, settings, study),
        settings=settings,
        opens=tuple(study.plan.opens()),
        waiting=tuple(found.waiting),
    )
    return Checked(study, result)


def _whatever_is_chosen(
    found: Run, study: Study, rule_set: RuleSet, settings: Settings
) -> frozenset[Known]:
    """What fails whatever is chosen where the plan leaves a choice; it becomes a finding."""
    if not found.waiting:
        return frozenset()
    rules = {finding.rule for finding in found.waiting}
    labels = frozenset(Label.of(a) for a in study.assume.unknowns.values() if study.waits_for(a))
    fails = {known_by(finding) for finding in found.waiting}
    for end in ENDS:
        kindly = study.read_as(chosen_kindly(labels, end))
        again = _run(kindly, rule_set, settings, rules, without=frozenset(found.stuck))
        fails &= {known_by(f) for f in (*again.findings, *again.waiting)}
    found.findings += [f for f in found.waiting if known_by(f) in fails]
    found.waiting = [f for f in found.waiting if known_by(f) not in fails]
    return frozenset(fails)


def _unheard(rule: str) -> None:
    """Where nothing is recorded, it is no matter which rule asks."""


def _run(
    study: Study,
    rule_set: RuleSet,
    settings: Settings,
    only: Set[str] | None = None,
    asked_by: AskedBy = _unheard,
    *,
    without: frozenset[str] = frozenset(),
    whatever: frozenset[Known] = frozenset(),
) -> Run:
    """Run every rule that is not switched off over a study.

    only: of these, where not None. asked_by: is told which rule asks from then on. without:
    rules that did not come back in time, which are not run again. whatever: findings that hold
    whatever is chosen of what the plan leaves open.
    """
    found = Run([_pack_failed(f, study) for f in rule_set.failures] if only is None else [])
    found.uses = {a: [] for a in study.noted} if only is None else {}
    with guarding() as guard:
        for rule_id in _planned(rule_set, settings, study, only):
            if rule_id not in without:
                asked_by(rule_id)
                _run_one(rule_set.rules[rule_id], study, settings, guard, found, whatever)
    unknowns = study.assume.unknowns.items()
    found.unknowns = {label: a for label, a in unknowns if not study.waits_for(a)}
    found.flags = frozenset(study.assume.flags)
    found.two_ended = frozenset(study.assume.two_ended)
    found.likeness = rule_set.likeness
    found.other_codes = study.other_codes
    return found


def _run_one(
    rule: Rule,
    study: Study,
    settings: Settings,
    guard: Guard,
    found: Run,
    whatever: frozenset[Known],
) -> None:
    """Run a rule over a study, and add to what was found; one that fails is told as such."""
    with noting_assumptions() as read:
        try:
            with guard:
                for observation in rule.observations(study, settings.options_of(rule.id)):
                    finding = _finding(rule, observation, study, settings)
                    doubts = (*_doubts(rule, observation, study), *_asked(observation, study))
                    asked = [doubt for doubt in doubts if not _not_yet(doubt, observation, study)]
                    found.doubtful += [Asked(doubt, (finding,)) for doubt in asked]
                    if not doubts:
                        waits = _waits(finding, study) and known_by(finding) not in whatever
                        (found.waiting if waits else found.findings).append(finding)
                    elif not asked:
                        found.waiting.append(finding)
            found.ran.append(rule.id)
        except KeyboardInterrupt:
            raise
        except BaseException as error:  # one that fails must not silence the others, nor end us
            found.findings.append(_rule_failed(rule, error, study))
            if isinstance(error, TookTooLong):
                found.stuck.append(rule.id)
    for assumption in read:
        found.uses.setdefault(assumption, []).append(rule.id)


def _seen(rule_set: RuleSet, codes: Bodies) -> str:
    """How much of the bodies of rules was seen in public text, counted from rules and data."""
    return said([(code, rule_set.seen(code.id)) for code in dict.fromkeys(codes)])


def _planned(
    rule_set: RuleSet,
    settings: Settings,
    study: Study | None = None,
    only: Set[str] | None = None,
) -> tuple[str, ...]:
    """The rules that are to run; all that are not switched off where no setting is known.

    only: of these, where not None.
    """
    planned = rule_set.planned(None if study is None else str(study.plan.setting))
    if only is not None:
        planned = tuple(rule_id for rule_id in planned if rule_id in only)
    return tuple(i for i in planned if i not in settings.off) if settings.off else planned


def _elsewhere(rule_set: RuleSet, settings: Settings, study: Study) -> dict[str, str]:
    """The rules that a plan's setting leaves out, and why each."""
    elsewhere = rule_set.elsewhere(str(study.plan.setting))
    return {rule: why for rule, why in elsewhere.items() if rule not in settings.off}


def _finding(rule: Rule, seen: Observation, study: Study, settings: Settings) -> Finding:
    """A finding made of what a rule saw and what it says of itself. Raises if that is amiss."""
    _refuse_malformed(seen)
    assumptions = _assumptions(seen.values)
    remedy = seen.remedy if isinstance(seen.remedy, Remedy) else Remedy(seen.remedy)
    level: Level = settings.level_of(rule.id, rule.level, seen.level or rule.level)
    others = tuple(Related(o.at, f"`{o.name}`") for o in seen.on[1:] if o.at != seen.on[0].at)
    code, told_in = study.code_of(str(seen.on[0].name), rule.part), study.assume.told_in
    return Finding(
        rule=rule.id,
        level=level,
        hazard=seen.hazard or rule.hazard,
        part=rule.part,
        verdict="certain",
        message=told_in.said(told_apart(seen.message, seen.values)),
        place=seen.on[0].at,
        subjects=tuple(str(o.name) for o in seen.on),
        rule_level=level,
        cause=seen.cause,
        related=(*others, *seen.related),
        basis=tuple(f"{c.cited}: {c.says}" for c in rule.basis_for(code.id)),
        local=rule.local or code.local,
        explanation=rule.explanation,
        caution=rule.caution if seen.hazard is None else None,
        remedy=told_in.said(remedy.words),
        ways=tuple(
            tuple(_written(as_sold(c, study.plan), told_in) for c in way)
            for way in remedy.ways
            if way
        ),
        values=seen.values,
        margin=seen.margin,
        assumptions=assumptions,
        acceptable=rule.acceptable,
        deadly=seen.deadly,
    )


def _written(amendment: Amendment, told_in: ToldUnits) -> Amendment:
    """A change of a value, in the units of the plan."""
    if isinstance(amendment, Change):
        return amendment._replace(text=told_in.written(amendment.text))
    return amendment._replace(distance=told_in.written(amendment.distance))


def _refuse_malformed(seen: Observation) -> None:
    """Raise TypeError or ValueError where what a rule saw cannot be shown."""
    if not isinstance(seen, Observation):
        raise TypeError(f"it gave {type(seen).__name__}, and not an observation")
    remedy = seen.remedy.words if isinstance(seen.remedy, Remedy) else seen.remedy
    for name, text in (("message", seen.message), ("remedy", remedy)):
        if not isinstance(text, str):
            raise TypeError(f"the {name} is {type(text).__name__}, and not text")
    if not seen.on:
        raise ValueError("an observation names no component")
    if seen.level is not None and seen.level not in LEVELS:
        raise ValueError(f"{seen.level!r} is none of {', '.join(LEVELS)}")
    if seen.hazard is not None and seen.hazard not in HAZARDS:
        raise ValueError(f"{seen.hazard!r} is none of {', '.join(HAZARDS)}")


def _doubts(rule: Rule, seen: Observation, study: Study) -> tuple[Assumption, ...]:
    """Labels that cannot be right and on which what a rule saw rests.

    What depends on them is a question, until the label is read again. Rules on labels themselves
    are what finds them.
    """
    if rule.part == "module" or not study.array.doubtful:
        return ()
    places = declared_places(seen.values) & set(study.array.doubtful)
    return tuple(
        Assumption(
            "label",
            study.array.doubtful[place],
            f"The label of `{study.array.doubtful[place]}` cannot be right.",
            "what its label says",
            place,
            LookUp(
                "the label of {names}, which cannot be right", "on the back of a module", "often"
            ),
        )
        for place in sorted(places)
    )


_PRESENCE = {
    "fuses": LookUp(
        "whether there is a fuse or breaker for {names}, and how far from what feeds it",
        "follow the wire from the battery or the joint",
        "often",
        presence=True,
    ),
    "switches": LookUp(
        "whether there is a switch or breaker that cuts {names} off",
        "follow the wires from the array",
        "often",
        presence=True,
    ),
    "frame_bonds": LookUp(
        "whether a conductor ties the frames of {names} to earth or chassis",
        "under the modules, at their frames",
        "often",
        presence=True,
    ),
    "batteries": LookUp(
        "whether a battery that starts the engine stays on {names}",
        "follow its cable, under the bonnet",
        "sometimes",
        presence=True,
    ),
}
"""How it is asked whether something is there that a plan, told in part, does not mention."""


def _waits(finding: Finding, study: Study) -> bool:
    """Whether a finding rests on what is not chosen yet."""
    return any(study.waits_for(assumption) for assumption in finding.assumptions)


def _not_yet(doubt: Assumption, seen: Observation, study: Study) -> bool:
    """Whether something is asked of a part that is still to be chosen, which has no label yet."""
    return seen.asks is not None and study.waits_for(doubt)


def _may_be_there(seen: Observation, study: Study) -> bool:
    """Whether a device that a plan does not mention may be there all the same.

    So it is where only a part is told, and on ways of which nothing but where they lead is told.
    """
    if study.plan.told.is_part(seen.absent):
        return True
    wires, names = study.plan.wires, [str(each.name) for each in seen.on]
    own = next((wires[name] for name in names if name in wires), None)
    if own is not None:
        return isinstance(own, FedWire)
    arrays = {*study.plan.strings, *study.plan.combiners}
    for wire in wires.values():
        ends = set(wire.components)
        if isinstance(wire, FedWire) and ends & arrays and ends.intersection(names):
            return True
    return False


def _asked(seen: Observation, study: Study) -> tuple[Assumption, ...]:
    """What has to be looked up before something can be said."""
    if seen.absent and _may_be_there(seen, study):
        about = seen.on[0]
        key = f"{seen.absent} not told"
        presence = _PRESENCE[seen.absent]
        return (Assumption(key, str(about.name), seen.message, "", about.at, presence),)
    if seen.asks is None:
        return ()
    about = seen.on[1] if len(seen.on) > 1 else seen.on[0]
    subject = str(about.name)
    return (Assumption("not told", subject, seen.message, "", about.at, seen.asks),)


def _assumptions(values: Iterable[Value]) -> tuple[Assumption, ...]:
    found = {a for value in values for a in value.assumptions}
    return tuple(sorted(found, key=lambda a: a.order))


def _rule_failed(rule: Rule, error: BaseException, study: Study) -> Finding:
    where = f"{rule.check.__module__} of pack `{rule.pack or OWN_PACK}`"
    message = f"rule `{rule.id}` failed ({where}): {reason(error)}; its findings are incomplete"
    return _failure(message, study)


def _pack_failed(failure: PackFailure, study: Study) -> Finding:
    message = f"`{failure.module}` of pack `{failure.pack}` cannot be used: {failure.reason}"
    return _failure(message, study)


def _not_computed(file: str, error: BaseException) -> Finding:
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
        verdict="certain",
        message=message,
        place=place,
        subjects=("plan",),
        explanation="A check that did not finish says nothing about the plan. What it guards "
        "against is not known to be absent.",
        remedy="Report it to those who keep the rule; do not rely on this run until it is mended.",
        acceptable=False,
    )
