"""What the bodies of rules answer with: figures that carry their source, clauses, ampacities."""

from typing import NamedTuple

from wattproof.physics.conductors import ConductorSize


class NotTabulated(LookupError):
    """A table has no row or column for what was asked; the message says so in plain words."""


class TableValue(NamedTuple):
    """One figure and where it stands.

    ``unit`` is empty for a factor. ``what`` is a phrase for people, ``source`` names the table and
    row. ``verified`` is False where the figure is from memory. ``own`` is True where it is not in
    the source but our extension of it.
    """

    value: float
    unit: str
    what: str
    source: str
    verified: bool
    own: bool = False

    @property
    def cited(self) -> str:
        """The source, and how sure we are of it."""
        if self.own:
            return f"{self.source} (our own extension)"
        return self.source if self.verified else f"{self.source} (from memory)"


class Clause(NamedTuple):
    """A clause of a body of rules, paraphrased. ``verified`` is False where from memory."""

    reference: str
    edition: str
    says: str
    verified: bool

    @property
    def cited(self) -> str:
        """Reference and edition, and how sure we are of the paraphrase."""
        notes = "; ".join(n for n in (self.edition, "" if self.verified else "from memory") if n)
        return f"{self.reference} ({notes})" if notes else self.reference


class Surroundings(NamedTuple):
    """Where a conductor lies.

    ``ambient`` is in °C. Neither ``free_air`` nor on a ``surface`` means in conduit, loom or
    trunking. ``loaded_conductors`` counts the current-carrying conductors that run
    together, this circuit's own included. ``circuit_voltage`` is in V.
    """

    ambient: float
    engine_space: bool = False
    free_air: bool = False
    surface: bool = False
    loaded_conductors: int = 2
    circuit_voltage: float = 0.0


class Ampacity(NamedTuple):
    """The current that a conductor may carry, in A, and what it is made of.

    ``size_used`` is the table's size, which is smaller than the conductor's where the table has no
    such size. ``insulation_column`` is the temperature in °C of the table column.
    ``terminal_limit`` is None where the body of rules has no rule on terminals. ``refused`` says
    why the conductor may not be used in its place at all; it then carries nothing.
    """

    size_used: ConductorSize
    base: TableValue
    ambient_factor: TableValue
    bundling_factor: TableValue
    terminal_limit: TableValue | None
    insulation_column: float
    notes: tuple[str, ...] = ()
    refused: str | None = None

    @property
    def corrected(self) -> float:
        """Table figure times the factors for surroundings and bundling, in A."""
        return self.base.value * self.ambient_factor.value * self.bundling_factor.value

    @property
    def value(self) -> float:
        """What the conductor may carry in its place and on its terminals, in A."""
        if self.terminal_limit is None:
            return self.corrected
        return min(self.corrected, self.terminal_limit.value)
