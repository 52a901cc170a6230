"""Arrays of two solar inputs that come back over one return."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from wattproof.circuit.elements import Element, Source, Terminal, other_end
from wattproof.circuit.walk import Walk
from wattproof.plan.power import Controller
from wattproof.source import Problem


def have_one_return(
    one: Terminal, other: Terminal, around: Mapping[Terminal, Sequence[Element]]
) -> bool:
    """True for the positives of two inputs whose arrays meet in their negatives alone."""

    def conductors(here: Terminal) -> Iterator[tuple[Element, Terminal]]:
        held = (e for e in around.get(here, ()) if not isinstance(e, Source))
        return ((element, other_end(element, here)) for element in held)

    returned = set(Walk([one._replace(pole="negative")], conductors))

    def up_to_there(here: Terminal) -> Iterator[tuple[Element, Terminal]]:
        held = () if here in returned else around.get(here, ())
        return ((element, other_end(element, here)) for element in held)

    return other._replace(pole="negative") in returned and other not in Walk([one], up_to_there)


def returns_joined(one: tuple[Controller, str], other: tuple[Controller, str]) -> Problem | None:
    """What is wrong with two arrays with one return, each told by the input that it feeds.

    None where both controllers have their negatives in common, as most have: each return then
    carries what comes back over it.
    """
    first, second = sorted((one, other), key=lambda each: (each[0].at, each[1]))
    switching = next((c for c, _ in (first, second) if c.common == "positive"), None)
    if switching is None:
        return None
    inputs = " and ".join(f"`{part.name}.{port}`" for part, port in (first, second))
    return Problem(
        second[0].at,
        f"the arrays at {inputs} have one return, and `{switching.name}` has its positives in "
        "common, so that it switches there: what comes back past it is not held back",
        "lead the negative of each array to its own input",
    )
