"""Wires between terminals, the devices in them, and bonds to chassis or ground."""

import re
from typing import Annotated, Any, Final, Self, TypeAlias

from pydantic import BeforeValidator, Field, model_validator

from wattproof.plan.fields import (
    CableOrUnknown,
    Current,
    Distance,
    Flag,
    Length,
    Name,
    Named,
    NamesOrUnknown,
    Part,
    Reference,
    Temperature,
    Whole,
    WholeOrNone,
    component_of,
    needed,
    no_entries,
    one_of,
)
from wattproof.quantities import UNKNOWN, Mistake
from wattproof.source import Block, Items, Text

Pole: TypeAlias = Annotated[Text, one_of("positive", "negative")]


TRAILER_PLUGS = ("trailer-7", "trailer-13")
PLUGS = ("flat-two-pin", "cigar", "genderless-50", *TRAILER_PLUGS)
_OTHER_PLUG = "leave `plug` out for another kind: what it bears is not judged then"


class Inline(Part):
    """A device that sits in a wire."""

    device: Name = Field(description="The fuse, breaker or switch.", examples=["charge-fuse"])
    from_end: Annotated[Text, one_of("from", "to")] | None = Field(
        None, description="The end that the distance is measured from.", examples=["to"]
    )
    distance: Distance | None = Field(
        None,
        description="Length of wire between that end and the device; `0 cm` for one that is bolted "
        "to the post or bar itself. Left out, it is near that end.",
        examples=["15 cm"],
    )

    def __hash__(self) -> int:
        """By its device, which sits in one place only."""
        return hash(str(self.device))

    @model_validator(mode="after")
    def _distance_from_an_end(self) -> Self:
        if self.distance is not None and self.from_end is None:
            raise Mistake(
                "a distance counts from an end of the wire",
                _END.format(f"{{{self.device}: {{from_end: …, distance: {self.distance}}}}}"),
                self.device.place,
            )
        return self


def _inline(node: Any) -> Any:
    """`pv-off` and `{charge-fuse: {from_end: to, distance: 15 cm}}` alike as a block."""
    if isinstance(node, Text):
        if not re.fullmatch(_NAME["pattern"], node):
            _refuse_rating(node)
            _refuse_other_form(node, f"`{node}` is more than the name of a device")
        block = Block({Text.at("device", node.place): node})
        block.place = node.place
        return block
    if isinstance(node, Block) and "device" in node:
        return node
    if isinstance(node, Block) and len(node) == 1:
        [(name, details)] = node.items()
        if isinstance(details, Block):
            if other := [key for key in details if key not in ("from_end", "distance")]:
                _refuse_other_form(node, f"a device in a wire has no key `{other[0]}`")
            unknown = {str(k): v.place for k, v in details.items() if v == UNKNOWN}
            told = {key: value for key, value in details.items() if value != UNKNOWN}
            if "from_end" in unknown:
                told = {}  # a distance from no end tells nothing
            block = Block({Text.at("device", name.place): name, **told})
            block.place = node.place
            return {**block, "left_unknown": unknown} if unknown else block
        if isinstance(details, Text):
            message = f"`{details}` alone does not tell the end it counts from"
            _refuse_other_form(node, message)
            raise Mistake(
                message, _END.format(f"{{{name}: {{from_end: …, distance: …}}}}"), node.place
            )
    _refuse_other_form(node, "this is not how a device in a wire is written")
    return node


_END: Final = "write `{}`, `from_end` being `from` or `to`"


def _refuse_rating(node: Text) -> None:
    """Raise Mistake where a rating stands in the place of the name of a device."""
    from wattproof.plan.hints.in_wires import device_by_rating  # of what is wrong only

    if instead := device_by_rating(node):
        raise Mistake(f"`{node}` is a rating, where the name of a device belongs", instead)


def _refuse_other_form(node: Any, message: str) -> None:
    """Raise Mistake where a device is told in a form of people's own, with the right one."""
    from wattproof.plan.device_forms import form_of_device  # of what is wrong only

    form = form_of_device(node)
    if form:
        raise Mistake(message, _END.format(form) if "…" in form else f"write `{form}`", node.place)


def _listed(node: Any) -> Any:
    """The name of one device as a list of it."""
    if not isinstance(node, Text) or not re.fullmatch(_NAME["pattern"], node) or node == UNKNOWN:
        return node
    items = Items([node])
    items.place = node.place
    return items


_NAME = {"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$"}


def _inline_schema(schema: dict[str, Any]) -> None:
    """The forms in which a plan writes an inline device."""
    details = {key: value for key, value in schema["properties"].items() if key != "device"}
    description = schema.get("description", "")
    schema.clear()
    schema["description"] = description
    schema["anyOf"] = [
        _NAME,
        {
            "type": "object",
            "minProperties": 1,
            "maxProperties": 1,
            "propertyNames": {"pattern": _NAME["pattern"]},
            "additionalProperties": {
                "type": "object",
                "properties": details,
                "dependentRequired": {"distance": ["from_end"]},
                "additionalProperties": False,
            },
        },
    ]


Inline.model_config["json_schema_extra"] = _inline_schema


def _or_one(schema: dict[str, Any]) -> None:
    """A list, or the name of the one device in it."""
    schema |= {"type": ["array", "string"], "pattern": _NAME["pattern"]}


class Wire(Named):
    """One run between two terminals: both poles unless `pole` or the terminals name one."""

    MUST_TELL = ("pole",)
    MAY_BE_OPEN = ("cable",)

    start: Reference = Field(alias="from", description="Where it begins.", examples=["roof-joint"])
    to: Reference = Field(description="Where it ends.", examples=["tracker.pv"])
    cable: CableOrUnknown = needed(
        description="The cable's datasheet, or its size where no more is known of it.",
        examples=["pv-10", "10 AWG", "6 mm²"],
    )
    length: Length = needed(description="Length one way.", examples=["16 ft"])
    place: NamesOrUnknown | None = Field(
        None,
        description="The surroundings on its way; the worst governs.",
        examples=[["roof", "cabin"]],
    )
    pole: Pole | None = Field(
        None, description="Declares a single conductor of this pole.", examples=["positive"]
    )
    parallel: Whole | None = Field(
        None, description="Alike conductors in parallel for each pole.", examples=[2]
    )
    inline: Annotated[
        list[Annotated[Inline, BeforeValidator(_inline)]], BeforeValidator(_listed)
    ] = Field(
        default_factory=no_entries,
        description="Devices in the wire, in order from its start; of one alone its name does.",
        examples=[["pv-off", {"charge-fuse": {"from_end": "to", "distance": "15 cm"}}]],
        json_schema_extra=_or_one,
    )
    run: Annotated[Text, one_of("free-air", "surface", "conduit", "buried")] | None = Field(
        None,
        description="How it is laid; conduit is any pipe, loom or trunking, buried is in the "
        "ground, in a pipe or without.",
        examples=["conduit"],
    )
    depth: Length | None = Field(
        None, description="Cover of earth over a buried cable.", examples=["60 cm"]
    )
    bundled: Whole | None = Field(
        None,
        description="Loaded conductors that run together, its own counted.",
        examples=[4],
    )
    enclosed: Flag = Field(
        False,
        description="True where sheath, loom or conduit encloses it over its whole length.",
        examples=[True],
    )
    plug: Annotated[Text, one_of(*PLUGS, other=_OTHER_PLUG)] | None = Field(
        None,
        description="A small plug in the wire: flat with two pins, of a cigar socket, genderless "
        "of the 50 A size, or the charge line's pins of a trailer's plug with 7 or 13 of them.",
        examples=["flat-two-pin"],
    )
    adapters: WholeOrNone | None = Field(
        None,
        description="Adapters in it, from one kind of plug to another.",
        examples=[1],
    )
    plug_rating: Current | None = Field(
        None, description="Rated current of that plug, where it is printed.", examples=["15 A"]
    )
    terminal_temperature: Temperature | None = Field(
        None, description="Temperature rating of its terminals, where marked.", examples=["75 °C"]
    )

    @property
    def components(self) -> tuple[str, str]:
        """Names of the components at its start and at its end."""
        return component_of(self.start), component_of(self.to)

    @model_validator(mode="after")
    def _depth_of_what_is_buried(self) -> Self:
        if self.depth is not None and self.run != "buried":
            message = "a depth is for a cable in the ground"
            raise Mistake(message, "add `run: buried`, or delete the depth", self.depth.place)
        return self


class Bond(Named):
    """A conductor that ties a pole to the chassis, the water or the ground."""

    MAY_BE_OPEN = ("cable",)

    start: Reference = Field(
        alias="from", description="Where it begins, with its pole.", examples=["house.negative"]
    )
    to: Annotated[Text, one_of("chassis", "water", "earth")] = Field(
        description="What it ties the pole to.", examples=["chassis"]
    )
    cable: CableOrUnknown = needed(
        description="The cable's datasheet, or its size where no more is known of it.",
        examples=["bond-8", "10 AWG", "6 mm²"],
    )
    length: Length | None = Field(None, description="Length.", examples=["1 m"])
