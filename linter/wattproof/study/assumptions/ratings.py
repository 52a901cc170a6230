"""What a device is rated for, as its label says."""

from __future__ import annotations

from wattproof.circuit import Passage
from wattproof.quantities import Quantity
from wattproof.working import Value, declared

FUSE_BEARS = 2.0
"""How many times its rating a fuse bears for some seconds, if its maker says nothing else (common
practice)."""


def device_rating(passage: Passage) -> Value:
    """Rated current of an overcurrent device or switch (A)."""
    name = passage.device.name
    return declared(_rating(passage), f"In({name})", f"rating of {name}")


def amps_of(passage: Passage) -> float:
    """The same, without its working."""
    return _rating(passage).value


def _rating(passage: Passage) -> Quantity:
    device = passage.device
    rating: Quantity = getattr(device, "rating", None) or device.fuse  # type: ignore[union-attr]
    return rating
