"""The rules on labels over every crystalline module of an open set: how often they speak.

Source: the CEC module list that pvlib (PyPI) ships. Its modules are real and were tested, so that
what a rule says of one is a false alarm, unless the row itself holds a slip. The list gives no
maximum series fuse and no other power than voltage times current; what follows from that stands
beside the checks.

The ordinary run takes every tenth of them and those whose row holds a slip, the long one all.

`module_labels.json` is under version control: how many modules of each band a rule speaks of.
Update it on purpose, with UPDATE_GOLDEN=1 (and WATTPROOF_LONG=1 for all), and say why in the
commit.
"""

from __future__ import annotations

import json
import os
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from amounts import LONG, amount
from external.module_labels import Labels, class_power
from external.real_modules import crystalline_modules
from wattproof.packs import discover
from wattproof.study.array.label_coefficients import odd_coefficients

KEPT = Path(__file__).parent / "module_labels.json"
RULES = discover().rules
BY_LABEL = (
    "module-values-impossible",
    "module-power-disagrees",
    "module-fill-factor-odd",
    "module-coefficient-odd",
    "module-fits-no-curve",
    "module-fuse-label-low",
)
BY_CLASS = "module-power-disagrees"
POWERS = (100, 200, 300, 400)  # W, ends of classes
CELLS = (36, 60, 72)  # in series, likewise
MOST = 0.01  # share of modules
LARGEST = 0.0040  # 1/K of a current: no cell of silicon comes near
SET = "all" if LONG else "every tenth"

Bands = dict[str, dict[str, int]]


@cache
def table() -> Any:
    """The modules that are looked at."""
    whole = crystalline_modules()
    return whole.iloc[sorted({*range(0, len(whole), amount(10, 1)), *suspects()})]


@cache
def suspects() -> frozenset[int]:
    """Rows of the whole set whose coefficient of current is larger than one can be."""
    return frozenset(n for n, alpha in enumerate(relative_coefficients()) if alpha > LARGEST)


@cache
def relative_coefficients() -> tuple[float, ...]:
    whole = crystalline_modules()
    return tuple(whole["alpha_sc"].astype(float) / whole["I_sc_ref"].astype(float))


@cache
def labels() -> Labels:
    return Labels(table())


@cache
def of_classes() -> Labels:
    """The modules whose name holds a class of power, and that power as the label's."""
    return Labels(table(), class_power)


@cache
def spoken_of(rule: str, study: Labels) -> dict[str, set[str]]:
    """Modules of which a rule says something, by its level."""
    found: dict[str, set[str]] = {}
    for observation in RULES[rule].observations(study, {}):
        level = observation.level or RULES[rule].level
        found.setdefault(level, set()).add(str(observation.on[1].name))
    return found


@cache
def rows() -> list[dict[str, Any]]:
    return list(table().to_dict("records"))


def bands(modules: set[str] | dict[str, Any]) -> Bands:
    """How many of some modules are in each band."""
    chosen = [rows()[int(name)] for name in modules]
    return {
        "technology": dict(sorted(Counter(row["Technology"] for row in chosen).items())),
        "power": _classes((float(row["STC"]) for row in chosen), POWERS, "W"),
        "cells": _classes((int(row["N_s"]) for row in chosen), CELLS, "cells"),
    }


def _classes(values: Any, ends: tuple[int, ...], unit: str) -> dict[str, int]:
    names = [f"up to {end} {unit}" for end in ends] + [f"above {ends[-1]} {unit}"]
    counts = Counter(sum(value > end for end in ends) for value in values)
    return {name: counts[index] for index, name in enumerate(names) if counts[index]}


def test_the_whole_set_is_read() -> None:
    assert len(crystalline_modules()) == 20946
    assert len(labels().modules) == len(table()) == amount(2103, 20946)


def test_counts_per_band_are_as_kept() -> None:
    found: dict[str, Any] = {"all modules": _counted(labels().modules)}
    for rule in BY_LABEL:
        for level, modules in sorted(spoken_of(rule, labels()).items()):
            found[f"{rule} ({level})"] = _counted(modules)
    found["modules with a class of power in their name"] = _counted(of_classes().modules)
    for level, modules in sorted(spoken_of(BY_CLASS, of_classes()).items()):
        found[f"{BY_CLASS} by that class ({level})"] = _counted(modules)
    kept = json.loads(KEPT.read_text(encoding="utf-8"))
    if os.environ.get("UPDATE_GOLDEN"):
        kept[SET] = found
        KEPT.write_text(json.dumps(kept, indent=2) + "\n", encoding="utf-8")
    assert found == kept[SET]


def _counted(modules: set[str] | dict[str, Any]) -> dict[str, Any]:
    return {"count": len(modules), **bands(modules)}


@pytest.mark.parametrize("rule", BY_LABEL)
def test_warnings_and_notes_are_rare(rule: str) -> None:
    for level in ("warning", "note"):
        assert len(spoken_of(rule, labels()).get(level, ())) < MOST * len(labels().modules)


@pytest.mark.parametrize("rule", BY_LABEL)
def test_no_error_but_where_the_set_itself_is_wrong(rule: str) -> None:
    wrong = spoken_of(rule, labels()).get("error", set())
    assert wrong == (ten_times_too_large() if rule == "module-coefficient-odd" else set())


def ten_times_too_large() -> set[str]:
    """Rows whose coefficient of current is ten times that of another type of the same maker."""
    types, relative = list(crystalline_modules().index), relative_coefficients()
    places = {type_: str(place) for place, type_ in enumerate(table().index)}
    found = set()
    for index in suspects():
        maker = types[index].split("_")[0]
        others = [a for t, a in zip(types, relative, strict=True) if t.split("_")[0] == maker]
        if any(abs(relative[index] / other / 10.0 - 1.0) < 0.02 for other in others if other):
            found.add(places[types[index]])
    assert len(found) == len(suspects()) == 8
    return found


def test_the_rule_tells_by_how_much_those_are_wrong() -> None:
    for name in ten_times_too_large():
        [odd] = odd_coefficients(labels().modules[name])
        assert odd.likely.startswith("its point is off by one place: 0.05")


def test_power_against_the_class_in_the_name() -> None:
    """A class is the least that a maker promises, in steps of 5 W: it may be 3 % off, rarely more.

    Numbers in names that are no class, but near one, are among the few. Those further off than a
    tenth are not taken for a class, so nothing is said here of errors.
    """
    study = of_classes()
    assert len(study.array.modules) > 0.9 * len(labels().modules)
    assert len(spoken_of(BY_CLASS, study)["warning"]) < MOST * len(study.array.modules)


def test_without_a_largest_fuse_on_the_label_its_rule_is_silent() -> None:
    """The list gives none; the rule is held against its limits beside the other rules' tests."""
    assert all(module.sheet.max_series_fuse is None for module in labels().modules.values())
    assert not spoken_of("module-fuse-label-low", labels())
