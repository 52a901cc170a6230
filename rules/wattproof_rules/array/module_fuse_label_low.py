"""The maximum series fuse on a label against the module's own current."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, rule
from wattproof.study import Study
from wattproof.study.array.labels import contradictions
from wattproof.study.array.string_fuses import fuse_window, most_without
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.limits import exceeds
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B)",
        "2014-2023",
        "a string fuse is at least 1.56 times the short-circuit current, and not above the "
        "maximum series fuse on the module",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548, string protection",
        "2016",
        "a string fuse lies above 1.5 times the short-circuit current, and not above the maximum "
        "overcurrent protection rating of the module",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, string protection",
        "2021",
        "a string fuse lies above 1.5 times the short-circuit current, and not above the maximum "
        "overcurrent protection rating of the module",
        verified=False,
    ),
    "common practice": Clause(
        "NEC 690.9(B); IEC 62548, string protection",
        "2023; 2016",
        "labels leave room for a fuse of about 1.5 times the short-circuit current",
        verified=False,
    ),
}


LARGEST = 50.0  # A, more than any label of a module allows
TIMES = 3.0  # its own current, for modules of very large cells


@rule(
    id="module-fuse-label-low",
    summary="Maximum series fuse on a label against the fuse that the module's current asks for.",
    covers=(
        "A series fuse on the label that is too small",
        "A series fuse on the label that no module stands",
    ),
    level="warning",
    hazard="fire",
    part="module",
    basis=BASIS,
    explanation="The label says how large a fuse may stand in a module's string, which is also "
    "what its wiring stands backwards. A fuse must be about one and a half times the module's own "
    "current, or the sun opens it on a bright day. Where the label lies below that, no fuse fits: "
    "it would be too small for the sun or too large for the module. Such a module can stand "
    "alone or in series, or beside so few others that none is needed.",
    fine="For a module alone or in one string, where no neighbour can drive current backwards, and "
    "for so few strings in parallel that they need no fuse.",
    since="0.1.0",
    sound=plan("van-two-modules"),
    faulty=Edit("max_series_fuse: 15 A", "max_series_fuse: 7 A"),
)
def module_fuse_label_low(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        if module.sheet.max_series_fuse is None or contradictions(module):
            continue
        label = module.max_series_fuse
        if exceeds(label, max(LARGEST, TIMES * module.isc.number)):
            yield _too_large(module, label, study)
            continue
        window = fuse_window(module.name, module.isc, label, study.codes.array)
        if not exceeds(window.lower, label):
            continue
        yield Observation(
            message=f"the label of `{module.name}` allows a fuse of {label} at most, and its "
            f"current of {module.isc} asks for one of {window.lower}: none fits",
            on=(*study.array.users_of(module), module.sheet),
            values=(label, window.lower),
            margin=label.number / window.lower.number - 1.0,
            remedy=f"{_parallel(module, study)}; ask the maker whether the label is right",
            level=None if _needs_fuses(module, study) else "note",
        )


def _needs_fuses(module: ModuleStudy, study: Study) -> bool:
    """True where an array that it is in has more strings in parallel than stand without fuses."""
    most = _without_fuses(module, study)
    return any(a.in_parallel() > most for a in study.array.arrays if module in a.modules)


def _without_fuses(module: ModuleStudy, study: Study) -> int:
    return most_without(module.isc, module.max_series_fuse.number, study.codes.array)


def _parallel(module: ModuleStudy, study: Study) -> str:
    """How many strings of it may stand side by side without fuses."""
    most = _without_fuses(module, study)
    if most < 2:
        return "put it in series only, or give each string a controller of its own"
    return f"join at most {most} strings of it in parallel, without fuses"


def _too_large(module: ModuleStudy, label: Value, study: Study) -> Observation:
    return Observation(
        message=(
            f"the label of `{module.name}` allows a fuse of {label}, and its current is "
            f"{module.isc}: no module bears that much backwards"
        ),
        on=(*study.array.users_of(module), module.sheet),
        values=(label, module.isc),
        margin=1.0 - label.number / LARGEST,
        remedy="read `max_series_fuse` on the label again; 10 to 35 A is usual",
    )
