"""Each rule of the pack, on its own two plans."""

import pytest

from wattproof.packs import discover
from wattproof.rule import Rule
from wattproof.testing import check_examples

OURS = [rule for rule in discover().rules.values() if rule.pack == "alder"]


@pytest.mark.parametrize("rule", OURS, ids=lambda rule: rule.id)
def test_its_examples(rule: Rule) -> None:
    check_examples(rule)


def test_the_pack_is_found() -> None:
    assert [rule.id for rule in OURS] == ["alder/array-cable-long"]
