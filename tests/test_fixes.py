"""Remedies as changes of a text: put into it, they clear what they are offered for."""

from __future__ import annotations

from pathlib import Path

import pytest

from amend.test_replacements import applied
from plans import EXAMPLES
from wattproof.engine import Result, check_file
from wattproof.finding import Finding
from wattproof.fixes import MOST, fixes_of
from wattproof.packs import discover
from wattproof.testing import A_DAY

FAULTY = sorted((EXAMPLES / "faulty").glob("*.yaml"))


def checked(path: Path, text: str, *, remedies: bool = True) -> Result:
    return check_file(str(path), discover(), today=A_DAY, text=text, try_remedies=remedies)


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_each_clears_its_finding_and_brings_no_other(path: Path, end: str) -> None:
    text = path.read_text(encoding="utf-8").replace("\n", end)
    before = checked(path, text)
    fixes = fixes_of(before, text)
    assert len(fixes) >= 3
    known = {identity for finding in before.findings for identity in finding.identities}
    for finding, made in fixes.items():
        assert 0 < len(made) <= MOST
        new = applied(text, made[0].replacements)
        assert new.count("\n") == new.count(end)
        after = checked(path, new, remedies=False)
        left = {identity for each in after.findings for identity in each.identities}
        assert not left & set(finding.identities), finding.message
        assert left <= known, finding.message


def test_nothing_is_offered_for_what_is_accepted_nor_where_others_come_of_it() -> None:
    [path] = [p for p in FAULTY if p.stem == "van-cold-morning"]
    text = path.read_text(encoding="utf-8")
    fixes = fixes_of(checked(path, text), text)

    def rules(found: dict[Finding, object]) -> set[str]:
        return {finding.rule for finding in found}

    assert "charge-below-freezing" in rules({**fixes})
    accepted = (
        "accepted:\n  - {rule: charge-below-freezing, where: house, reason: never below, "
        "margin: 900 %}\n"
    )
    result = checked(path, text + accepted)
    if any(f.acceptance for f in result.findings):
        assert "charge-below-freezing" not in rules({**fixes_of(result, text + accepted)})
    for finding, made in fixes.items():
        whole = set(finding.identities)
        ways = [t.changes for t in finding.trials if whole <= set(t.clears) and not t.brings]
        assert [fix.changes for fix in made] == ways[: len(made)]


def test_what_stands_in_a_file_of_labels_is_left_to_its_owner() -> None:
    path = EXAMPLES / "van-six-modules.yaml"
    text = path.read_text(encoding="utf-8")
    result = checked(path, text)
    for made in fixes_of(result, text).values():
        for fix in made:
            checked(path, applied(text, fix.replacements))


def test_lines_that_end_otherwise_are_left_alone() -> None:
    text = FAULTY[0].read_text(encoding="utf-8")
    result = checked(FAULTY[0], text)
    assert fixes_of(result, text) != {}
    assert fixes_of(result, text.replace("\n", "\r", 1)) == {}
