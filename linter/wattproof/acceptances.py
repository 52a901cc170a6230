"""What the owner of a plan accepts: by rule and component, with a reason and an end."""

from __future__ import annotations

import datetime
import math
from collections.abc import Container

from wattproof.finding import Acceptance, Finding, Level
from wattproof.packs import RuleSet
from wattproof.plan.root import Accepted
from wattproof.source import Place
from wattproof.study import Study


def with_acceptances(
    findings: list[Finding],
    rule_set: RuleSet,
    study: Study,
    today: datetime.date,
    *,
    off: Container[str] = (),
) -> list[Finding]:
    """Findings with the owner's acceptances applied, and findings about those acceptances.

    off: rules that were not run, so that nothing is known of what their acceptances are for.
    """
    about: list[Finding] = []
    for accepted in study.plan.accepted:
        matched = [
            i
            for i, f in enumerate(findings)
            if f.rule == _current_id(accepted.rule, rule_set) and accepted.where in f.subjects
        ]
        refusal = _refusal(accepted, [findings[i] for i in matched], rule_set, today)
        if refusal is not None:
            did_run = _current_id(accepted.rule, rule_set) not in off
            if did_run or refusal.rule != "acceptance-unused":
                about.append(refusal)
            continue
        for i in matched:
            findings[i] = findings[i]._replace(acceptance=_acceptance(accepted))
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
    if accepted.margin is None and worst is not None and worst < 0.0:
        past = margin_to_accept(worst)
        message = (
            f"the acceptance of {shown} tells no `margin`, so that it would hold however far the "
            f"limit is passed, and does not count; it is passed by {past} now"
        )
        remedy = f"look at it again, and write `margin: {past}`"
        return _about("acceptance-without-margin", "warning", accepted, message, remedy)
    if accepted.margin is not None and worst is not None and -worst > accepted.margin.value + 5e-4:
        message = (
            f"{shown} was accepted at {accepted.margin} past its limit and is now at "
            f"{-worst * 100:.1f} %"
        )
        remedy = "look at it again"
        return _about("acceptance-outgrown", "warning", accepted, message, remedy)
    return None


def margin_to_accept(margin: float | None) -> str:
    """The `margin` with which a finding of this margin is accepted; empty where it needs none."""
    if margin is None or margin >= 0.0:
        return ""
    return f"{math.ceil(-margin * 1000.0 - 1e-6) / 10.0:g} %"


def _about(rule: str, level: Level, accepted: Accepted, message: str, remedy: str) -> Finding:
    place: Place = accepted.rule.place
    return Finding(
        rule=rule,
        level=level,
        hazard="legal",
        part="plan",
        verdict="certain",
        rule_level=level,
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
