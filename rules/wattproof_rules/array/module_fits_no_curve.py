"""A label whose values no curve of a solar cell passes through."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.array.label_coefficients import odd_coefficients
from wattproof.study.array.labels import contradictions, odd_fill_factor
from wattproof.study.array.strings import ModuleStudy
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the values of a label lie on the curve of a single diode with resistances; so do "
        "those of all but 15 of 20,946 crystalline modules in an open set"
    ),
}


@rule(
    id="module-fits-no-curve",
    summary="Whether the values on a label lie on one curve of a solar cell.",
    covers=("Values that lie on no curve of a cell",),
    level="note",
    hazard="lost-energy",
    part="module",
    basis=BASIS,
    explanation="A solar cell behaves like a source of current beside a diode, and that fixes the "
    "shape of its curve between short circuit and open circuit. The label gives both ends and one "
    "point in between. Where no such curve passes through all three, a simpler one is drawn, and "
    "losses by shade and by unlike modules are rough. Each value alone may look sound, so the "
    "cause is usually a small slip or values of two different modules on one label.",
    fine="Where all values were read again. Only shade and unlike modules are reckoned more "
    "roughly then.",
    since="0.1.0",
    sound=plan("van-two-modules"),
    faulty=Edit("vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A", "vmp: 19.4 V, isc: 5.2 A, imp: 5.15 A"),
)
def module_fits_no_curve(study: Study) -> Iterator[Observation]:
    for name, model in study.curves.models.items():
        module = study.array.modules[name]
        if not model.refusal or _told_already(module):
            continue
        drawn = "a simpler curve is drawn" if model.fit is not None else "none is drawn"
        yield Observation(
            message=f"{model.refusal}: Voc {module.voc}, Isc {module.isc}, Vmp {module.vmp}, "
            f"Imp {module.imp} of `{name}`; {drawn}",
            on=(*study.array.users_of(module), module.sheet),
            values=(
                (module.imp / module.isc).named("Imp/Isc", "share of the current", ""),
                (module.vmp / module.voc).named("Vmp/Voc", "share of the voltage", ""),
            ),
            remedy="read the label on the back of the module again, or ask its maker for its "
            "curve; sums of voltage and current hold meanwhile, losses by shade are rough",
        )


def _told_already(module: ModuleStudy) -> bool:
    """True where another finding says what is wrong with the label."""
    odd = odd_fill_factor(module) is not None or bool(odd_coefficients(module))
    return odd or bool(contradictions(module))
