"""How much of the bodies of rules was seen in public text: counted from the data, and said."""

from __future__ import annotations

from typing import cast

import pytest

from plans import BASE
from wattproof.codes import BodyOfRules, body, known
from wattproof.codes.seen import Seen, figures_and_rows
from wattproof.codes.tables import table
from wattproof.packs import discover
from wattproof.testing import check_text


@pytest.mark.parametrize("name", known())
def test_shares_are_counted_from_the_data(name: str) -> None:
    found = figures_and_rows(body(name))
    assert 0 < found.seen < found.of


def test_the_rows_of_every_table_of_a_body_count() -> None:
    rows = sum(
        len(table(name).rows)
        for name in ("abyc-e11-ampacity", "abyc-e11-engine-space", "abyc-e11-bundling")
    )
    assert figures_and_rows(body("abyc-e11")).of > rows
    assert str(Seen(3, 7)) == "3 of 7"


def test_every_result_says_it() -> None:
    rules = discover()
    result = check_text(BASE, rules)
    clauses = [r.basis["nec-2023"] for r in rules.rules.values() if "nec-2023" in r.basis]
    seen = sum(clause.verified for clause in clauses)
    assert f"{seen} of {len(clauses)} clauses" in result.seen
    assert f"{figures_and_rows(body('nec-2023'))} figures and table rows" in result.seen
    assert result.seen.endswith("The others are from memory.")
    pair = BASE.replace("code: nec-2023", "code: {array: nec-2023, battery: abyc-e11}")
    both = check_text(pair, rules).seen
    assert "National Electrical Code" in both
    assert "ABYC E-11" in both


def test_what_was_seen_is_counted_entry_by_entry() -> None:
    """Three figures of which two were seen, and a table of three rows that were."""

    class Told:
        data = {  # noqa: RUF012
            "one": {"verified": True},
            "another": {"verified": True},
            "two": {"verified": False, "inner": {"table": "abyc-e11-breakers"}},
        }

    assert figures_and_rows(cast(BodyOfRules, Told())) == Seen(2 + 3, 3 + 3)
