"""What a layout needs: wires of a size, string fuses, joints, connectors, a switch."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.choosing.ladders import photovoltaic_sizes
from wattproof.engine import Result
from wattproof.plan.layouts import Layout
from wattproof.plan.ways import FedWire
from wattproof.record import record
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import StringStudy
from wattproof.study.limits import exceeds
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, tabled

DROP_RULE = "voltage-drop-high"
FUSE_RULES = ("string-fuse-missing", "group-lead-unprotected")


@record
class Run:
    """A wire still to be chosen. size: the least that carries its current and keeps the drop.

    length: m. drop: share of the voltage lost on the whole way. loss: W. size: empty where none of
    the body's table does; drop and loss are None then. assumed: True where nobody told the length.
    """

    wire: str
    size: str
    length: Value
    drop: Value | None
    loss: Value | None
    assumed: bool


@record
class Needs:
    """What it takes to build it.

    fuses: ratings for each string, in words; empty where none is needed. fused: how many strings.
    unmet: True where one of them takes no fuse that is sold.
    joints: how many meet how many times, with the current (A) that each must carry. pairs: of
    connectors that are mated. switches: what one before each input must stand (V, A).
    """

    runs: tuple[Run, ...]
    fuses: str
    fused: int
    joints: tuple[tuple[int, int, Value], ...]
    pairs: int
    switches: tuple[tuple[str, Value, Value], ...]
    unmet: bool = False

    @property
    def parts(self) -> int:
        """How many joints, fuses and pairs of connectors there are to buy and to fail."""
        return sum(count for count, _, _ in self.joints) * 2 + self.fused + self.pairs


def needs_of(study: Study, cabled: Study, result: Result) -> Needs:
    """What the arrays of a study need. result: what came of checking it.

    cabled: of the same plan with the cables that are chosen for ways that nobody told.
    """
    arrays = study.array.arrays
    fused = list(_fused(study, result))
    windows = [string.fuse_window for string in fused]
    return Needs(
        tuple(_runs(cabled)),
        "; ".join(dict.fromkeys(window.words for window in windows)),
        len(fused),
        tuple(joint for array in arrays for joint in _joints(array)),
        sum(_pairs(array) for array in arrays),
        tuple((array.name, array.voc("coldest"), array.isc("bright")) for array in arrays),
        any(not window.standard for window in windows),
    )


def _runs(study: Study) -> Iterator[Run]:
    for name, wire in study.wiring.wires.items():
        if not isinstance(wire.wire, FedWire) or study.wiring.array_of(wire) is None:
            continue
        told = wire.length.assumptions
        for size in photovoltaic_sizes(wire.code):
            proposed = wire.in_size(size)
            drop = _drop(study, wire, proposed)
            if drop is not None:
                yield Run(name, size.name, wire.length, drop, proposed.loss, bool(told))
                break
        else:
            yield Run(name, "", wire.length, None, None, bool(told))


def _drop(study: Study, wire: WireStudy, proposed: WireStudy) -> Value | None:
    """Share lost on the worst way through the wire; None where the size does not do."""
    if isinstance(proposed.carrying, str):
        return None
    if proposed.current is not None and proposed.fails(proposed.current):
        return None
    ways = [path for path in study.wiring.paths if wire in path.wires and path.kind == "array"]
    shares = [path.in_size((wire,), proposed.size).judged_share for path in ways]
    if not ways and proposed.drop is not None and proposed.volts is not None:
        share = proposed.drop / proposed.volts  # beside another on the same input, which is worse
        shares = [share.named(f"ΔU({wire.name})", f"share lost in {wire.name}", "%")]
    limit = wire.code.drop_limit("array", public=any(path.public for path in ways))
    most = tabled(limit.value, "%", "ΔUmax", limit.what, limit.cited)
    known = [share for share in shares if share is not None]
    if len(known) < len(shares) or any(exceeds(share, most) for share in known):
        return None
    return max(known, key=lambda share: share.number, default=None)


def _fused(study: Study, result: Result) -> Iterator[StringStudy]:
    """The strings that the rules ask a fuse of.

    Asked for as well as found: on a way that is not told, a missing fuse is a question.
    """
    asked = {s for f in result.each if f.rule in FUSE_RULES for s in f.subjects}
    for question in result.questions:
        asked |= {s for d in question.decides if d.rule in FUSE_RULES for s in d.subjects}
    for array in study.array.arrays:
        yield from (s for s in array.all_strings if str(s.source.string.name) in asked)


def _joints(array: ArrayStudy) -> Iterator[tuple[int, int, Value]]:
    """Joints inside short forms, and those where strings meet: how many, of how many, current."""
    for string in array.declared_strings:
        form = string.arrangement
        if form is None or form.in_parallel == 1:
            continue
        each = next(s for s in array.all_strings if s.source.string is string)
        amps = form.in_parallel * each.isc("bright")
        count = 1 if form.series_first else form.outer
        yield (
            count,
            form.in_parallel,
            amps.named("Ijoint", f"through a joint of {string.name}", "A"),
        )
    if len(array.declared_strings) > 1:
        yield 1, len(array.declared_strings), array.isc("bright")


def _pairs(array: ArrayStudy) -> int:
    """Pairs of connectors that are mated on the way from the modules to the home run."""
    pairs = 0
    for string in array.declared_strings:
        form = string.arrangement or Layout(int(string.series or 1), 1, True, "", None)
        if string.modules is not None:
            form = Layout(len(string.modules), 1, True, "", None)
        links = (form.in_series - 1) * (form.in_parallel if form.series_first else 1)
        into_joints = 0
        if form.in_parallel > 1:
            joints = 1 if form.series_first else form.outer
            into_joints = 2 * form.in_parallel * joints
        pairs += links + into_joints + 2
    return pairs
