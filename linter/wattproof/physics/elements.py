"""The elements of an array, nested as they are wired.

Every element has two terminals. Equal elements are equal values, so that what was computed for
one holds for all of them.
"""

import math
from dataclasses import dataclass
from typing import TypeAlias

from wattproof.physics.single_diode import Diode, share

DEFAULT_BYPASS_DROP = 0.5  # V, a silicon Schottky diode in a junction box at some amperes


@dataclass(frozen=True)
class Cells:
    """Equal cells in series under equal light, with the bypass diode across them: one group.

    bypass_drop (V, positive) is the forward drop of the bypass diode, None where there is none.
    reverse_limit (V, positive) is the reverse voltage at which the group as a whole breaks down
    and lets any current pass; infinite where that is not known, and then only the shunt conducts.
    """

    diode: Diode
    bypass_drop: float | None = DEFAULT_BYPASS_DROP
    reverse_limit: float = math.inf

    def __post_init__(self) -> None:
        if self.bypass_drop is not None and not 0.0 < self.bypass_drop < math.inf:
            raise ValueError("the drop of a bypass diode must be a finite voltage above zero")
        if not self.reverse_limit > 0.0:
            raise ValueError("the reverse limit must be above zero")


@dataclass(frozen=True)
class Resistance:
    """A conductor's or contact's resistance (ohm, not negative), in series with its neighbours."""

    ohm: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.ohm < math.inf:
            raise ValueError("a resistance must be finite and not negative")


@dataclass(frozen=True)
class Blocking:
    """A blocking diode that lets current out of the array only, with a forward drop (V)."""

    drop: float

    def __post_init__(self) -> None:
        if not 0.0 < self.drop < math.inf:
            raise ValueError("the drop of a blocking diode must be a finite voltage above zero")


@dataclass(frozen=True)
class Bypassed:
    """A bypass diode with a forward drop (V, positive) across any element.

    For a group whose cells are not alike, or a diode across a whole module.
    """

    child: "Element"
    drop: float = DEFAULT_BYPASS_DROP

    def __post_init__(self) -> None:
        if not 0.0 < self.drop < math.inf:
            raise ValueError("the drop of a bypass diode must be a finite voltage above zero")


@dataclass(frozen=True)
class Series:
    """Elements that carry the same current; at least one."""

    children: tuple["Element", ...]

    def __post_init__(self) -> None:
        if not self.children:
            raise ValueError("a series needs at least one element")


@dataclass(frozen=True)
class Parallel:
    """Elements that have the same voltage; at least one."""

    children: tuple["Element", ...]

    def __post_init__(self) -> None:
        if not self.children:
            raise ValueError("a parallel needs at least one element")


Element: TypeAlias = Cells | Resistance | Blocking | Bypassed | Series | Parallel


def children(element: Element) -> tuple[Element, ...]:
    """Return what `element` is made of, in order; nothing for the simplest ones."""
    if isinstance(element, Bypassed):
        return (element.child,)
    if isinstance(element, Series | Parallel):
        return element.children
    return ()


def module(
    diodes: tuple[Diode, ...] | list[Diode],
    bypass_drop: float | None = DEFAULT_BYPASS_DROP,
    reverse_limit: float = math.inf,
) -> Series:
    """Return a module of as many equal groups as `diodes` has, one diode model for each group.

    Each of `diodes` describes the whole module at the irradiance and temperature of that group;
    the group is its equal share of the cells. `reverse_limit` (V) is that of one group. ValueError
    where there is none.
    """
    groups = len(diodes)
    if groups == 0:
        raise ValueError("a module has at least one group of cells")
    return Series(
        tuple(Cells(share(whole, 1.0 / groups), bypass_drop, reverse_limit) for whole in diodes)
    )
