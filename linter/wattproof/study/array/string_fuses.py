"""Which fuse a string of modules takes: large enough for its own current, small enough for it."""

from __future__ import annotations

from wattproof.codes import BodyOfRules
from wattproof.record import record
from wattproof.study.limits import SLACK, over
from wattproof.study.site.climate import from_table
from wattproof.working import Value


@record
class FuseWindow:
    """Between which ratings the fuse of a string lies.

    lower: from its short-circuit current (A). upper: likewise, None where the body has none.
    label: the module's maximum series fuse (A). standard: the standard ratings in the window (A),
    ascending.
    """

    lower: Value
    upper: Value | None
    label: Value
    standard: tuple[float, ...]

    @property
    def strict(self) -> bool:
        """True where the lower end must be exceeded (IEC 62548), not only met (NEC 690.9)."""
        return self.upper is not None

    def reaches_lower(self, rating: float) -> bool:
        """True where a rating (A) is large enough for the string's own current."""
        if self.strict:
            return over(rating, self.lower.number)
        return not over(self.lower.number, rating)

    def under_upper(self, rating: float) -> bool:
        """True where a rating (A) stays under the body's upper factor, if it has one."""
        return self.upper is None or over(self.upper.number, rating)

    @property
    def words(self) -> str:
        """What to use: the standard ratings that fit, or that there is none."""
        uppers = [value for value in (self.upper, self.label) if value is not None]
        low, high = self.lower, min(uppers, key=lambda value: value.number)
        if not self.standard:
            return f"no standard rating lies between {low} and {high}"
        *others, last = (f"{rating:g}" for rating in self.standard)
        return f"{', '.join(others)} or {last} A" if others else f"{last} A"


def most_without(isc: Value, limit: float, code: BodyOfRules) -> int:
    """How many alike strings of that current (A) may be in parallel without fuses.

    limit: what one of them stands backwards (A). At least one.
    """
    one = code.reverse_current_factor.value * isc.number
    return int(limit / one * (1.0 + SLACK)) + 1


def fuse_window(name: str, isc: Value, label: Value, code: BodyOfRules) -> FuseWindow:
    """The window of a string with that short-circuit current and label (A)."""
    lower_factor, upper_factor = code.string_fuse_window(isc.number)
    lower = from_table(lower_factor, "klower") * isc
    lower = lower.named(f"Inmin({name})", f"smallest string fuse of {name}", "A")
    upper = None
    if upper_factor is not None:
        upper = from_table(upper_factor, "kupper") * isc
        upper = upper.named(f"Inmax({name})", f"string fuse of {name} to be stayed under", "A")
    whole = FuseWindow(lower, upper, label, ())
    standard = tuple(
        rating
        for rating in code.standard_ratings()
        if whole.reaches_lower(rating)
        and whole.under_upper(rating)
        and not over(rating, label.number)
    )
    return FuseWindow(lower, upper, label, standard)
