"""What pages and rules say of danger to people: electric shock is named, and nobody feels."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from wattproof.loading import load_study
from wattproof.packs import discover
from wattproof.views.connection_order import connection_order

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
SPOKEN_OF = ("safety.md", "tutorial.md", "readings.md", "index.md", "../README.md")
TEXTS = [
    *sorted(DOCS.glob("*.md")),
    ROOT / "README.md",
    *sorted((ROOT / "linter/wattproof/views").rglob("*.py")),
    *sorted((ROOT / "linter/wattproof/reports").rglob("*.py")),
    *sorted((ROOT / "linter/wattproof/reports").rglob("*.html")),
]


def words(path: Path) -> str:
    return " ".join(path.read_text(encoding="utf-8").split())


@pytest.mark.parametrize("name", SPOKEN_OF)
def test_electric_shock_is_named(name: str) -> None:
    assert "electric shock" in words(DOCS / name).lower()


def test_the_page_on_safety_tells_of_shock_first_aid_and_inrush() -> None:
    text = words(DOCS / "safety.md")
    for told in ("## Electric shock", "60 V", "30 V", "defibrillator", "burst of current", "mains"):
        assert told in text, told
    order = text.split("## A safe order of connection")[1]
    assert "never with a hand" in order
    assert "capacitors filled first" in order


TOUCH = re.compile(
    r"\b[Ff]eel(s|ing)? (for|how|whether|if|the|it)\b|\bback of (a|the|your) hand\b"
    r"|\btouch (it|the \w+) to (see|find|tell)\b",
)


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.name)
def test_no_text_tells_anyone_to_feel_what_may_be_live_or_hot(path: Path) -> None:
    assert not TOUCH.search(words(path))


def test_no_rule_tells_anyone_to_feel_what_may_be_live_or_hot() -> None:
    for rule in discover().rules.values():
        said = f"{rule.explanation} {rule.caution.text if rule.caution else ''}"
        assert not TOUCH.search(said), rule.id


def test_whoever_joins_an_inverter_is_told_of_its_burst_of_current() -> None:
    study = load_study(str(ROOT / "examples" / "van-six-modules.yaml"))
    steps = [step.words for stage in connection_order(study) for step in stage.steps]
    [joined] = [step for step in steps if "mains side" in step]
    assert "burst of current" in joined
    assert "fill them first where its manual asks for it" in joined
