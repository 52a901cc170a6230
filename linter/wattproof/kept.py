"""Values that are computed once, when asked for, and what each of them was computed from.

A study keeps what it computes: `kept` of what belongs to an object, `KeptEach` of what is asked
of it with arguments. So that the same study can be read with another figure for something
that a plan does not tell, a `Record` notes what was read on the way to each value: figures by what
they are of, and other kept values. What an object was made of is no matter of its own: whoever
reaches the object read the kept value that made it.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from contextlib import contextmanager
from functools import cached_property
from threading import local
from typing import TYPE_CHECKING, Any, Final, Generic, NamedTuple, Protocol, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")

_NOT_THERE: Final = object()


class _Watching(Protocol):
    """What sees each value while it is computed."""

    def value(
        self, holder: dict[Any, Any], key: Hashable, make: Callable[..., Any], *of: Any
    ) -> Any: ...

    def read(self, what: Hashable) -> None: ...


class _Here(local):
    """What watches in this thread, if anything does."""

    watching: _Watching | None = None


_here: Final = _Here()


if TYPE_CHECKING:
    kept = cached_property
else:

    class kept(cached_property):  # noqa: N801 - it stands where cached_property does
        """A value of an object, computed when first asked for, without a lock."""

        def __get__(self, instance, owner=None):
            if instance is None:
                return self
            watching = _here.watching
            if watching is not None:
                return watching.value(instance.__dict__, self.attrname, self.func, instance)
            value = instance.__dict__[self.attrname] = self.func(instance)
            return value


class KeptEach(Generic[K, V]):
    """Values by what they are asked for with, each computed when first asked for."""

    __slots__ = ("_held",)

    def __init__(self) -> None:
        self._held: dict[K, V] = {}

    def of(self, key: K, make: Callable[[], V]) -> V:
        """The value under a key.

        make: computes it where it is not there yet, from the key and what it asks for itself. What
        was asked for before it would not be recorded as read for it.
        """
        value = self._held.get(key, _NOT_THERE)
        if value is not _NOT_THERE:
            return value  # type: ignore[return-value]
        watching = _here.watching
        if watching is not None:
            watched: V = watching.value(self._held, key, make)
            return watched
        made = self._held[key] = make()
        return made


def note_figure(what: Hashable) -> None:
    """Note that a figure was read, by what it is of; of figures that differ between readings."""
    watching = _here.watching
    if watching is not None:
        watching.read(what)


@contextmanager
def unnoted() -> Iterator[None]:
    """For what is the same in every reading: figures that are read for it are not noted."""
    with _watched_by(None):
        yield


class _Cell:
    """A kept value: where it stands, and who read it. A holder of None: who asked in the end.

    rests: whether any figure was read on the way to it.
    """

    __slots__ = ("holder", "key", "readers", "rests", "value")

    def __init__(self, holder: dict[Any, Any] | None, key: Hashable) -> None:
        self.holder = holder
        self.key = key
        self.value: Any = _NOT_THERE
        self.readers: set[_Cell] = set()
        self.rests = False

    def put(self) -> None:
        """Have it where it is found without being asked for."""
        if self.holder is not None and self.value is not _NOT_THERE:
            self.holder[self.key] = self.value

    def take(self) -> None:
        """Have it asked for the next time."""
        if self.holder is not None and self.value is not _NOT_THERE:
            del self.holder[self.key]


class Resting(NamedTuple):
    """What rests on some figures. askers: those who asked for any of it."""

    cells: frozenset[_Cell]
    askers: frozenset[str]


class Record:
    """What was read on the way to values, each by who asked for it in the end.

    Nothing may be kept of what it is to record before it begins.
    """

    def __init__(self) -> None:
        self._cells: dict[tuple[int, Hashable], _Cell] = {}
        self._read_by: dict[Hashable, set[_Cell]] = {}
        self._asking = _Cell(None, None)

    @contextmanager
    def recording(self) -> Iterator[None]:
        """Record once what is read meanwhile, between two calls of `asked_by` by one asker."""
        try:
            with _watched_by(self):
                yield
        finally:
            for cell in self._cells.values():
                cell.put()

    def asked_by(self, who: str) -> None:
        """Say who asks for all that is read from here on."""
        self._asking = _Cell(None, who)

    def resting_on(self, figures: Iterable[Hashable] | None) -> Resting:
        """All that was read on the way from some figures to those who asked; of all, None."""
        found: set[_Cell] = set()
        read = self._read_by if figures is None else figures
        ahead = [cell for figure in read for cell in self._read_by.get(figure, ())]
        while ahead:
            cell = ahead.pop()
            if cell not in found:
                found.add(cell)
                ahead += cell.readers
        return Resting(frozenset(found), frozenset(str(c.key) for c in found if c.holder is None))

    @contextmanager
    def without(self, resting: Resting) -> Iterator[None]:
        """Take something away: it is computed again where it is asked for, and forgotten then."""
        meanwhile = _Meanwhile()
        for cell in resting.cells:
            cell.take()
        try:
            with _watched_by(meanwhile):
                yield
        finally:
            meanwhile.forget()
            for cell in resting.cells:
                cell.put()

    def value(
        self, holder: dict[Any, Any], key: Hashable, make: Callable[..., Any], *of: Any
    ) -> Any:
        """A value, computed where it is not kept; what is being computed has read it.

        One that rests on no figure is the same in all readings: it is kept where it is found
        without being asked for, and who reads it is no matter.
        """
        known = (id(holder), key)
        asker = self._asking
        cell = self._cells.get(known)
        if cell is not None:
            cell.readers.add(asker)
            asker.rests = True
            return cell.value
        cell = self._asking = _Cell(holder, key)
        try:
            value = make(*of)
        finally:
            self._asking = asker
            if cell.rests:
                cell.readers.add(asker)
                asker.rests = True
        if cell.rests:
            cell.value = value
            self._cells[known] = cell
        else:
            holder[key] = value
        return value

    def read(self, what: Hashable) -> None:
        """Note who read a figure."""
        self._asking.rests = True
        self._read_by.setdefault(what, set()).add(self._asking)


class _Meanwhile:
    """Keeps what is computed as ever, and remembers where."""

    def __init__(self) -> None:
        self.computed: list[tuple[dict[Any, Any], Hashable]] = []

    def value(
        self, holder: dict[Any, Any], key: Hashable, make: Callable[..., Any], *of: Any
    ) -> Any:
        value = holder[key] = make(*of)
        self.computed.append((holder, key))
        return value

    def read(self, what: Hashable) -> None:
        """Nothing is noted: what is computed is not kept for long."""

    def forget(self) -> None:
        """Forget all that was computed."""
        for holder, key in self.computed:
            holder.pop(key, None)


@contextmanager
def _watched_by(watching: _Watching | None) -> Iterator[None]:
    before, _here.watching = _here.watching, watching
    try:
        yield
    finally:
        _here.watching = before
