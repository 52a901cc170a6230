"""The page and the command line say the same of the same plans, byte for byte."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from amounts import amount
from browser.built import ROOT, builder
from browser.desk import Desk, as_json
from corpus.generated import plans

pytestmark = [pytest.mark.xdist_group("page"), pytest.mark.whole]

EXAMPLES = builder().examples()
GENERATED = amount(10, 200)
FIRST = (
    {"setting": "vehicle", "modules": "6", "voc": "24.3 V", "vmp": "20.4 V", "isc": "5.2 A",
     "imp": "4.9 A", "controller": "mppt", "input-voltage": "100 V", "output-current": "30 A",
     "battery": "agm", "nominal": "12 V", "coldest": "-10 °C"},
    {"setting": "cabin", "modules": "4", "voc": "49.5 V", "isc": "11 A", "controller": "mppt",
     "controllers": "2", "input-voltage": "150 V", "battery": "lithium-iron-phosphate",
     "nominal": "25.6 V", "coldest": "-25 °C", "voc-coefficient": "-0.27 %/°C"},
)  # fmt: skip


def told(*arguments: str, cwd: Path) -> Any:
    """What the command line says, as JSON."""
    command = [sys.executable, "-m", "wattproof", *arguments]
    done = subprocess.run(command, cwd=cwd, capture_output=True, text=True)
    assert done.stdout, done.stderr
    return json.loads(done.stdout)


def test_every_example_is_found_the_same(desk: Desk) -> None:
    names = [example["plan"] for example in EXAMPLES]
    document = told("check", *names, "--format", "json", cwd=ROOT)
    assert len(document["plans"]) == len(EXAMPLES) > 10
    for example, expected in zip(EXAMPLES, document["plans"], strict=True):
        made = desk.call("documented", example["files"], example["plan"], "json")
        [found] = json.loads(made)["plans"]
        assert as_json(found) == as_json(expected), example["plan"]


def test_generated_plans_are_found_the_same(desk: Desk, tmp_path: Path) -> None:
    """The first 200 of the corpus in the long form, the first 10 of them in the short."""
    texts = {f"plan-{number:03}.yaml": text for number, text in enumerate(plans(GENERATED))}
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    document = told("check", *texts, "--format", "json", cwd=tmp_path)
    assert len(document["plans"]) == GENERATED
    for expected in document["plans"]:
        name = expected["file"]
        [found] = json.loads(desk.call("documented", {name: texts[name]}, name, "json"))["plans"]
        assert as_json(found) == as_json(expected), texts[name]


@pytest.mark.parametrize("answers", FIRST, ids=["one-controller", "two-controllers"])
def test_a_first_plan_and_its_layouts_are_the_same(
    desk: Desk, tmp_path: Path, answers: dict[str, str]
) -> None:
    options = [word for key, text in answers.items() for word in (f"--{key}", text)]
    command = [sys.executable, "-m", "wattproof", "new", "plan.yaml", *options]
    subprocess.run(command, cwd=tmp_path, check=True, capture_output=True)
    expected = (tmp_path / "plan.yaml").read_text(encoding="utf-8")
    [made] = desk.page.evaluate(
        "(told) => wattproofPage.engine.call('begin', {with: [told]}).then((made) => [made.text])",
        answers,
    )
    assert made == expected
    files = {"plan.yaml": made}
    found = json.loads(desk.call("layouts-document", files, "plan.yaml"))
    document = told("layouts", "plan.yaml", "--format", "json", cwd=tmp_path)
    assert as_json(found) == as_json(document)


def test_what_cannot_be_read_is_told_the_same(desk: Desk, tmp_path: Path) -> None:
    """Problems of the text itself: here another parser reads it."""
    texts = {
        "tab.yaml": "wattproof: 1\nsite:\n\tcoldest: 3 °C\n",
        "open.yaml": "wattproof: 1\nstrings: {roof: {module: a\n",
        "twice.yaml": "wattproof: 1\nsetting: boat\nsetting: cabin\n",
        "quote.yaml": 'wattproof: 1\ntitle: "never ended\n',
        "unit.yaml": "wattproof: 1\nsetting: vehicle\nsite: {coldest: 10}\n",
        "key.yaml": "wattproof: 1\nsettin: vehicle\n",
        "empty.yaml": "",
        "list.yaml": "- wattproof\n- 1\n",
        "alias.yaml": "wattproof: 1\nsite: *nowhere\n",
        "tag.yaml": "wattproof: 1\ntitle: !!python/object:x.y {}\n",
        "two.yaml": "wattproof: 1\n---\nwattproof: 1\n",
        "colon.yaml": "wattproof: 1\ntitle: a: b\n",
        "directive.yaml": "%FOO\n---\nwattproof: 1\n",
        "bracket.yaml": "wattproof: 1\nparts: [a.yaml, b.yaml\nsetting: boat\n",
        "indent.yaml": "wattproof: 1\nsite:\n    coldest: -3 °C\n  hottest: 30 °C\n",
    }
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    document = told("check", *texts, "--format", "json", cwd=tmp_path)
    differing = []
    for expected in document["plans"]:
        name = expected["file"]
        [found] = json.loads(desk.call("documented", {name: texts[name]}, name, "json"))["plans"]
        if as_json(found) != as_json(expected):
            differing.append((name, found["problems"], expected["problems"]))
    assert not differing
