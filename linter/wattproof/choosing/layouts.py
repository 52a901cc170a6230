"""Every layout of a plan, checked by all rules, with what it gives and what it needs; in order.

Nothing is computed here that the study computes: each layout is a plan of its own, with its own
study and its own result, the same as if it had been written by hand.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping
from typing import Final, NamedTuple

from wattproof.choosing.controllers import LIMITS, judging, of_open_controllers, sold_for
from wattproof.choosing.joining import Joining, Share, joinings, open_arrays, unlike
from wattproof.choosing.laid_out import laid_out, names_of
from wattproof.choosing.needs import Needs, needs_of
from wattproof.choosing.ways import with_usual_cables
from wattproof.engine import OWN_FINDINGS, RULE_FAILED, Result, check
from wattproof.finding import HAZARDS, Change, Finding
from wattproof.loading import study_of_plan
from wattproof.packs import RuleSet
from wattproof.plan.fields import Count
from wattproof.plan.root import Plan
from wattproof.plan.shade import ShadeCase, Shadow
from wattproof.quantities import Quantity, read_quantity
from wattproof.settings import NOTHING_SET, Settings
from wattproof.source import Place, PlanUnusable, Problem, Text
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.assumptions.labels import SOLD_INPUTS
from wattproof.study.assumptions.readings import VOC_OF_LABEL
from wattproof.study.curves.curves import CURVE_STATES, CurveStudy, OperatingPoint
from wattproof.study.site.states import State
from wattproof.working import Value, declared, total

MOST: Final = 32
"""Most layouts that are checked, so that sixteen modules on three inputs take seconds."""
MOST_LEFT_OVER: Final = 4
"""Most modules that are left over where no layout of all of them is free of errors."""
WORTH_LEAVING: Final = 0.1
"""How much more power fewer modules have to give, to be told beside all of them."""
LIGHT: Final = "20 %"
"""Light that reaches a module in the shade, where the plan tells no case (common practice)."""
ONE_SHADED: Final = "one module shaded"
OF_ACCEPTANCES: Final = frozenset(OWN_FINDINGS) - {RULE_FAILED}
"""Findings on what the owner accepts, which no layout changes."""
_OF_LENGTH: Final = (
    "cold-voltage-over-controller",
    "hot-voltage-under-battery",
    "tracker-will-not-start",
)
"""Rules on the voltage of an array, which the number of modules in series sets."""
_LABELS: Final = (
    *("site: coldest", "voc", "voc_coefficient", "isc", "vmp", "imp"),
    *("kind", "max_input_voltage", "max_output_current", "chemistry", "nominal"),
)
"""Labels, and the cold, that set voltages and currents, by their keys."""
EQUAL: Final = 0.01
"""Share within which two layouts are told as equal."""
CLOSE: Final = 0.03
"""Share of power within which risks and parts decide: labels and weather are not known better."""
IN_SHADE: Final = 0.1
"""The same of power under a case of shade that the plan tells: somebody looked, and it is there."""
LARGE_INPUT: Final = 150.0
"""Input voltage (V) above which controllers are few and dear, where one is still to be chosen
(common practice)."""
SMALL_INPUT: Final = 25.0
"""Input voltage (V) that small boxes, vehicle chargers and pulse-width controllers take (common
practice)."""
WEIGHTS: Final[dict[str, float]] = {"standard": 0.4, "hottest": 0.4, "shade": 0.2}
"""How much the power in each state counts; all cases of shade share theirs."""
NO_SHADE_TOLD: Final[dict[str, float]] = {"standard": 0.45, "hottest": 0.45, "shade": 0.1}
"""The same where the plan tells no shade, and one module is shaded to compare."""


class Input(NamedTuple):
    """One array of a layout against its controller.

    cold, limit: open-circuit voltage on the coldest morning and what the input takes (V). hot,
    needed: voltage at the hottest noon and what charging needs; needed is None where none is asked.
    current, takes: short-circuit current in bright sun and what the input stands, where stated (A).
    output, gives: current into the battery in the brightest of the states, and what it is rated
    for (A). to_choose: the limit and the rating of a controller that is still to be chosen, the
    smallest with which no rule asks for more; empty where that is told. limit and gives are these
    then, and output is what all of the sun would bring. smallest: what the smallest inputs of such
    controllers take (V).
    """

    name: str
    cold: Value
    limit: Value
    hot: Value
    needed: Value | None
    current: Value
    takes: Value | None
    output: Value | None
    gives: Value | None
    to_choose: tuple[str, str] = ("", "")
    smallest: float = SOLD_INPUTS[0]

    @property
    def is_large(self) -> bool:
        """Whether it takes a controller of a voltage that few have, and nobody chose one yet."""
        return bool(self.to_choose[0]) and self.limit.number > LARGE_INPUT

    @property
    def is_guessed(self) -> bool:
        """Whether nobody told what the input takes, where a controller is there already."""
        return not self.to_choose[0] and bool(self.limit.assumptions)

    @property
    def rests_on_a_guess(self) -> bool:
        """Whether it has more than every such input takes, and nobody told what this one does.

        Labels may be off.
        """
        most = self.smallest * (1.0 - VOC_OF_LABEL.value)
        return self.is_guessed and self.cold.number > most


class Tried(NamedTuple):
    """One layout, checked.

    joining: how the modules are joined. plan: as read, with that written in it. result: of all
    rules, as `check` has it. own: what is found in it and not in the rest of the plan, the gravest
    first. power: into the battery (W), by state and case of shade. energy: a day at least and at
    most (J), by period. kept: what is wrong when portable strings are taken away.
    """

    joining: Joining
    plan: Plan
    study: Study
    result: Result
    own: tuple[Finding, ...]
    inputs: tuple[Input, ...]
    power: Mapping[str, Value]
    energy: Mapping[str, tuple[Value, Value]]
    needs: Needs
    kept: tuple[Finding, ...]

    @property
    def name(self) -> str:
        """Such as `2s2p`."""
        return self.joining.name

    @property
    def reason(self) -> Finding | None:
        """The first finding by which it fails, or by which it gives nothing; None where it fits."""
        found = next((f for f in self.own if fails(f)), None)
        if found is not None or not self.is_idle:
            return found
        return next((f for f in self.own if f.hazard == "lost-energy" and f.level != "note"), None)

    @property
    def is_idle(self) -> bool:
        """Whether nothing reaches the battery, in full sun and at the hottest noon."""
        full = [self.power[state].number for state in NO_SHADE_TOLD if state in self.power]
        return bool(full) and max(full) <= 0.0

    @property
    def standing(self) -> tuple[bool, bool]:
        """Whether it fails, and whether it needs what is not sold."""
        return self.reason is not None, self.needs.unmet

    @property
    def by_hazard(self) -> dict[str, int]:
        """How many errors and warnings there are of each hazard."""
        grave = [f for f in self.own if f.level != "note"]
        return {h: n for h in HAZARDS if (n := sum(f.hazard == h for f in grave))}

    def keeps_up_with(self, other: Tried) -> bool:
        """Whether no case of shade that the plan tells takes a tenth more of its power."""
        cases = [str(name) for name in self.plan.shade if name in self.power]
        return all(
            self.power[case].number >= (1.0 - IN_SHADE) * other.power[case].number
            for case in cases
            if case in other.power
        )

    @property
    def dangers(self) -> int:
        """How many errors and warnings there are but those of power, which its states tell."""
        return sum(n for hazard, n in self.by_hazard.items() if hazard != "lost-energy")

    @property
    def loses(self) -> bool:
        """Whether it warns that power is lost by how the modules are joined."""
        return any(f.hazard == "lost-energy" and f.level != "note" for f in self.own)

    @property
    def is_large(self) -> bool:
        """Whether it asks for a controller of a voltage that few have."""
        return any(each.is_large for each in self.inputs)

    @property
    def guessed(self) -> Input | None:
        """The input of most voltage that rests on a guess; None where none does."""
        found = (each for each in self.inputs if each.rests_on_a_guess)
        return max(found, key=lambda each: each.cold.number, default=None)

    @property
    def sags(self) -> bool:
        """Whether the hottest noon leaves an input less voltage than charging needs."""
        return bool(self.too_low)

    @property
    def too_low(self) -> tuple[Input, ...]:
        """The inputs that the hottest noon leaves less voltage than charging needs."""
        return tuple(
            i for i in self.inputs if i.needed is not None and i.hot.number < i.needed.number
        )

    def score(self, weights: Mapping[str, float]) -> float:
        """The power over all states that are known, weighted (W)."""
        shades = [name for name in self.power if name not in weights]
        share = weights["shade"] / max(1, len(shades))
        of = {name: weights.get(name, share) for name in self.power}
        whole = sum(of.values())
        return sum(v.number * of[n] for n, v in self.power.items()) / whole if whole else 0.0


def fails(finding: Finding) -> bool:
    """Whether a layout with it does not fit: an error, be it only by what is usual.

    What is mended by a current that is set in the controller stays told, and is no reason to leave
    modules over.
    """
    likely = finding.verdict == "likely" and finding.rule_level == "error"
    grave = finding.level == "error" or (likely and finding.level == "warning")
    return grave and not can_be_set(finding)


def can_be_set(finding: Finding) -> bool:
    """Whether a way of its remedy does no more than set controllers to a lower current."""
    return any(
        all(isinstance(change, Change) and change.key == "limited_to" for change in way)
        for way in finding.ways
    )


class Layouts(NamedTuple):
    """All layouts of a plan, the best first.

    rest: what is wrong with the rest of the plan. always: what is found in every layout alike.
    unchecked: how many layouts there are beyond the bound. weights: how much the power in each
    state counts. taken: what is taken of labels that nobody told and any layout rests on, in
    sentences.
    """

    plan: Plan
    file: str
    tried: tuple[Tried, ...]
    rest: Result
    always: tuple[Finding, ...]
    unchecked: int
    weights: Mapping[str, float]
    taken: tuple[str, ...] = ()

    @property
    def fitting(self) -> tuple[Tried, ...]:
        """Those that fit, the best first."""
        return tuple(each for each in self.tried if each.reason is None)


def layouts_of(
    plan: Plan,
    rules: RuleSet,
    *,
    file: str,
    today: datetime.date,
    settings: Settings = NOTHING_SET,
    weights: Mapping[str, float] | None = None,
) -> Layouts:
    """Every layout of a plan as read. weights: how much the power in each state counts.

    Raises PlanUnusable where no arrangement is open, and where a layout cannot be drawn.
    """
    arrays = open_arrays(plan)
    if not arrays:
        message = "no arrangement is open, so there is nothing to lay out"
        instead = "write `arrangement: open` and `count: …` for the string in question"
        raise PlanUnusable([Problem(plan.setting.place, message, instead)])
    checking = _Checking(plan, rules, file, today, settings)
    tried, unchecked = checking.all_of(joinings(plan))
    most = sum(int(s.count or 1) for s in arrays.values()) - len(arrays)
    weights = weights or (WEIGHTS if plan.shade else NO_SHADE_TOLD)
    for unused in range(1, min(MOST_LEFT_OVER, most) + 1):
        best = _best_of(tried, weights)
        if best is not None and not best.loses:
            break
        more, left = checking.all_of(joinings(plan, unused))
        if best is not None:
            more, left = _worth_it(more, tried, best, weights), 0
        tried, unchecked = [*tried, *more], unchecked + left
    tried, always = _apart(tried)
    ranked = tuple(in_order(tried, weights))
    taken = tuple(_taken(ranked[0].result)) if ranked else ()
    return Layouts(plan, file, ranked, checking.rest, always, unchecked, weights, taken)


def _best_of(tried: list[Tried], weights: Mapping[str, float]) -> Tried | None:
    """The first that fits, with all that is found in it; None where none does."""
    first = next(iter(in_order(_apart(tried)[0], weights)), None)
    if first is None or any(first.standing):
        return None
    return next(each for each in tried if each.joining == first.joining)


def _worth_it(
    fewer: list[Tried], tried: list[Tried], best: Tried, weights: Mapping[str, float]
) -> list[Tried]:
    """Those of fewer modules that fit, lose nothing and give clearly more than the best of all."""
    level = (1.0 + WORTH_LEAVING) * best.score(weights)
    fits = {e.joining for e in _apart([*tried, *fewer])[0] if not any(e.standing)}
    fits = {e.joining for e in fewer if e.joining in fits and not e.loses}
    return [e for e in fewer if e.joining in fits and e.score(weights) > level]


def _taken(result: Result) -> Iterator[str]:
    """What stands in for labels and the cold, of those that set voltages and currents."""
    for assumption in result.uses:
        if assumption.instead in _LABELS:
            yield assumption.says


def _apart(tried: list[Tried]) -> tuple[list[Tried], tuple[Finding, ...]]:
    """The layouts without what is found in all of them with the same words, and that."""
    if len(tried) < 2:
        return tried, ()
    said = set.intersection(*({(f.rule, f.message) for f in each.own} for each in tried))
    always = tuple(f for f in tried[0].own if (f.rule, f.message) in said)
    if not always:
        return tried, ()
    own = [tuple(f for f in e.own if (f.rule, f.message) not in said) for e in tried]
    return [e._replace(own=o) for e, o in zip(tried, own, strict=True)], always


def in_order(tried: Iterable[Tried], weights: Mapping[str, float]) -> Iterator[Tried]:
    """Those that fit first, of them those for which all is sold, then by power.

    Of those that are close by it, the one that `beside` puts first.
    """
    left = sorted(tried, key=lambda each: (each.standing, -each.score(weights)))
    while left:
        best = left[0]
        level = (1.0 - CLOSE) * best.score(weights)
        close = [e for e in left if e.standing == best.standing and e.keeps_up_with(best)]
        close = [e for e in close if e.score(weights) >= level]
        chosen = min(close, key=lambda e: (*beside(e), -e.score(weights)))
        left.remove(chosen)
        yield chosen


def beside(tried: Tried) -> tuple[int, int, bool, bool, bool, int, int]:
    """What decides among layouts of about the same power, what is least first.

    Modules that are left over, what warns of danger, whether it is destroyed by some inputs where
    nobody told what this one takes, whether it charges to the end at the hottest
    noon, whether it asks for a controller that few have, how many unlike arrays there are, since
    alike ones are built and mended alike, and how many parts there are to buy and to fail.
    """
    left_over, forms = tried.joining.unused, unlike(tried.joining)
    guessed = tried.guessed is not None
    return left_over, tried.dangers, guessed, tried.sags, tried.is_large, forms, tried.needs.parts


def equal(one: Tried, other: Tried) -> bool:
    """Whether two layouts give the same power within 1 % in every state."""
    pairs = [(one.power[s].number, other.power[s].number) for s in one.power if s in other.power]
    return bool(pairs) and all(abs(a - b) <= EQUAL * max(a, b) for a, b in pairs)


class _Checking:
    """Checks layouts of one plan, and the plan without the modules that are to be laid out."""

    def __init__(
        self, plan: Plan, rules: RuleSet, file: str, today: datetime.date, settings: Settings
    ) -> None:
        self.plan = plan
        self.rules = rules
        self.file = file
        self.today = today
        self.settings = settings
        self.left = MOST
        self.judging = judging(rules)
        self.rest = self._checked(study_of_plan(plan))
        self._known = {(f.rule, f.subjects[0], f.level) for f in self.rest.each}

    def all_of(self, ways: tuple[Joining, ...]) -> tuple[list[Tried], int]:
        """Those that the bound allows, and how many it leaves out.

        Where there are too many, those go first that put as many in series on an input as a layout
        before them, which had too much voltage in the cold by that, or too little in heat.
        """
        tried: list[Tried] = []
        undrawn: list[PlanUnusable] = []
        wrong: set[tuple[str, str, int]] = set()
        bounded = len(ways) > self.left
        for joining in ways:
            if self.left == 0:
                break
            if bounded and wrong.intersection(map(_length_of, joining.shares)):
                continue
            self.left -= 1
            try:
                each = self.one(joining)
            except PlanUnusable as unusable:  # an input is left over that cannot be
                undrawn.append(unusable)
                continue
            tried.append(each)
            wrong |= set(_wrong_lengths(each, names_of(self.plan, joining)))
        if undrawn and not tried:
            raise undrawn[0]
        return tried, len(ways) - len(tried) - len(undrawn)

    def one(self, joining: Joining) -> Tried:
        """One layout, checked as its plan by hand would be."""
        made = laid_out(self.plan, joining)
        study = study_of_plan(made)
        result = self._checked(study)
        live = [f for f in result.findings if f.acceptance is None]
        live = [f for f in live if f.rule not in OF_ACCEPTANCES]
        guessed = (d.as_finding() for q in result.questions for d in q.decides)
        live += [f for f in guessed if f.rule in _OF_LENGTH and f.level == "error"]
        own = [f for f in live if (f.rule, f.subjects[0], f.level) not in self._known]
        cabled = with_usual_cables(made)
        return Tried(
            joining,
            made,
            study,
            result,
            tuple(own),
            self._inputs(made, study),
            _power(study),
            _energy(study),
            needs_of(study, study if cabled is made else study_of_plan(cabled), result),
            tuple(f for f in live if f.when),
        )

    def _inputs(self, plan: Plan, study: Study) -> tuple[Input, ...]:
        """Each array against its controller, or against what has to be chosen for it."""
        asked = of_open_controllers(self.settings)
        sold = sold_for(plan, lambda p: self._checked(study_of_plan(p), self.judging, asked))
        return tuple(_input(study, array, sold) for array in study.array.arrays)

    def _checked(
        self, study: Study, rules: RuleSet | None = None, settings: Settings | None = None
    ) -> Result:
        return check(
            study,
            rules or self.rules,
            file=self.file,
            today=self.today,
            settings=settings or self.settings,
            try_remedies=False,
            ask=False,
        ).result


def _length_of(share: Share) -> tuple[str, str, int]:
    return share.string, share.input, share.layout.in_series


def _wrong_lengths(tried: Tried, names: dict[Share, str]) -> Iterator[tuple[str, str, int]]:
    """Strings too long or too short for their input, whatever is beside them."""
    found = [f for f in tried.result.each if f.rule in _OF_LENGTH and f.level != "note"]
    subjects = {subject for finding in found for subject in finding.subjects}
    yield from (_length_of(share) for share, name in names.items() if name in subjects)


def _input(study: Study, array: ArrayStudy, sold: Mapping[tuple[str, str], str]) -> Input:
    window = study.curves.window_of(array)
    curves = study.curves.curve_of(array)
    points = [curves.operating(s) for s in CURVE_STATES] if curves is not None else []
    given = [point.output for point in points if point is not None and point.output is not None]
    most = max(given, key=lambda amps: amps.number, default=None)
    controller = array.controller
    name = str(controller.name)
    volts, amps = (sold.get((name, key), "") for key in LIMITS)
    takes, gives = (
        controller.max_input_current,
        controller.limited_to or controller.max_output_current,
    )
    limit, gives = _of_sold(volts, "voltage"), _of_sold(amps, "current") or gives
    return Input(
        array.name.removeprefix("array at "),
        array.voc("coldest"),
        declared(limit, "Umax", f"highest input voltage to choose for {name}")
        if limit
        else array.input_limit,
        window.hot,
        window.needed,
        array.isc("bright"),
        declared(takes, "Imax", "short-circuit current of the input") if takes else None,
        (study.curves.offered_to(array) if amps else None) or most,
        declared(gives, "Iout", "rated output current") if gives else None,
        (volts, amps),
        SOLD_INPUTS[0] if controller.kind == "mppt" and not controller.sealed else SMALL_INPUT,
    )


def _of_sold(text: str, dimension: str) -> Quantity | None:
    return read_quantity(Text.at(text, Place("", 1, 1, 1, 1)), dimension) if text else None


def _power(study: Study) -> dict[str, Value]:
    """Power into the battery (W) by state, in the plan's cases of shade, and with one shaded."""
    found: dict[str, Value] = {}
    for state in ("standard", "hottest"):
        watts = _together(study, [c.operating(state) for c in study.curves.curves])
        if watts is not None:
            found[state] = watts
    for case in study.plan.shade.values():
        watts = _in_shade(study, case)
        if watts is not None:
            found[str(case.name)] = watts
    if not study.plan.shade:
        cases = [_one_shaded(str(name)) for name in study.plan.strings]
        each = [watts for case in cases if (watts := _in_shade(study, case)) is not None]
        if each:
            found[ONE_SHADED] = min(each, key=lambda watts: watts.number)
    return found


def _in_shade(study: Study, case: ShadeCase) -> Value | None:
    """Power into the battery under a case of shade; other arrays stand in the sun of its state."""
    points: list[OperatingPoint | None] = []
    for curves in study.curves.curves:
        shaded = curves.shaded(case)
        state: State = next(s for s in CURVE_STATES if s == case.state)
        points.append(shaded.operating if shaded is not None else curves.operating(state))
    return _together(study, points)


def _one_shaded(string: str) -> ShadeCase:
    place = Place("", 1, 1, 1, 1)
    module = Count(1)
    module.place, module.text = place, "1"
    light = read_quantity(Text.at(LIGHT, place), "share")
    shadow = Shadow.model_construct(string=Text.at(string, place), module=module, light=light)
    return ShadeCase.model_construct(name=Text.at(ONE_SHADED, place), shadows=[shadow])


def _together(study: Study, points: Iterable[OperatingPoint | None]) -> Value | None:
    """What all controllers give together (W); the inputs of one share what it is rated for."""
    by_controller: dict[str, list[tuple[CurveStudy, OperatingPoint]]] = {}
    for curves, point in zip(study.curves.curves, points, strict=True):
        if point is None:
            return None
        by_controller.setdefault(str(curves.array.controller.name), []).append((curves, point))
    watts: list[Value] = []
    for name, held in by_controller.items():
        power = total([point.power for _, point in held])
        controller = held[0][0].array.controller
        rated = controller.limited_to or controller.max_output_current
        given = [point.output for _, point in held if point.output is not None]
        if rated is not None and len(given) > 1 and total(given).number > rated.value:
            most = declared(rated, f"Iout({name})", f"rated output current of {name}")
            power = power * most / total(given)
        watts.append(power)
    return total(watts).named("P", "power into the battery", "W") if watts else None


def _energy(study: Study) -> dict[str, tuple[Value, Value]]:
    """A day's harvest at least and at most (J), by period; nothing where no use is told."""
    found: dict[str, tuple[Value, Value]] = {}
    for bank in study.energy.balances:
        for balance in bank.balances:
            least, most = balance.least, balance.most
            if least is None or most is None:
                continue
            if before := found.get(balance.name):
                least, most = before[0] + least, before[1] + most
            found[balance.name] = (least, most)
    return found
