"""What the server knows of the plan language: every key that names something, and where it is."""

from __future__ import annotations

from typing import Any

import pytest

from editor.clients import ROOT
from wattproof.editor.documents import Document
from wattproof.editor.keys import Keys
from wattproof.editor.names import ALIKE, DECLARED, FEEDS, REFERRING, TERMINALS
from wattproof.plan.datasheets import ModuleSheet
from wattproof.plan.devices import Breaker, Busbar
from wattproof.plan.power import Battery
from wattproof.plan.root import Plan
from wattproof.study.assumptions.printed import where_printed

KEYS = Keys()
NAMING = {"^[a-z0-9]+(-[a-z0-9]+)*$", r"^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9-]+){0,2}$"}
"""What the schema says of a name, and of a component or a terminal of one."""
DECLARES = {("Isolator", "outputs")}


def naming_keys() -> list[tuple[str, str]]:
    """Every key of the schema that holds names."""
    definitions = KEYS._schema["$defs"]
    found = []
    for model, schema in definitions.items():
        forms = [schema, *schema.get("anyOf", ())]
        for form in forms:
            held = form.get("properties") or {}
            inner = form.get("additionalProperties")
            if isinstance(inner, dict):
                held = {**held, **inner.get("properties", {})}
            found += [(model, key) for key, value in held.items() if _names(value)]
    return sorted(set(found))


def _names(value: Any) -> bool:
    forms = [value, *value.get("anyOf", ())]
    forms += [form["items"] for form in forms if isinstance(form.get("items"), dict)]
    patterns = {str(form.get("pattern", "")) for form in forms}
    return any(p in NAMING or any(n[1:-1] in p for n in NAMING) for p in patterns)


def test_every_key_that_names_something_is_known() -> None:
    known = {*TERMINALS, *REFERRING, *DECLARES}
    found = naming_keys()
    assert len(found) > 20
    unknown = [
        (model, key)
        for model, key in found
        if (model, key) not in known and key not in ALIKE and key != FEEDS
    ]
    assert unknown == []


def test_every_family_with_names_declares_them() -> None:
    families = {
        (key,) for key, field in Plan.model_fields.items() if "dict[str" in str(field.annotation)
    }
    assert families - {("open_strings",)} <= set(DECLARED)


def test_every_key_of_the_examples_is_found() -> None:
    for path in (ROOT / "examples").glob("*.yaml"):
        document = Document(path.as_uri(), str(path), path.read_text(encoding="utf-8"))
        lost = [w.path for w in document.words if w.is_key and KEYS.find(w.path) is None]
        assert lost == [], path
        for name in document.names(KEYS):
            if name.space in ("component", "place") and name.text not in ("chassis", "earth"):
                assert name.path, (path, name)


@pytest.mark.parametrize(
    ("model", "key", "where"),
    [
        (Battery, "capacity", "on its case, in Ah"),
        (ModuleSheet, "voc", "on the label on the back"),
        (Breaker, "voltage", "on its face or body, in V DC"),
        (Breaker, "rating", "on its body or face, in A"),
        (Busbar, "voltage", ""),
    ],
)
def test_where_a_value_is_printed_is_told_where_it_is_certain(
    model: Any, key: str, where: str
) -> None:
    told = where_printed(model, key)
    assert told.startswith(where)
    assert bool(told) == bool(where)
