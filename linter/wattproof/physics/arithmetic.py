"""Numbers with the four operations: floats, or numbers that record how they were computed.

Formulas that use nothing but ``+ - * /`` are typed with this, so that they serve both.
"""

from __future__ import annotations

from typing import Protocol, Self, TypeVar


class Arithmetic(Protocol):
    """A number with the four operations."""

    def __add__(self, other: Self | float, /) -> Self: ...
    def __radd__(self, other: float, /) -> Self: ...
    def __sub__(self, other: Self | float, /) -> Self: ...
    def __mul__(self, other: Self | float, /) -> Self: ...
    def __rmul__(self, other: float, /) -> Self: ...
    def __truediv__(self, other: Self | float, /) -> Self: ...


N = TypeVar("N", bound=Arithmetic)
