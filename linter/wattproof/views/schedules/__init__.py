"""Schedules of a plan: what a builder buys, cuts and labels from. Rows, in the plan's order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wattproof.record import record
from wattproof.views.schedules.conductors import ConductorRow, Protection, conductor_rows
from wattproof.views.schedules.devices import DeviceRow, device_rows
from wattproof.views.schedules.labels import LabelRow, label_rows
from wattproof.views.schedules.of_packs import pack_fuse_labels, pack_fuse_rows
from wattproof.views.schedules.parts import PartRow, part_rows
from wattproof.views.schedules.unit_rows import unit_rows

if TYPE_CHECKING:
    from wattproof.study import Study

__all__ = [
    "ConductorRow",
    "DeviceRow",
    "LabelRow",
    "PartRow",
    "Protection",
    "Schedules",
    "schedules_of",
]


@record
class Schedules:
    """The four schedules of one plan. What the plan does not say is None in their rows."""

    conductors: tuple[ConductorRow, ...]
    devices: tuple[DeviceRow, ...]
    parts: tuple[PartRow, ...]
    labels: tuple[LabelRow, ...]


def schedules_of(study: Study) -> Schedules:
    """All schedules of a study."""
    conductors = tuple(conductor_rows(study))
    return Schedules(
        conductors,
        (*device_rows(study), *pack_fuse_rows(study)),
        (*part_rows(study, conductors), *unit_rows(study)),
        (*label_rows(study), *pack_fuse_labels(study)),
    )
