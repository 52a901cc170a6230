"""Frames of modules that nothing ties to earth or chassis."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.finding import Level
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds
from wattproof.words import quoted
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.43; 690.45",
        "2023",
        "exposed metal frames of modules are joined to an equipment grounding conductor",
        verified=True,
    ),
    "iec": Clause(
        "IEC 60364-7-712; IEC 62548",
        "2017; 2016",
        "metal frames are bonded where protection against electric shock asks for it, by copper of "
        "at least 6 mm²",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11, scope up to 50 V",
        "2022",
        "above 50 V direct current the rules for the low voltage of boats do not hold",
        verified=False,
    ),
    "common practice": Clause(
        "IEC 60364-4-41",
        "2017",
        "above 60 V direct current, metal that can become live is tied to the protective earth",
        verified=False,
    ),
}

MORE = """\
setting: cabin
"""


@rule(
    id="frames-not-bonded",
    summary="Whether the frames of modules are bonded, by their setting and the array's voltage.",
    covers=("Frames that may become live",),
    level="error",
    hazard="shock",
    part="bonding",
    basis=BASIS,
    explanation="When the insulation of a lead wears through against the frame, the frame takes "
    "the voltage of the array, and nothing shows it. Whoever then touches the frame and something "
    "that is earthed closes the circuit. A conductor that ties the frames to earth keeps them at "
    "the voltage of the ground, and gives the fault a way by which protection can find it.",
    caution=warning("A frame that is live gives a shock to whoever cleans or moves the modules."),
    since="0.1.0",
    sound=plan(
        "van", Edit("mounting: roof-gap", "mounting: open-rack, frames_bonded: true"), more=MORE
    ),
    faulty=Edit("frames_bonded: true", "frames_bonded: false"),
)
def frames_not_bonded(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        loose = study.array.loose_frames(array)
        if not loose:
            continue
        volts, limit = array.voc("coldest"), _limit(study)
        names = quoted(string.name for string in loose)
        forgotten = all(string.frames_bonded is None for string in loose)
        others = ", as those of others are" if forgotten else ""
        yield Observation(
            message=f"nothing ties the frames of {names} to earth or chassis{others}, in an array "
            f"of up to {volts}",
            on=loose,
            values=(volts, limit),
            remedy=Remedy(
                "tie the frames together and to earth, in a vehicle to the chassis, by a "
                "conductor of copper of at least 6 mm² (10 AWG) with lugs made for frames; then "
                "write `frames_bonded: true`",
                (tuple(Change(s.name, "frames_bonded", "true") for s in loose),),
            ),
            absent="frame_bonds" if forgotten else "",
            level=_level(array, study),
        )


def _level(array: ArrayStudy, study: Study) -> Level:
    """Where the body of rules asks for it at any voltage, an error; elsewhere by voltage."""
    if study.codes.array.forbids("loose-frames", study.plan.setting):
        return "error"
    if not exceeds(array.voc("coldest"), _limit(study)):
        return "note"
    return "error" if study.plan.setting == "cabin" else "warning"


def _limit(study: Study) -> Value:
    if study.plan.setting == "boat":
        return tabled(50.0, "V", "Ulow", "voltage up to which boats are low-voltage", "ABYC E-11")
    return tabled(60.0, "V", "Ulow", "voltage that may be touched when dry", "IEC 60364-4-41")
