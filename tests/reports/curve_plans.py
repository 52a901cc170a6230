"""Plans and pictures for tests of curves."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from xml.etree import ElementTree

from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.reports.curves import data as curves_data
from wattproof.reports.curves import svg as curves_svg
from wattproof.reports.curves.data import InputCurves
from wattproof.study import Study
from wattproof.testing import study_of

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted(
    chain((ROOT / "examples").glob("*.yaml"), (ROOT / "examples" / "faulty").glob("*.yaml"))
)
NOT_DRAWABLE = "boat-thin-cable"
DRAWABLE = [path for path in EXAMPLES if path.stem != NOT_DRAWABLE]
SOUND = (ROOT / "tests" / "cli" / "plans" / "sound.yaml").read_text(encoding="utf-8")
SVG = "{http://www.w3.org/2000/svg}"

UNLIKE = (
    SOUND.replace("rigid-100: {", "rigid-100: {bypass_diodes: 2, ")
    .replace(
        "  cables:\n",
        "    rigid-200: {voc: 24.9 V, vmp: 20.9 V, isc: 10.2 A, imp: 9.6 A, pmax: 200 W,\n"
        "                bypass_diodes: 2, max_series_fuse: 20 A, max_system_voltage: 600 V}\n"
        "  cables:\n",
    )
    .replace("{module: rigid-100, series: 3,", "{modules: [rigid-100, rigid-200, rigid-200],")
)
"""Two maxima in each state."""

TWO_INPUTS = (
    UNLIKE.replace("strings:\n", "strings:\n  back-string: {module: rigid-100}\n")
    .replace(
        "controllers:\n",
        "controllers:\n  small: {kind: mppt, max_input_voltage: 20 V, min_input_voltage: 25 V, "
        "max_output_current: 10 A,\n          charge_voltage: 14.2 V}\n",
    )
    .replace(
        "wires:\n",
        "wires:\n  back-run: {from: back-string, to: small.pv, cable: pv-10, length: 4 m}\n"
        "  small-run: {from: small.battery, to: house, cable: batt-8, length: 1 m}\n",
    )
)
"""One input more, at which nothing fits and the controller works in one state only."""


SHADED = (
    UNLIKE
    + """\
shade:
  antenna: {shadows: [{string: roof-string, module: 1, groups: 1, light: 20 %}]}
  roof-box: {state: hottest, shadows: [{string: roof-string, module: 3, light: 60 %}]}
  tree-beside-the-road-in-the-late-afternoon:
    state: coldest
    shadows: [{string: roof-string, light: 35 %}]
  snow: {shadows: [{string: roof-string, light: 0 %}]}
  standard: {shadows: [{string: roof-string, module: 2, groups: 2, light: 10 %}]}
"""
)
"""Shades in all states: one over the whole array, one without light, one named as a state is."""


def inputs_of(text: str) -> list[InputCurves]:
    """The curves of a plan given as text."""
    return [curves_data.read(curves) for curves in study_of(text).curves.curves]


def example(path: Path) -> tuple[str, list[InputCurves]]:
    """Title and curves of an example."""
    study = Study(build_circuit(load_plan(str(path))))
    return str(study.plan.title or ""), [curves_data.read(curves) for curves in study.curves.curves]


def picture(title: str, inputs: list[InputCurves]) -> ElementTree.Element:
    """The picture of some curves, read back."""
    return ElementTree.fromstring(curves_svg.render(title, inputs))


@dataclass(frozen=True)
class Written:
    """A text on a picture with the room that it takes at least, in an ordinary font."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Written) -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


def written(root: ElementTree.Element) -> list[Written]:
    """All texts of a picture."""
    return [_written(text) for text in root.iter(f"{SVG}text")]


def _written(text: ElementTree.Element) -> Written:
    content = "".join(text.itertext())
    x, y, size = (float(text.attrib[key]) for key in ("x", "y", "font-size"))
    wide = 0.6 * size * sum(1.7 if ord(c) > 0x2E7F else 1.0 for c in content)
    left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[text.attrib["text-anchor"]]
    return Written(content, left, y - 0.78 * size, left + wide, y + 0.22 * size)
