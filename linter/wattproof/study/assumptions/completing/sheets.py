"""Datasheets for what names none, and the labels of modules by the rest of them."""

from __future__ import annotations

from typing import Any

from wattproof.plan.array import String
from wattproof.plan.datasheets import CableSheet, ModuleSheet
from wattproof.plan.fields import Named
from wattproof.plan.sized import CABLED, OF
from wattproof.quantities import UNKNOWN
from wattproof.source import Place, Text
from wattproof.study.assumptions import labels
from wattproof.study.assumptions.completing.filling import Figure, Filling
from wattproof.study.assumptions.rows import Silence

_BY_SIZE = "as of modules of its size"
_NO_VOLTAGES = (labels.NO_VOC, labels.NO_VMP)


def sheets_of_their_own(filling: Filling) -> None:
    """Datasheets of their own for what names none: unknown cables and modules."""
    plan = filling.plan
    cables = dict(plan.datasheets.cables)
    for family in CABLED:
        parts = dict(getattr(plan, family))
        for name, part in parts.items():
            if part.cable is None:
                opened = part.open.get("cable")
                sheet = CableSheet.model_construct(
                    name=_own_name(part, "cable"),
                    left_open={"size": opened} if opened is not None else None,
                )
                cables[sheet.name] = sheet
                parts[name] = part.model_copy(update={"cable": sheet.name})
        filling.put(family, parts)
    filling.put_sheets("cables", cables)
    modules = dict(plan.datasheets.modules)
    strings = {name: _with_modules(filling, s, modules) for name, s in plan.strings.items()}
    filling.put_sheets("modules", modules)
    filling.put("strings", strings)


def _with_modules(filling: Filling, string: String, modules: dict[str, ModuleSheet]) -> String:
    """The string, its unknown modules in a datasheet of their own."""
    update: dict[str, Any] = {}
    if string.facing is None and string.tilt is not None and string.tilt.value > 0.0:
        update["tilt"] = None  # a tilt alone says nothing
    among = "modules" in string.unknown and string.modules is not None
    if (string.module is None and string.modules is None) or among:
        name = _own_name(string, "modules" if among else "module")
        modules[name] = ModuleSheet.model_construct(name=name)
        update["module"] = None if among else name
        if among:
            listed = string.modules or ()
            update["modules"] = tuple(name if m == UNKNOWN else m for m in listed)
    return string.model_copy(update=update) if update else string


def labels_of_modules(filling: Filling) -> None:
    sheets = filling.plan.datasheets.modules
    filling.put_sheets("modules", {name: _module(filling, s) for name, s in sheets.items()})


def _module(filling: Filling, sheet: ModuleSheet) -> ModuleSheet:
    """A label of which one value tells another, as those of real modules do."""
    told = None not in (sheet.voc, sheet.isc, sheet.vmp)
    if told and (sheet.imp is not None or sheet.pmax is not None):
        return sheet
    kind = str(sheet.technology)
    voltage, current = labels.VMP_SHARE.value[kind], labels.IMP_SHARE.value[kind]
    of_label = "by the rest of its label"
    if sheet.vmp is not None:
        vmp = Figure(sheet.vmp.value, of_label)
    elif sheet.voc is not None:
        vmp = Figure(voltage * sheet.voc.value, of_label)
    elif sheet.pmax is not None and sheet.imp is not None:
        vmp = Figure(sheet.pmax.value / sheet.imp.value, of_label)
    elif sheet.cells_in_series is not None:
        vmp = Figure(labels.VMP_PER_CELL.value * sheet.cells_in_series, "by its cells")
    else:
        vmp = Figure(_vmp_by_size(sheet), _BY_SIZE)
    if sheet.imp is not None:
        imp = Figure(sheet.imp.value, of_label)
    elif sheet.pmax is not None:
        imp = Figure(sheet.pmax.value / vmp.value, of_label)
    elif sheet.isc is not None:
        imp = Figure(current * sheet.isc.value, of_label)
    else:
        imp = Figure(labels.MODULE_POWER.value / vmp.value, "as of a module of 100 W")
    by_power = vmp.why == _BY_SIZE and sheet.imp is None
    isc = _no_isc(sheet) if by_power else labels.NO_ISC
    of_any = sheet.imp is None and sheet.pmax is None and sheet.isc is None
    isc_figure = Figure(imp.value / current, imp.why)
    no_voc, no_vmp = _no_voltages(sheet) if vmp.why == _BY_SIZE else _NO_VOLTAGES
    found = filling.part(
        "modules",
        sheet,
        ("voc", no_voc, "voltage", Figure(vmp.value / voltage, vmp.why)),
        ("vmp", no_vmp, "voltage", vmp),
        ("isc", labels.NO_ISC_OF_ANY if of_any else isc, "current", isc_figure),
    )
    if sheet.imp is None and sheet.pmax is None:
        no_imp = labels.NO_IMP_OF_ANY if of_any else labels.NO_IMP
        found = filling.part("modules", found, ("imp", no_imp, "current", imp))
    return found


def _own_name(part: Named, key: str) -> Text:
    """The name of a datasheet that stands for what a component does not name."""
    place: Place = part.unknown.get(key) or part.open.get(key) or part.unknown.get("") or part.at
    return Text.at(f"{key.removesuffix('s')}{OF}{part.name}", place)


def _vmp_by_size(sheet: ModuleSheet) -> float:
    """The voltage at maximum power (V) of a module of which at most the power is told."""
    if _is_film(sheet) and not _is_small_film(sheet):
        return float(labels.FILM_VMP.value)
    cells = labels.CELLS.value["above" if _is_large(sheet) else "up to 220 W"]
    return float(labels.VMP_PER_CELL.value * cells)


def _is_film(sheet: ModuleSheet) -> bool:
    return str(sheet.technology) == "thin-film"


def _is_small_film(sheet: ModuleSheet) -> bool:
    return sheet.pmax is not None and sheet.pmax.value <= labels.SMALL_FILM.value


def _is_large(sheet: ModuleSheet) -> bool:
    """True for a module of a power that only those for roofs have."""
    return sheet.pmax is not None and sheet.pmax.value > labels.LARGE_MODULE.value


def _no_isc(sheet: ModuleSheet) -> Silence:
    """What is said of a short-circuit current that only the power of a module tells, if any."""
    if _is_film(sheet):
        return labels.NO_ISC_OF_SMALL_FILM if _is_small_film(sheet) else labels.NO_ISC_OF_FILM
    if sheet.pmax is not None and sheet.pmax.value <= labels.SMALL_MODULE.value:
        return labels.NO_ISC_OF_SMALL
    return labels.NO_ISC if _is_large(sheet) else labels.NO_ISC_BY_POWER


def _no_voltages(sheet: ModuleSheet) -> tuple[Silence, Silence]:
    """What is said of an open voltage, and of that at maximum power, that only the power tells."""
    if _is_film(sheet) and _is_small_film(sheet):
        return labels.NO_VOC_OF_SMALL_FILM, labels.NO_VMP_OF_SMALL_FILM
    if _is_film(sheet):
        return labels.NO_VOC_OF_FILM, labels.NO_VMP_OF_FILM
    if _is_large(sheet):
        return labels.NO_VOC_BY_SIZE, labels.NO_VMP_BY_SIZE
    if sheet.pmax is None or sheet.pmax.value > labels.SMALL_MODULE.value:
        return labels.NO_VOC_BY_POWER, labels.NO_VMP_BY_POWER
    return _NO_VOLTAGES
