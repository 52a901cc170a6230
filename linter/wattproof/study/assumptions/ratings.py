"""What a device is rated for, as its label says."""

from __future__ import annotations

from wattproof.circuit import Passage
from wattproof.working import Value, declared


def device_rating(passage: Passage) -> Value:
    """Rated current of an overcurrent device or switch (A)."""
    device = passage.device
    rating = getattr(device, "rating", None) or device.fuse  # type: ignore[union-attr]
    return declared(rating, f"In({device.name})", f"rating of {device.name}")
