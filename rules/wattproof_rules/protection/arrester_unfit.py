"""Surge arresters of another system voltage than what they lie across."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.arresters import Arrested
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the continuous voltage of an arrester lies above the highest voltage of its circuit, and "
        "at most at twice what the parts behind it are made for"
    ),
}

MORE = """\
arresters:
  surge: {across: house, voltage: 24 V}
"""


@rule(
    id="arrester-unfit",
    summary="Continuous voltage of a surge arrester against the voltage of what it lies across.",
    covers=("A surge arrester of another system voltage",),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A surge arrester lets nothing through up to its continuous voltage and very much "
    "at a few times that. One that is meant for a lower voltage conducts all the time, heats up "
    "and burns. One that is meant for a far higher voltage never wakes: what it should protect is "
    "long destroyed when it begins to conduct.",
    caution=warning("An arrester that conducts without a surge overheats and can burn."),
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("across: house, voltage: 24 V", "across: house, voltage: 12 V"),
)
def arrester_unfit(study: Study) -> Iterator[Observation]:
    for each in study.wiring.arrested:
        low = not each.on_array and exceeds(each.highest, each.rated)
        if low:
            yield _low(each)
        elif each.stands is not None and exceeds(each.rated, each.most):
            yield _high(each)


def _low(each: Arrested) -> Observation:
    return Observation(
        message=(
            f"`{each.name}` is made for {each.rated} and sits across `{each.across}`, which "
            f"reaches {each.highest} on charge"
        ),
        on=(each.arrester,),
        values=(each.highest, each.rated),
        margin=margin_below(each.highest, each.rated),
        remedy=_remedy(each),
        cause="low",
    )


def _high(each: Arrested) -> Observation:
    return Observation(
        message=(
            f"`{each.name}` is made for {each.rated} and sits across `{each.across}`, where the "
            f"parts bear {each.stands} at most: it protects nothing there"
        ),
        on=(each.arrester,),
        values=(each.rated, each.most),
        margin=margin_below(each.rated, each.most),
        remedy=_remedy(each),
        level="warning",
        cause="high",
    )


def _remedy(each: Arrested) -> Remedy:
    usual = each.usual
    return Remedy(
        f"use an arrester for some {usual:g} V of direct current: more than {each.highest}, and "
        "as little more as is sold",
        ((Change(each.name, "voltage", f"{usual:g} V"),),),
    )
