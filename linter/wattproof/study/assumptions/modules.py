"""Modules and strings, where a label or a mounting is not told."""

from __future__ import annotations

from wattproof.study.assumptions.rows import Assumed, Silence

VOC_COEFFICIENT = Assumed(
    -0.0040,
    "%/°C",
    "change of open-circuit voltage, where the body of rules has no table for it (labels of "
    "crystalline modules lie between −0.24 and −0.36)",
    "ModuleSheet.voc_coefficient",
)
VMP_COEFFICIENT = Assumed(
    -0.0045,
    "%/°C",
    "change of voltage at maximum power, where that of power does not tell it",
    "ModuleSheet.vmp_coefficient",
)
ISC_COEFFICIENT = Assumed(
    0.0006,
    "%/°C",
    "change of short-circuit current (labels lie between 0.03 and 0.06)",
    "ModuleSheet.isc_coefficient",
)
VOC_PER_CELL = Assumed(
    0.65,
    "V",
    "open-circuit voltage of a cell, from which the number of cells is told",
    "ModuleSheet.cells_in_series",
)
BYPASS_GROUPS = Assumed(
    2,
    "",
    "bypass diodes of a rigid module of some size; none on others",
    "ModuleSheet.bypass_diodes",
)
BYPASS_GROUPS_FROM = Assumed(100.0, "W", "power from which a rigid module counts as of some size")
SERIES_FUSE = Assumed(
    {"rigid": 15.0, "flexible": 0.0, "folding": 0.0},
    "A",
    "largest series fuse, at least; more where its current asks for it",
    "ModuleSheet.max_series_fuse",
)
SERIES_FUSE_LARGEST = Assumed(30.0, "A", "largest series fuse that is ever assumed")
SYSTEM_VOLTAGE = Assumed(
    {"rigid": 600.0, "flexible": 60.0, "folding": 60.0},
    "V",
    "largest system voltage",
    "ModuleSheet.max_system_voltage",
)
MOUNTING = Assumed("roof-bonded", "", "mounting, the hottest", "String.mounting")


def _coefficient(quantity: str, symbol: str, usual: Assumed[float], instead: str) -> Silence:
    return Silence(
        key=f"{quantity.lower()} coefficient",
        usual=usual,
        says=f"The temperature coefficient of {quantity} of `{{subject}}` is taken as "
        "{percent:g} %/°C, since its datasheet gives none.",
        instead=instead,
        symbol=symbol,
        words=f"temperature coefficient of {quantity}",
        unit="1/K",
    )


NO_VOC_COEFFICIENT = _coefficient("Voc", "β", VOC_COEFFICIENT, "voc_coefficient")
NO_VMP_COEFFICIENT = _coefficient("Vmp", "βmp", VMP_COEFFICIENT, "pmax_coefficient")
NO_ISC_COEFFICIENT = _coefficient("Isc", "α", ISC_COEFFICIENT, "isc_coefficient")
NO_VOC_COEFFICIENT_IN_HEAT = NO_VOC_COEFFICIENT._replace(usual=VMP_COEFFICIENT)
"""Hot cells: the steeper coefficient leaves less voltage."""

NO_SYSTEM_VOLTAGE = Silence(
    key="maximum system voltage",
    usual=SYSTEM_VOLTAGE,
    says="The maximum system voltage of `{subject}` ({kind}) is taken as {number:g} V, since its "
    "datasheet gives none.",
    instead="max_system_voltage",
    symbol="Usys",
    words="maximum system voltage",
    unit="V",
)
NO_SERIES_FUSE = Silence(
    key="maximum series fuse",
    says="The maximum series fuse of `{subject}` ({kind}) is taken as {number:.3g} A, since its "
    "datasheet gives none.",
    instead="max_series_fuse",
    symbol="Ifuse",
    words="maximum series fuse of {subject}",
    unit="A",
)
NO_CELLS_IN_SERIES = Silence(
    key="cells in series",
    says="`{subject}` is taken to have {count} cells in series.",
    instead="cells_in_series",
)
NO_BYPASS_DIODES = Silence(
    key="bypass diodes",
    says="`{subject}` is taken to have {count} bypass diodes.",
    instead="bypass_diodes",
)
NO_CURVE = Silence(
    key="curve",
    says="The curve of `{subject}` is a simpler one: {why}.",
    instead="the values of its label, read again",
)
COEFFICIENTS_APART = Silence(
    key="coefficients that contradict each other",
    says="The label of `{subject}` gives maximum power {declared:.2f} %/°C, which does not go with "
    "its coefficient of voltage: the curve of hot and of cold cells takes {taken:.2f} %/°C, in a "
    "shape that no cell is known to have.",
    instead="pmax_coefficient and voc_coefficient, read again",
)
NO_MOUNTING = Silence(
    key="mounting",
    says="`{subject}` does not say how it is mounted; its cells are taken as hot as if bonded to "
    "a roof.",
    instead="mounting",
)
NO_MOUNTING_IN_LIGHT = Silence(
    key="mounting",
    says="`{subject}` does not say how it is mounted; light is taken to reach the backs of its "
    "modules.",
    instead="mounting",
)
NO_BOND_OF_FRAMES = Silence(
    key="bonding of frames",
    says="Whether the frames of {names} are tied to earth is not stated; of metal they must be.",
    instead="frames_bonded: true",
)
