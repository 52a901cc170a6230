"""Classes of what was computed, each made when its first instance is.

Every start of the program declares them all, and a check of a small plan needs few of them: making
a dataclass costs more than all else in such a class.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import Any, TypeVar, dataclass_transform

Class = TypeVar("Class")


@dataclass_transform(frozen_default=True, eq_default=False, field_specifiers=(field,))
def record(cls: type[Class]) -> type[Class]:
    """A dataclass that is equal to itself only, and that nothing is assigned to afterwards.

    The second is held by the type checker, and not again while the program runs.
    """
    if "__init__" in vars(cls):
        return _made(cls)

    def first(self: Any, *values: Any, **by_name: Any) -> None:
        fields(cls)
        self.__init__(*values, **by_name)

    cls.__init__ = first  # type: ignore[assignment]
    cls.__dataclass_fields__ = _FieldsWhenAsked(cls)  # type: ignore[attr-defined]
    return cls


def _made(cls: type[Class]) -> type[Class]:
    return dataclass(eq=False, repr=False)(cls)


class _FieldsWhenAsked:
    """Stands where the fields of a dataclass will, and makes it when they are asked for."""

    def __init__(self, cls: type[Any]) -> None:
        self.cls = cls

    def __get__(self, instance: object, owner: type[Any]) -> Any:
        if vars(self.cls).get("__dataclass_fields__") is self:
            del self.cls.__init__, self.cls.__dataclass_fields__
            _made(self.cls)
        return self.cls.__dataclass_fields__
