"""Random but plausible cells, modules and arrays for property tests."""

import math

from hypothesis import strategies as st

from wattproof.physics.elements import (
    Blocking,
    Bypassed,
    Cells,
    Element,
    Parallel,
    Resistance,
    Series,
)
from wattproof.physics.extraction import Datasheet
from wattproof.physics.single_diode import Diode


@st.composite
def diodes(draw: st.DrawFn, dark: bool = False) -> Diode:
    """Return a model of 1 to 144 cells, from hardly any light (or none) to bright sun."""
    cells = draw(st.integers(1, 144))
    ideality = cells * draw(st.floats(0.018, 0.05))
    current = draw(st.floats(0.05, 20.0))
    voltage = cells * draw(st.floats(0.45, 0.75))
    resistance = draw(st.one_of(st.just(0.0), st.floats(1e-4, 0.08))) * voltage / current
    shunt = draw(st.one_of(st.just(math.inf), st.floats(5.0, 5000.0))) * voltage / current
    return Diode(
        photocurrent=0.0 if dark else current,
        saturation_current=current / math.expm1(voltage / ideality),
        series_resistance=resistance,
        shunt_resistance=shunt,
        modified_ideality=ideality,
    )


@st.composite
def datasheets(draw: st.DrawFn) -> Datasheet:
    """Return plausible declared values; nearly all of them can be fitted."""
    cells = draw(st.integers(8, 144))
    voc = cells * draw(st.floats(0.58, 0.72))
    isc = draw(st.floats(0.3, 18.0))
    return Datasheet(
        voc=voc,
        isc=isc,
        vmp=voc * draw(st.floats(0.78, 0.84)),
        imp=isc * draw(st.floats(0.90, 0.955)),
        cells_in_series=cells,
        voc_coefficient=-voc * draw(st.floats(0.0024, 0.0036)),
        isc_coefficient=isc * draw(st.floats(-0.0001, 0.0008)),
        pmax_coefficient=draw(st.one_of(st.none(), st.floats(-0.0048, -0.0028))),
    )


def groups() -> st.SearchStrategy[Cells]:
    """Return groups of cells with and without bypass diode."""
    return st.builds(Cells, diodes(), st.one_of(st.none(), st.floats(0.3, 1.0)))


def trees() -> st.SearchStrategy[Element]:
    """Return arrays nested a few times, with conductors, bypass and blocking diodes."""

    def joined(parts: st.SearchStrategy[Element]) -> st.SearchStrategy[Element]:
        several = st.lists(parts, min_size=1, max_size=3)
        wire = st.builds(Resistance, st.floats(0.0, 0.5))
        return st.one_of(
            st.builds(lambda p: Parallel(tuple(p)), several),
            st.builds(lambda p, w: Series((*p, w)), several, wire),
            st.builds(lambda p, d: Series((*p, Blocking(d))), several, st.floats(0.3, 0.8)),
            st.builds(Bypassed, parts, st.floats(0.3, 1.0)),
        )

    return st.recursive(groups(), joined, max_leaves=6)
