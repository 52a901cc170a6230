"""One size for one wire: what several findings of it ask for is named alike by all of them."""

from __future__ import annotations

from pathlib import Path

from found import found_in_whole
from wattproof.finding import Change, Finding

PLAN = (Path(__file__).parents[2] / "examples/faulty/van-cold-morning.yaml").read_text("utf-8")
THE_RUN = "charge-run"


def of_the_run(text: str) -> dict[str, Finding]:
    """The findings whose remedy is first of all another size of the run, by their rules."""
    found = {}
    for finding in found_in_whole("plan.yaml", text).findings:
        match finding.ways[:1]:
            case ((Change(component=str(name), key="cable.size"),),) if name == THE_RUN:
                found[finding.rule] = finding
    return found


def sizes(findings: dict[str, Finding]) -> set[str]:
    return {str(c.text) for f in findings.values() for c in f.ways[0] if isinstance(c, Change)}


def test_the_largest_that_any_asks_for_is_named_by_all() -> None:
    found = of_the_run(PLAN)
    assert set(found) == {"fuse-over-conductor", "conductor-too-small", "voltage-drop-high"}
    assert sizes(found) == {"4 AWG"}
    words = "use 4 AWG for `charge-run` (at least 6 AWG)"
    assert found["fuse-over-conductor"].remedy == words
    assert all(f.trials[0].changes == f.ways[0] for f in found.values())
    assert all(f.identity in f.trials[0].clears for f in found.values())


def test_what_is_accepted_asks_for_nothing() -> None:
    found = of_the_run(
        f"{PLAN}accepted:\n"
        "  - {rule: voltage-drop-high, where: charge-run, reason: one dull week, margin: 400 %}\n"
    )
    assert sizes({rule: f for rule, f in found.items() if f.acceptance is None}) == {"6 AWG"}
    assert sizes({rule: f for rule, f in found.items() if f.acceptance is not None}) == {"4 AWG"}


def test_an_error_keeps_its_own_where_that_of_a_loss_brings_another_error() -> None:
    """A short through 4 AWG is more than a blade fuse breaks, and one through 8 AWG is not."""
    found = of_the_run(PLAN.replace("rating: 60 A", "rating: 40 A"))
    assert sizes({"": found.pop("voltage-drop-high")}) == {"4 AWG"}
    assert found.keys() >= {"conductor-too-small"}
    assert sizes(found) == {"8 AWG"}
