"""Modules and strings, where a label or a mounting is not told."""

from __future__ import annotations

from wattproof.study.assumptions.rows import Assumed, Silence, Times
from wattproof.working import LookUp

VOC_COEFFICIENT = Assumed(
    -0.0032,
    "%/°C",
    "change of open-circuit voltage, where the body of rules has no table for it (labels of "
    "crystalline modules lie between −0.24 and −0.36)",
    "ModuleSheet.voc_coefficient",
)
VOC_COEFFICIENT_AT_BEST = Assumed(
    -0.0024, "%/°C", "the least change of open-circuit voltage that labels give"
)
VOC_COEFFICIENT_AT_WORST = Assumed(
    -0.0040, "%/°C", "the largest change of open-circuit voltage that is plausible"
)
VMP_COEFFICIENT_AT_BEST = Assumed(
    -0.0030, "%/°C", "the least change of voltage at maximum power that labels give"
)
VMP_COEFFICIENT_AT_WORST = Assumed(
    -0.0050, "%/°C", "the largest change of voltage at maximum power that is plausible"
)
VMP_COEFFICIENT = Assumed(
    -0.0042,
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
    {"rigid": 15.0, "flexible": 10.0, "folding": 10.0},
    "A",
    "largest series fuse, at least; more where its current asks for it",
    "ModuleSheet.max_series_fuse",
)
SERIES_FUSE_AT_BEST = Times(2.0)
SERIES_FUSE_AT_WORST = Times(2.0 / 3.0)
SYSTEM_VOLTAGE = Assumed(
    {"rigid": 600.0, "flexible": 600.0, "folding": 60.0},
    "V",
    "largest system voltage",
    "ModuleSheet.max_system_voltage",
)
SYSTEM_VOLTAGE_AT_BEST = Assumed(
    {"rigid": 1500.0, "flexible": 1000.0, "folding": 600.0},
    "V",
    "the highest system voltage of such modules",
)
SYSTEM_VOLTAGE_AT_WORST = Assumed(
    {"rigid": 600.0, "flexible": 60.0, "folding": 50.0},
    "V",
    "the lowest system voltage of such modules",
)
LIGHT_IN_SHADE = Assumed(
    0.20, "%", "light that reaches a module in the shade of a mast, a branch or a box, from the sky"
)
MOUNTING = Assumed("open-rack", "", "mounting of a module, with air behind it", "String.mounting")
MOUNTING_AT_WORST = Assumed("roof-bonded", "", "mounting, the hottest")

JOINT_RATING = Assumed(30.0, "A", "rating of a joint of array wires", "Combiner.rating")
JOINT_RATING_AT_BEST = Assumed(60.0, "A", "the largest rating of a joint of array wires")
JOINT_RATING_AT_WORST = Assumed(
    20.0, "A", "rating of a branch connector whose 30 A holds for each leg"
)
_JOINTS = ("branch-connector", "combiner-box", "terminal-block", "busbar")
JOINT_VOLTAGE = Assumed(
    {"branch-connector": 600.0, "combiner-box": 150.0, "terminal-block": 150.0, "busbar": 150.0},
    "V",
    "rated voltage of a joint of array wires",
    "Combiner.voltage",
)
JOINT_VOLTAGE_AT_BEST = Assumed(
    dict.fromkeys(_JOINTS, 1000.0), "V", "the highest rated voltage of a joint"
)
JOINT_VOLTAGE_AT_WORST = Assumed(
    {"branch-connector": 600.0, "combiner-box": 48.0, "terminal-block": 48.0, "busbar": 48.0},
    "V",
    "the lowest rated voltage of a joint: bars and boxes made for boats and cars",
)


def _coefficient(
    quantity: str,
    symbol: str,
    usual: Assumed[float],
    instead: str,
    kind: Assumed[float] | None = None,
    harsh: Assumed[float] | None = None,
) -> Silence:
    return Silence(
        key=f"{quantity.lower()} coefficient",
        usual=usual,
        kind=kind,
        harsh=harsh,
        look_up=LookUp(
            f"how {quantity} of {{names}} changes with temperature",
            f"on the datasheet, as temperature coefficient of {quantity}",
            "rarely",
        ),
        says=f"The temperature coefficient of {quantity} of `{{subject}}` is assumed to be "
        "{percent:g} %/°C, since its datasheet gives none.",
        instead=instead,
        symbol=symbol,
        words=f"temperature coefficient of {quantity}",
        unit="1/K",
    )


NO_VOC_COEFFICIENT = _coefficient(
    "Voc",
    "β",
    VOC_COEFFICIENT,
    "voc_coefficient",
    VOC_COEFFICIENT_AT_BEST,
    VOC_COEFFICIENT_AT_WORST,
)
NO_VMP_COEFFICIENT = _coefficient(
    "Vmp",
    "βmp",
    VMP_COEFFICIENT,
    "pmax_coefficient",
    VMP_COEFFICIENT_AT_BEST,
    VMP_COEFFICIENT_AT_WORST,
)
NO_ISC_COEFFICIENT = _coefficient("Isc", "α", ISC_COEFFICIENT, "isc_coefficient")
NO_VOC_COEFFICIENT_IN_HEAT = NO_VOC_COEFFICIENT

NO_SYSTEM_VOLTAGE = Silence(
    key="maximum system voltage",
    usual=SYSTEM_VOLTAGE,
    kind=SYSTEM_VOLTAGE_AT_BEST,
    harsh=SYSTEM_VOLTAGE_AT_WORST,
    look_up=LookUp("the maximum system voltage of {names}", "on the label on the back", "rarely"),
    says="The maximum system voltage of `{subject}` ({kind}) is assumed to be {number:g} V, since "
    "its "
    "datasheet gives none.",
    instead="max_system_voltage",
    symbol="Usys",
    words="maximum system voltage",
    unit="V",
)
NO_SERIES_FUSE = Silence(
    key="maximum series fuse",
    kind=SERIES_FUSE_AT_BEST,
    harsh=SERIES_FUSE_AT_WORST,
    look_up=LookUp(
        "the largest fuse that {names} stands",
        "on the label on the back, as maximum series fuse",
    ),
    says="The maximum series fuse of `{subject}` ({kind}) is assumed to be {number:.3g} A, since "
    "its "
    "datasheet gives none.",
    instead="max_series_fuse",
    symbol="Ifuse",
    words="maximum series fuse of {subject}",
    unit="A",
)
NO_CELLS_IN_SERIES = Silence(
    key="cells in series",
    says="`{subject}` is assumed to have {count} cells in series.",
    instead="cells_in_series",
)
NO_BYPASS_DIODES = Silence(
    key="bypass diodes",
    says="`{subject}` is assumed to have {count} bypass diodes.",
    instead="bypass_diodes",
)
NO_PLUGS = Silence(
    key="plugs of modules",
    says="The plugs of `{subject}` are assumed to be locking ones with guarded contacts, as most "
    "modules have.",
    instead="style, under the connector of its module",
    look_up=LookUp(
        "whether the contacts of the plugs of {names} are guarded",
        "on the modules' leads: locking plugs hide both contacts, also when they are apart",
        "rarely",
    ),
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
    says="`{subject}` does not say how it is mounted; its cells are assumed to be as hot as with "
    "air "
    "behind them.",
    instead="mounting",
    look_up=LookUp("how {names} is mounted", "look whether air gets behind the modules", "rarely"),
)
NO_REVERSE_BLOCK = Silence(
    key="reverse flow",
    says="`{subject}` is assumed to keep battery current out of the array.",
    instead="blocks_reverse",
    look_up=LookUp(
        "whether {names} lets battery current flow back into the array",
        "in the manual, as reverse current at night",
        "rarely",
    ),
)
POWER_PER_AREA = Assumed(
    200.0, "W/m²", "power of a module for each square metre of it", "ModuleSheet.area"
)
NO_AREA = Silence(
    key="area of a module",
    kind=Times(0.85),
    harsh=Times(1.4),
    says="`{subject}` is assumed to have {number:.2f} m², as usual modules of its power have.",
    instead="area",
    symbol="A({subject})",
    words="area of {subject}",
    unit="m²",
    look_up=LookUp("the area of the module {names}", "measure it, frame included", "rarely"),
)
NO_JOINT_RATING = Silence(
    key="rating of a joint",
    usual=JOINT_RATING,
    kind=JOINT_RATING_AT_BEST,
    harsh=JOINT_RATING_AT_WORST,
    says="`{subject}` is assumed to be good for {number:g} A, since no rating is given.",
    instead="rating",
    symbol="In({subject})",
    words="rating of {subject}",
    unit="A",
    look_up=LookUp("what the joint {names} carries in all", "on the connector or the box, in A"),
    guess=True,
)
NO_JOINT_VOLTAGE = Silence(
    key="voltage of a joint",
    usual=JOINT_VOLTAGE,
    kind=JOINT_VOLTAGE_AT_BEST,
    harsh=JOINT_VOLTAGE_AT_WORST,
    says="`{subject}` is assumed to be made for {number:g} V DC, since its voltage is not given.",
    instead="voltage",
    symbol="Un({subject})",
    words="rated voltage of {subject}",
    unit="V",
    look_up=LookUp(
        "the DC voltage of the joint {names}", "on the connector or the box, in V DC", "rarely"
    ),
    guess=True,
)
NO_MOUNTING_IN_LIGHT = Silence(
    key="mounting",
    says="`{subject}` does not say how it is mounted; light is assumed to reach the backs of its "
    "modules.",
    instead="mounting",
)
NO_BOND_OF_FRAMES = Silence(
    key="bonding of frames",
    says="The frames of `{subject}` are assumed to be tied to earth; of metal they must be.",
    instead="frames_bonded: true",
    look_up=LookUp(
        "whether the frames of {names} are tied to earth",
        "follow the conductor from the frames to the earth rod or bar",
        presence=True,
    ),
)
