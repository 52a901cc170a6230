"""The labels of real modules as a study: what the rules on labels read of one, and no more.

A plan with a string for each module would say the same, some hundred times slower. The rules run
unchanged; what they are given is made of the same models, quantities and studies as in a check.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cached_property
from typing import Any, Final

from plans import BASE
from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.plan.array import String
from wattproof.plan.datasheets import ModuleSheet
from wattproof.quantities import read_quantity
from wattproof.source import Place, Text
from wattproof.study import Study
from wattproof.study.array import ArraySection
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.curves import CurvesSection

PLACE: Final = Place("set.yaml", 1, 1, 1, 1)
DIMENSIONS: Final = {
    "voc": "voltage",
    "isc": "current",
    "vmp": "voltage",
    "imp": "current",
    "pmax": "power",
    "voc_coefficient": "voltage coefficient",
    "isc_coefficient": "current coefficient",
    "pmax_coefficient": "relative coefficient",
}
NEAR: Final = 0.10
"""Share by which a number in a type's name may differ from its power, and still be its class."""


def label(row: dict[str, Any], power: int) -> dict[str, str]:
    """A row of the set, with a power (W), as a plan writes a label; the digits are the set's."""
    return {
        "voc": f"{row['V_oc_ref']} V",
        "isc": f"{row['I_sc_ref']} A",
        "vmp": f"{row['V_mp_ref']} V",
        "imp": f"{row['I_mp_ref']} A",
        "pmax": f"{power} W",
        "voc_coefficient": f"{row['beta_oc']:.6f} V/K",
        "isc_coefficient": f"{row['alpha_sc']:.6f} A/K",
        "pmax_coefficient": f"{row['gamma_r']} %/K",
    }


def set_power(type_: str, power: float) -> int:
    """The set's own power in whole watts. It is voltage times current, and proves nothing."""
    return round(power)


def class_power(type_: str, power: float) -> int | None:
    """The class of power in a type's name (W): the number nearest to its power, if one is near."""
    numbers = [int(digits) for digits in re.findall(r"(?<!\d)\d{2,3}(?!\d)", type_)]
    near = [number for number in numbers if abs(number / power - 1.0) <= NEAR]
    return min(near, key=lambda number: abs(number - power), default=None)


class Labels(Study):
    """A study whose modules are those of a table, each used by one string that stands alone."""

    def __init__(self, table: Any, power: Callable[[str, float], int | None] = set_power) -> None:
        super().__init__(build_circuit(load_plan("plan.yaml", text=BASE)))
        rows = zip(table.index, table.to_dict("records"), strict=True)
        self._labels = {
            str(number): label(row, watts)
            for number, (type_, row) in enumerate(rows)
            if (watts := power(type_, row["STC"])) is not None
        }

        self.array = _Unjoined(self, self._labels)
        self.curves = CurvesSection(self.assume, self.battery, self.array, self.wiring)

    @property
    def modules(self) -> dict[str, ModuleStudy]:
        """A study of each label that has a power, by its number in the table."""
        return self.array.modules


class _Unjoined(ArraySection):
    """Modules that stand alone."""

    def __init__(self, study: Study, labels: dict[str, dict[str, str]]) -> None:
        super().__init__(study.circuit, study.assume, study.site, study.battery)
        self._labels = labels

    @cached_property
    def modules(self) -> dict[str, ModuleStudy]:
        """A study of each label that has a power, by its number in the table."""
        return {
            name: ModuleStudy(_sheet(name, written), self._site.climate, self._assume)
            for name, written in self._labels.items()
        }

    @cached_property
    def arrays(self) -> tuple[ArrayStudy, ...]:
        """None: no module stands beside another."""
        return ()

    def users_of(self, module: ModuleStudy) -> tuple[String, ...]:
        """The string of the plan, in the stead of one for each."""
        return tuple(self._circuit.plan.strings.values())


def _sheet(name: str, written: dict[str, str]) -> ModuleSheet:
    values = {
        key: read_quantity(Text.at(text, PLACE), DIMENSIONS[key]) for key, text in written.items()
    }
    return ModuleSheet.model_construct(name=Text.at(name, PLACE), **values)
