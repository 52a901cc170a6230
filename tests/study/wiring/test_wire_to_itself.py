"""A wire whose two ends are one and the same: a slip of the pen, which must not end a check."""

from __future__ import annotations

import pytest

from plans import BASE
from wattproof.packs import discover
from wattproof.testing import check_text

RULES = discover()
LOOP = """\
breakers:
  in-the-loop: {rating: 60 A, dc: true}
distribution:
  panel: {ways: {fridge: {fuse: unknown}}}
"""


@pytest.mark.parametrize("end", ["panel", "house", "tracker.pv", "tracker.battery"])
@pytest.mark.parametrize("inline", ["", ", inline: [in-the-loop]"])
def test_a_wire_that_leads_back_ends_no_check(end: str, inline: str) -> None:
    loop = f"  loop: {{from: {end}, to: {end}, cable: batt-8, length: 1 m{inline}}}\n"
    result = check_text(BASE.replace("\nwires:\n", f"\n{LOOP}wires:\n{loop}"), RULES)
    assert not result.problems
    assert not result.failed
    assert result.ran == result.planned
