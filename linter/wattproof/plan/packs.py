"""What each pack of a bank in short form has of its own."""

from pydantic import Field

from wattproof.plan.fields import Distance, NameOrUnknown, Part


class EachPack(Part):
    """What stands at each battery, or each series of them, that `arrangement` puts in parallel."""

    fuse: NameOrUnknown | None = Field(
        None,
        description="Its fuse or breaker: declared once, and there as often as there are packs.",
        examples=["pack-fuse"],
    )
    distance: Distance | None = Field(
        None,
        description="Length of wire between the post of each pack and its fuse.",
        examples=["10 cm"],
    )
