"""Makes assumptions, and the numbers that rest on them, from the rows of the tables."""

from __future__ import annotations

from wattproof.plan.root import Plan
from wattproof.source import Place
from wattproof.study.assumptions.climate import (
    ARRAY_AMBIENT,
    ENGINE_AMBIENT,
    ENGINE_AMBIENT_ELSEWHERE,
    INSIDE_AMBIENT,
    NO_AMBIENT,
    NO_COLDEST,
    NO_HOTTEST,
)
from wattproof.study.assumptions.rows import Silence
from wattproof.working import Assumption, Value, assumed


class Assumer:
    """Makes assumed values for one plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    def value(
        self,
        silence: Silence,
        subject: str,
        place: Place,
        *,
        kind: str = "",
        number: float | None = None,
        **told: str,
    ) -> Value:
        """The number that is taken where the plan is silent.

        subject: the component, or the site. place: where the plan would say it.
        kind: of the thing, where figures differ by it. number: in SI, where it was worked out.
        told: what else the sentences of the row name.
        """
        if number is None:
            number = silence.number(kind)
        known = {
            "subject": subject,
            "kind": kind,
            "number": number,
            "percent": number * 100.0,
            "milli": number * 1000.0,
            "hours": number / 3600.0,
            "per_hour": number * 3600.0,
            **told,
        }
        symbol, words = silence.symbol.format_map(known), silence.words.format_map(known)
        reason = _assumption(silence, subject, place, known)
        return assumed(number, silence.unit, symbol, words, reason)

    def noted(self, silence: Silence, subject: str, place: Place, **told: object) -> Assumption:
        """An assumption that carries no number of its own."""
        return _assumption(silence, subject, place, {"subject": subject, **told})

    def coldest(self) -> Value:
        """Lowest air temperature with daylight (°C)."""
        setting = self.plan.setting
        return self.value(NO_COLDEST, "site", setting.place, kind=setting)

    def hottest(self) -> Value:
        """Highest air temperature in the shade (°C)."""
        return self.value(NO_HOTTEST, "site", self.plan.setting.place)

    def ambient(self, array_side: bool, engine: bool, subject: str, place: Place) -> Value:
        """Hottest air around a conductor or in a place (°C)."""
        if engine:
            where = "in an engine space"
            celsius = ENGINE_AMBIENT.value.get(self.plan.setting, ENGINE_AMBIENT_ELSEWHERE.value)
        elif array_side:
            where, celsius = "on the array side", ARRAY_AMBIENT.value
        else:
            where, celsius = "inside", INSIDE_AMBIENT.value
        return self.value(NO_AMBIENT, subject, place, number=celsius, where=where)


def _assumption(
    silence: Silence, subject: str, place: Place, known: dict[str, object]
) -> Assumption:
    says, instead = silence.says.format_map(known), silence.instead.format_map(known)
    return Assumption(silence.key, subject, says, instead, place)
