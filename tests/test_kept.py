"""Values that are computed once, and what a record tells of them."""

from __future__ import annotations

from pathlib import Path

import pytest

import wattproof
from wattproof.kept import KeptEach, Record, kept, note_figure

ROOT = Path(wattproof.__file__).parent
FIGURES = {"sun": 1000.0, "size": 6.0}


class Roof:
    """What reads the sun."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    @kept
    def power(self) -> float:
        self.asked.append("power")
        note_figure("sun")
        return FIGURES["sun"] * 2.0

    @kept
    def colour(self) -> str:
        self.asked.append("colour")
        return "blue"


class Van:
    """What reads the roof, and a size of its own."""

    def __init__(self) -> None:
        self.roof = Roof()
        self._shares: KeptEach[int, float] = KeptEach()

    @kept
    def drop(self) -> float:
        note_figure("size")
        return self.roof.power / FIGURES["size"]

    def share(self, of: int) -> float:
        return self._shares.of(of, lambda: self.roof.power / of)

    @kept
    def broken(self) -> float:
        note_figure("sun")
        raise ValueError("no sun")


def test_a_value_is_computed_once() -> None:
    roof = Roof()
    assert (roof.power, roof.power) == (2000.0, 2000.0)
    assert roof.asked == ["power"]


def test_a_value_is_computed_once_for_each_key() -> None:
    asked = []
    values: KeptEach[str, int] = KeptEach()
    for key in ("a", "b", "a"):
        values.of(key, lambda key=key: asked.append(key) or len(asked))  # type: ignore[misc]
    assert asked == ["a", "b"]


def recorded(van: Van) -> Record:
    """A record of three who ask a van for something."""
    record = Record()
    with record.recording():
        record.asked_by("drop")
        assert van.drop > 0.0
        record.asked_by("share")
        assert van.share(2) > 0.0
        record.asked_by("colour")
        assert van.roof.colour
    return record


def test_who_asked_for_what_rests_on_a_figure_is_known() -> None:
    record = recorded(Van())
    assert record.resting_on({"sun"}).askers == {"drop", "share"}
    assert record.resting_on({"size"}).askers == {"drop"}
    assert record.resting_on({"wind"}).askers == frozenset()
    assert record.resting_on(None).askers == {"drop", "share"}


def test_what_rests_on_a_figure_is_computed_again_and_forgotten_then(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    van = Van()
    record = recorded(van)
    before, asked = van.drop, list(van.roof.asked)
    monkeypatch.setitem(FIGURES, "sun", 500.0)
    with record.without(record.resting_on({"sun"})):
        assert van.drop == pytest.approx(before / 2.0)
        assert van.share(2) == pytest.approx(500.0)
        assert van.share(4) == pytest.approx(250.0)
        assert van.roof.colour == "blue"
    assert van.roof.asked == [*asked, "power"]
    assert (van.drop, van.share(2)) == (before, 1000.0)
    monkeypatch.undo()
    assert van.share(4) == pytest.approx(500.0)


def test_what_rests_on_no_figure_is_there_at_once() -> None:
    """It is the same in every reading, so that nobody needs to be known who read it."""
    van, record = Van(), Record()
    with record.recording():
        record.asked_by("both")
        assert van.roof.colour
        assert van.drop > 0.0
        assert "colour" in vars(van.roof)
        assert "drop" not in vars(van)
    assert "drop" in vars(van)
    with record.without(record.resting_on(None)):
        assert "colour" in vars(van.roof)
        assert "drop" not in vars(van)


def test_what_could_not_be_computed_has_read_all_the_same() -> None:
    van, record = Van(), Record()
    with record.recording():
        record.asked_by("broken")
        with pytest.raises(ValueError, match="no sun"):
            _ = van.broken
    resting = record.resting_on({"sun"})
    assert resting.askers == {"broken"}
    with record.without(resting), pytest.raises(ValueError, match="no sun"):
        _ = van.broken


@pytest.mark.parametrize("room", ["circuit", "study"])
def test_what_a_study_keeps_is_kept_where_readings_can_take_it_away(room: str) -> None:
    """A value in a cached property would stay as it was in a reading in which it is another."""
    cached = [
        path.name
        for path in sorted((ROOT / room).rglob("*.py"))
        if "cached_property" in path.read_text(encoding="utf-8")
    ]
    assert not cached
