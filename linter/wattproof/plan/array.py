"""The array side: strings of modules and the joints where they meet."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from wattproof.plan.datasheets import Connector
from wattproof.plan.feeding import FeedsField
from wattproof.plan.fields import (
    Angle,
    Count,
    Current,
    Flag,
    Named,
    NameOrUnknown,
    Names,
    References,
    Temperature,
    Voltage,
    Whole,
    component_of,
    one_of,
)
from wattproof.plan.layouts import Arrangement
from wattproof.quantities import Mistake
from wattproof.source import Text

COMPASS = (
    "north",
    "north-east",
    "east",
    "south-east",
    "south",
    "south-west",
    "west",
    "north-west",
)
"""Where modules may face, from north in steps of 45°."""

MAX_OPEN = 60
"""Most modules of which the arrangement may be open."""


class String(Named):
    """Modules wired together with their own leads, seen as one pair of terminals."""

    MAY_BE_OPEN = ("arrangement",)

    module: NameOrUnknown | None = Field(
        None, description="The module's datasheet, where all are alike.", examples=["rigid-200"]
    )
    modules: Names | None = Field(
        None,
        description="The datasheets of a mixed string, one for each module in series.",
        examples=[["rigid-200", "rigid-200", "folding-160"]],
    )
    series: Whole | None = Field(
        None, description="Number of alike modules in series.", examples=[3]
    )
    arrangement: Arrangement | None = Field(
        None,
        description="Short form: 4s2p is four in series and two such strings in parallel; "
        "4p2s is four in parallel and two such groups in series.",
        examples=["4s2p"],
    )
    count: Whole | None = Field(
        None,
        description="Number of modules, where `arrangement: open` leaves it to be chosen how they "
        "are joined.",
        examples=[8],
    )
    controllers: References | None = Field(
        None,
        description="The controllers, or solar inputs of one, among which the modules of an open "
        "arrangement may be split.",
        examples=[["left", "right"]],
    )
    feeds: FeedsField | None = Field(
        None,
        description="What it feeds, by wires that are not told yet; in place of `wires`.",
        examples=["tracker", {"to": "tracker", "length": "5 m"}],
    )
    mounting: Annotated[Text, one_of("open-rack", "roof-gap", "roof-bonded", "ground")] | None = (
        Field(
            None,
            description="How air reaches the back: open rack, gap over a roof, bonded to a skin, "
            "lying on the ground.",
            examples=["roof-gap"],
        )
    )
    hottest_cells: Temperature | None = Field(
        None,
        description="Temperature of its cells on the hottest day in full sun, where it was "
        "measured or is known; else it is worked out from the air and the mounting.",
        examples=["68 °C"],
    )
    tilt: Angle | None = Field(
        None, description="How far its modules are raised from level.", examples=["30°"]
    )
    facing: Annotated[Text, one_of(*COMPASS)] | None = Field(
        None, description="Where raised modules look.", examples=["south"]
    )
    place: NameOrUnknown | None = Field(
        None, description="The surroundings it is in.", examples=["roof"]
    )
    fixing: Annotated[Text, one_of("bolted", "clamped", "bonded", "bolted-and-bonded")] | None = (
        Field(
            None,
            description="What holds the modules to what they are on.",
            examples=["bolted-and-bonded"],
        )
    )
    frames_bonded: Flag | None = Field(
        None,
        description="True where a conductor ties the frames of its modules to earth or chassis, "
        "or where they have none of metal.",
        examples=[True],
    )
    blocking_diode: Voltage | None = Field(
        None,
        description="Forward drop of a blocking diode in series with the string, where it has one.",
        examples=["0.5 V"],
    )
    portable: Flag = Field(
        False, description="True where it is set up and taken away again.", examples=[False]
    )

    @model_validator(mode="after")
    def _one_way_of_saying_it(self) -> Self:
        untold = bool({"", "module", "modules"} & set(self.unknown))
        if (self.module is None) == (self.modules is None) and (
            not untold or self.module is not None
        ):
            raise Mistake(
                "a string names either one `module` or its `modules`",
                "write `module:` with the name of its datasheet and `series:` with their number, "
                "or list every one: `modules: [front, front, rear]`",
            )
        if self.modules is not None and (self.series or self.arrangement):
            raise Mistake(
                "a mixed string lists every module, so `series` and `arrangement` do not fit",
                "delete that key; declare parallel strings as strings of their own",
            )
        self._refuse_half_open()
        layout = self.arrangement
        if self.blocking_diode and layout and not layout.series_first and layout.in_series > 1:
            raise Mistake(
                "where the diode sits in groups in series is not said by this short form",
                "declare the modules as strings, and the diode in the string that has it",
                layout.place,
            )
        if self.series is not None and self.arrangement is not None:
            raise Mistake("`series` and `arrangement` say the same thing twice", "keep one of them")
        if (
            self.tilt is not None
            and self.tilt.value > 0.0
            and self.facing is None
            and ("facing" not in self.unknown)
        ):
            message = "a tilt alone does not say where the modules look"
            raise Mistake(
                message, "add `facing: south` or the like; or `facing: unknown`", self.tilt.place
            )
        return self

    def _refuse_count_beside(self, count: Count) -> None:
        """Raise Mistake where what tells how the modules are joined tells their number as well."""
        layout, series = self.arrangement, self.series
        if layout is not None:
            told = f"arrangement: {layout.text}"
            number = layout.in_series * layout.in_parallel
        elif series is not None:
            told, number = f"series: {series.text}", int(series)
        else:
            return
        message = f"`{told}` tells how many modules there are"
        instead = f"delete `count: {count.text}`"
        if number != count:
            instead += f", or write how {count.text} are joined: it stands for {number}"
        raise Mistake(message, instead, count.place)

    def _refuse_half_open(self) -> None:
        """Raise Mistake where what is told fits no open arrangement, or an open one only."""
        place = self.open.get("arrangement")
        if place is None:
            if self.count is not None:
                self._refuse_count_beside(self.count)
                instead = f"write `series: {self.count.text}` if they are wired one after another, "
                instead += f"`arrangement: 1s{self.count.text}p` if side by side; or "
                instead += "`arrangement: open` beside `count`, to compare all ways"
                if self.count == 1:
                    instead = "write `series: 1`"
                message = "`count` alone does not say how the modules are joined"
                raise Mistake(message, instead, self.count.place)
            if self.controllers is not None:
                message = "`controllers` is for modules whose arrangement is open"
                instead = f"write `feeds: {self.controllers[0]}`, or add `arrangement: open`"
                raise Mistake(message, instead, self.controllers[0].place)
            return
        if self.modules is not None:
            message = "the arrangement of a mixed string is not open: its list is in series"
            instead = "declare a string of each kind of module, each with `arrangement: open`"
            raise Mistake(message, instead, place)
        if self.series is not None:
            message = f"`series: {self.series.text}` contradicts `arrangement: open`"
            instead = "delete `series`; or keep it, and delete `arrangement` and `count`"
            if self.count is None:
                instead = f"write `count: {self.series.text}` for the number of modules"
            raise Mistake(message, instead, self.series.place)
        if self.count is None:
            message = "`arrangement: open` does not say how many modules there are"
            raise Mistake(message, "add `count: …`, the number of modules", place)
        if self.count > MAX_OPEN:
            message = f"layouts of {self.count.text} modules cannot be compared: at most {MAX_OPEN}"
            instead = "split them into strings of their own, each with the input that it feeds"
            raise Mistake(message, instead, self.count.place)
        if self.feeds is not None and self.controllers is not None:
            message = "`feeds` and `controllers` say the same thing twice"
            instead = "keep `feeds` for one input, `controllers` where they may be split"
            raise Mistake(message, instead, self.feeds.place)


class Combiner(Named):
    """A joint where strings or groups meet in parallel."""

    MAY_BE_OPEN = ("rating",)

    joins: References | None = Field(
        None,
        description="What meets here, or the wires that bring it. A string that no wire brings is "
        "plugged straight in.",
        examples=[["port", "starboard"]],
    )
    kind: Annotated[Text, one_of("branch-connector", "combiner-box", "terminal-block")] = Field(
        Text("combiner-box"), description="What the joint is.", examples=["branch-connector"]
    )
    rating: Current | None = Field(
        None, description="Rated current of the joint as a whole.", examples=["30 A"]
    )
    leg_rating: Current | None = Field(
        None, description="Rated current of each leg, where it is stated apart.", examples=["20 A"]
    )
    voltage: Voltage | None = Field(None, description="Rated DC voltage.", examples=["600 V"])
    connector: Connector | None = Field(
        None, description="The connectors of a branch connector, where strings plug straight in."
    )
    feeds: FeedsField | None = Field(
        None,
        description="What it feeds, by wires that are not told yet; in place of `wires`.",
        examples=["tracker"],
    )

    @property
    def joined(self) -> tuple[str, ...]:
        """Names of the components that it lists, in its order."""
        return tuple(component_of(reference) for reference in self.joins or ())
