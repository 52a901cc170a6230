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
