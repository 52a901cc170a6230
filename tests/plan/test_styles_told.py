"""What is answered to words for a style of fuse that is none here."""

from __future__ import annotations

import pytest

from wattproof.plan.styles import style_of
from wattproof.quantities import Mistake
from wattproof.source import Place, Text

FUSE = style_of("fuse")


@pytest.mark.parametrize("words", ["pv-cartridge", "solar", "PV 10x38 ceramic", "photovoltaic"])
def test_words_of_the_sun_are_answered_with_solar_styles_alone(words: str) -> None:
    with pytest.raises(Mistake) as told:
        FUSE.read(Text.at(words, Place("plan.yaml", 1, 1, 1, 1)))
    assert "gpv" in told.value.instead
    assert "gG" not in told.value.instead
    assert "class-t" not in told.value.instead


def test_other_words_are_answered_with_the_nearest_of_all() -> None:
    with pytest.raises(Mistake) as told:
        FUSE.read(Text.at("cartridges", Place("plan.yaml", 1, 1, 1, 1)))
    assert told.value.instead == "write `cartridge`: general-purpose cartridge fuse (gG)"


BREAKER = style_of("breaker")


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("auto reset", "self-resetting-breaker"),
        ("audio", "surface-breaker"),
        ("DIN rail", "rail-breaker"),
        ("thermal", "push-button-breaker"),
    ],
)
def test_that_it_is_a_breaker_may_be_left_out(words: str, name: str) -> None:
    with pytest.raises(Mistake) as told:
        BREAKER.read(Text.at(words, Place("plan.yaml", 1, 1, 1, 1)))
    assert told.value.instead.startswith(f"write `{name}`")


@pytest.mark.parametrize("words", ["DC breaker", "circuit breaker", "inline fuse", "slow-blow"])
def test_words_that_hold_for_every_style_are_answered_with_none(words: str) -> None:
    for style in (FUSE, BREAKER):
        with pytest.raises(Mistake) as told:
            style.read(Text.at(words, Place("plan.yaml", 1, 1, 1, 1)))
        assert told.value.instead.startswith("delete it, or use one of ")
        assert told.value.message == f"`{words}` tells no style: there are several of that"
