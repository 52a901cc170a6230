"""Classes of what was computed, made in a quarter of the time that a frozen dataclass takes.

Every start of the program makes them all, so this is most of what a check of a small plan costs.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeVar, dataclass_transform

Class = TypeVar("Class")


@dataclass_transform(frozen_default=True, eq_default=False, field_specifiers=(field,))
def record(cls: type[Class]) -> type[Class]:
    """A dataclass that is equal to itself only, and that nothing is assigned to afterwards.

    The second is held by the type checker, and not again while the program runs.
    """
    return dataclass(eq=False, repr=False)(cls)
