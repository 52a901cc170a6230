"""Classes of what was computed: made late, and then as any dataclass."""

from __future__ import annotations

from dataclasses import field, fields, replace
from functools import cached_property
from threading import Barrier, Thread
from typing import ClassVar

import pytest

from wattproof.record import record


@record
class Lead:
    name: str
    joints: list[str] = field(default_factory=list)

    @cached_property
    def shown(self) -> str:
        return f"{self.name} {len(self.joints)}"


@record
class Sized(Lead):
    size: float = 4.0


class Own(Sized):
    def __init__(self, size: float) -> None:
        super().__init__("own", size=size)


def test_it_is_made_with_what_it_inherits() -> None:
    sized = Sized("a", ["x"], 6.0)
    assert (sized.name, sized.joints, sized.size, sized.shown) == ("a", ["x"], 6.0, "a 1")
    assert Own(2.5).size == 2.5
    assert replace(sized, size=10.0).size == 10.0
    assert Lead("b").joints is not Lead("b").joints


def test_its_fields_are_told_before_the_first_of_it() -> None:
    @record
    class Unused:
        amps: float
        volts: float = 12.0

    assert [each.name for each in fields(Unused)] == ["amps", "volts"]
    with pytest.raises(TypeError, match="amps"):
        Unused()  # type: ignore[call-arg]


def test_what_is_no_plain_field_is_as_in_a_dataclass() -> None:
    @record
    class Wire:
        kinds: ClassVar[int] = 2
        name: str
        feet: float = field(default=3.0, kw_only=True)
        drawn: list[str] = field(default_factory=list, init=False)

    wire = Wire("a", feet=4.0)  # type: ignore[misc]
    assert (wire.name, wire.feet, wire.drawn, [f.name for f in fields(wire)]) == (
        *("a", 4.0, []),
        ["name", "feet", "drawn"],
    )
    with pytest.raises(TypeError):
        Wire("a", 4.0)  # type: ignore[misc]


def test_two_of_the_same_are_not_equal() -> None:
    assert Lead("a") != Lead("a")


def test_threads_that_make_the_first_of_it_together_all_get_one() -> None:
    @record
    class Met:
        first: int
        seen: list[int] = field(default_factory=list)

    start, made = Barrier(8), []

    def make(number: int) -> None:
        start.wait()
        made.append(Met(number))

    threads = [Thread(target=make, args=(n,)) for n in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(each.first for each in made) == list(range(8))
