"""Classes of what was computed, each made when its first instance is.

Every start of the program declares them all, and a check of a small plan needs few of them: making
a dataclass costs more than all else in such a class. Most are asked for nothing but instances: the
`__init__` alone takes a third of the time, and the rest is made for who asks for the fields.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, Field, dataclass, field
from threading import RLock
from typing import Any, Final, TypeVar, dataclass_transform

Class = TypeVar("Class")

_MAKING: Final = RLock()
_OF_EACH_CLASS: Final = frozenset({"__dict__", "__weakref__"})
_WAITING: Final = frozenset({"__init__", "__dataclass_fields__"})
"""What stands in for that of a dataclass until it is made."""


@dataclass_transform(frozen_default=True, eq_default=False, field_specifiers=(field,))
def record(cls: type[Class]) -> type[Class]:
    """A dataclass that is equal to itself only, and that nothing is assigned to afterwards.

    The second is held by the type checker, and not again while the program runs.
    """
    if "__init__" in vars(cls):
        return _dataclass(cls)

    def first(self: Any, *values: Any, **by_name: Any) -> None:
        with _MAKING:
            if not _is_plain(cls):
                _make(cls)
            elif cls.__init__ is first:
                cls.__init__ = _init_of(cls)  # type: ignore[method-assign]
        cls.__init__(self, *values, **by_name)

    cls.__init__ = first  # type: ignore[method-assign]
    cls.__dataclass_fields__ = _FieldsWhenAsked(cls)  # type: ignore[attr-defined]
    return cls


class _FieldsWhenAsked:
    """Stands where the fields of a dataclass will, and makes it when they are asked for."""

    def __init__(self, cls: type[Any]) -> None:
        self.cls = cls

    def __get__(self, instance: object, owner: type[Any]) -> Any:
        _make(self.cls)
        return self.cls.__dataclass_fields__


def _make(cls: type[Any]) -> None:
    """Give a class what a dataclass has.

    That is taken from a copy, so that no thread ever meets the class half made.
    """
    with _MAKING:
        if not isinstance(vars(cls)["__dataclass_fields__"], _FieldsWhenAsked):
            return
        own = {n: v for n, v in vars(cls).items() if n not in _OF_EACH_CLASS and n not in _WAITING}
        copy: type[Any] = type(cls)(cls.__name__, cls.__bases__, own)  # type: ignore[misc]
        made = {n: v for n, v in vars(_dataclass(copy)).items() if n not in _OF_EACH_CLASS}
        for name in own.keys() - made.keys():
            delattr(cls, name)  # a `field(...)` without a default
        for name, value in made.items():
            if value is not own.get(name, _WAITING):
                setattr(cls, name, value)


def _is_plain(cls: type[Any]) -> bool:
    """Whether a class inherits no fields and each of its own is one that `__init__` is given."""
    if any("__dataclass_fields__" in vars(base) for base in cls.__mro__[1:]):
        return False
    for name, kind in cls.__annotations__.items():
        default = vars(cls).get(name)
        if isinstance(default, Field) and (not default.init or default.kw_only is True):
            return False
        if any(word in str(kind) for word in ("ClassVar", "InitVar", "KW_ONLY")):
            return False
    return True


def _init_of(cls: type[Any]) -> Callable[..., None]:
    """What sets the fields of a plain class, as that of its dataclass would."""
    names: dict[str, Any] = {"_made": MISSING}
    given, lines = ["self"], []
    for name in cls.__annotations__:
        default, value = vars(cls).get(name, MISSING), name
        if isinstance(default, Field) and default.default_factory is not MISSING:
            names[f"_new_{name}"], default = default.default_factory, MISSING
            given.append(f"{name}=_made")
            value = f"_new_{name}() if {name} is _made else {name}"
        else:
            default = default.default if isinstance(default, Field) else default
            names[f"_{name}"] = default
            given.append(name if default is MISSING else f"{name}=_{name}")
        lines.append(f"self.{name} = {value}")
    if hasattr(cls, "__post_init__"):
        lines.append("self.__post_init__()")
    exec(f"def __init__({', '.join(given)}):\n " + "\n ".join(lines or ["pass"]), names)
    made: Callable[..., None] = names["__init__"]
    made.__qualname__ = f"{cls.__qualname__}.__init__"
    return made


def _dataclass(cls: type[Class]) -> type[Class]:
    return dataclass(eq=False, repr=False)(cls)
