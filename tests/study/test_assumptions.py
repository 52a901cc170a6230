"""The tables of what is assumed: no kind of thing forgotten, no sentence with a gap."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from functools import cache

import pytest

from plans import BASE
from wattproof.plan.power import AS_PRINTED, KINDS_AS_PRINTED
from wattproof.plan.schema import plan_schema
from wattproof.study import assumptions
from wattproof.study.assumptions import Assumed, Silence
from wattproof.study.assumptions.cables import UNSTATED
from wattproof.study.assumptions.modules import NO_SERIES_FUSE
from wattproof.testing import study_of

PRINTED = AS_PRINTED | KINDS_AS_PRINTED
"""Words as labels print them, and the one of the language that each is read as."""
IN_PART = {"ENGINE_AMBIENT"}
BESIDE = {"INPUT_VOLTAGE", "JOINT_VOLTAGE", "JOINT_VOLTAGE_AT_BEST", "JOINT_VOLTAGE_AT_WORST"}
"""Figures that have a row beside the kinds of one list: for bars, and by voltage."""
"""Figures that only some kinds have, with another for the rest."""


IMPLIED = {"converter"}
"""Kinds that a family of its own stands for, so that no plan writes the word."""


def rows() -> Iterator[tuple[str, object]]:
    """What the tables define, by name."""
    for found in pkgutil.iter_modules(assumptions.__path__, f"{assumptions.__name__}."):
        for name, row in vars(importlib.import_module(found.name)).items():
            if isinstance(row, Mapping) and not name.startswith("_"):
                yield from ((f"{name}[{key}]", each) for key, each in row.items())
            else:
                yield name, row


@cache
def kinds_of_the_language() -> list[set[str]]:
    """Every list of words that the plan language has the reader choose from."""
    schema = plan_schema()
    models = [schema, *schema["$defs"].values()]
    keys = [key for model in models for key in model.get("properties", {}).values()]
    forms = [form for key in keys for form in (key, *key.get("anyOf", ()))]
    lists = [set(form["enum"]) - {"unknown"} for form in forms if "enum" in form]
    return [{PRINTED.get(word, word) for word in each} for each in lists]


def by_kind() -> list[tuple[str, Assumed[Mapping[str, float]]]]:
    found = {
        name: row
        for name, row in rows()
        if isinstance(row, Assumed) and isinstance(row.value, Mapping)
    }
    return [(name, row) for name, row in found.items() if name not in IN_PART | BESIDE]


@pytest.mark.parametrize(("name", "figure"), by_kind())
def test_a_figure_by_kind_leaves_out_no_kind_of_the_language(
    name: str, figure: Assumed[Mapping[str, float]]
) -> None:
    kinds = set(figure.value) - {UNSTATED, *IMPLIED}
    lists = [each for each in kinds_of_the_language() if kinds & each]
    assert kinds in lists or not lists, name


USUAL = sorted({n: r for n, r in rows() if isinstance(r, Silence) and r.usual is not None}.items())


@pytest.mark.parametrize(("name", "silence"), USUAL)
def test_every_kind_of_a_usual_figure_has_its_number(name: str, silence: Silence) -> None:
    study = study_of(BASE)
    assert silence.usual is not None
    usual = silence.usual.value
    for kind, number in usual.items() if isinstance(usual, Mapping) else [("", usual)]:
        value = study.assume.value(silence, "here", study.plan.setting.place, kind=kind, sold="new")
        [assumption] = value.assumptions
        assert value.number == number, name
        assert not {"{", "}"} & set(assumption.says + value.symbol + value.words)


def test_a_number_that_has_to_be_worked_out_is_asked_for() -> None:
    study = study_of(BASE)
    with pytest.raises(LookupError, match="maximum series fuse"):
        study.assume.value(NO_SERIES_FUSE, "roof", study.plan.setting.place, kind="rigid")
