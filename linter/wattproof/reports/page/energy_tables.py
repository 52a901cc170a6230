"""A day's balance of each bank as tables: what is used, what the sun brings, how long it lasts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from wattproof.reports.writing.tables import (
    DOES_NOT_APPLY,
    NONE,
    NOT_KNOWN,
    Column,
    Field,
    Table,
    listed,
    measured,
    said,
    table,
)

if TYPE_CHECKING:
    from wattproof.study.energy.balance import Balance, EnergyStudy

REMEMBER: Final = (
    "A balance is no promise: weather, shade, dust and habits differ by more than any of these "
    "figures. What an alternator or a charger brings is not reckoned."
)

_BALANCE: Final[tuple[Field[tuple[EnergyStudy, Balance]], ...]] = (
    Field(Column("bank"), lambda r: said(_name(r[0]))),
    Field(Column("period"), lambda r: said(r[1].name)),
    Field(Column("used a day", align="right"), lambda r: measured(r[1].used)),
    Field(Column("harvest, at least", align="right"), lambda r: measured(r[1].least, NOT_KNOWN)),
    Field(Column("harvest, at most", align="right"), lambda r: measured(r[1].most, NOT_KNOWN)),
    Field(
        Column("under the clearest sky", align="right"), lambda r: measured(r[1].limit, NOT_KNOWN)
    ),
)
_LASTS: Final[tuple[Field[EnergyStudy], ...]] = (
    Field(Column("bank"), lambda r: said(_name(r))),
    Field(Column("usable energy", align="right"), lambda r: measured(r.usable)),
    Field(Column("most is used"), lambda r: said(r.most_used.period.when)),
    Field(
        Column("lasts without sun, days", align="right"),
        lambda r: measured(r.autonomy, DOES_NOT_APPLY),
    ),
    Field(Column("other sources"), lambda r: listed((str(o.name) for o in r.others), NONE)),
)


def tables_of(energy: Sequence[EnergyStudy]) -> Iterator[Table]:
    """The tables; none where the plan says nothing of sun and use."""
    told = [each for each in energy if each.balances]
    if not told:
        return
    rows = [(each, balance) for each in told for balance in each.balances]
    yield table("energy", "A day in each period", "", rows, _BALANCE, lambda r: _link(r[0]))
    yield table("autonomy", "Days without sun", "", told, _LASTS, _link)


def _name(energy: EnergyStudy) -> str:
    return ", ".join(bank.name for bank in energy.banks)


def _link(energy: EnergyStudy) -> str:
    return energy.name if len(energy.banks) == 1 else ""
