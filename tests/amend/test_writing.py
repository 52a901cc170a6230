"""Changes written into plans: read back they are the amended plan, and nothing else has moved.

Over generated plans, examples and the examples of rules, in every form in which people write them.
A sample in the ordinary run; WATTPROOF_LONG=1 takes them all.
"""

from __future__ import annotations

import os
import random
import re
from collections import Counter
from collections.abc import Iterator

import pytest

from amend.forms import forms
from corpus.generated import plans
from plans import EXAMPLES, data_of, text_of
from wattproof.amend.changes import with_changes
from wattproof.amend.reread import is_amended
from wattproof.packs import discover
from wattproof.plan import Plan, load_plan
from wattproof.plan.amend import Addition, Amendment, Change
from wattproof.source import PlanUnusable

LONG = bool(os.environ.get("WATTPROOF_LONG"))
GENERATED = 100 if LONG else 6
RULES = 1 if LONG else 25
"""Of so many rules the example of one is taken."""
FORMS = 5 if LONG else 3
"""In so many forms each plan is written, by lot; every form comes often."""


def texts() -> Iterator[tuple[str, str]]:
    """Every plan that is written into: what it is, and its text."""
    for number, text in enumerate(plans(GENERATED)):
        yield f"generated-{number}", text
    for path in sorted([*EXAMPLES.glob("*.yaml"), *(EXAMPLES / "faulty").glob("*.yaml")]):
        text = path.read_text(encoding="utf-8")
        yield path.stem, text if "parts:" not in text else text_of(data_of(path))
    for number, (name, rule) in enumerate(sorted(discover().rules.items())):
        if number % RULES == 0:
            yield name, rule.sound
            yield f"{name}-faulty", rule.faulty.of(rule.sound)


def changes_of(plan: Plan, dice: random.Random) -> list[Amendment]:
    """Some changes that a remedy could make of what is in a plan."""
    found: list[Amendment] = []
    for name, wire in plan.wires.items():
        found.append(Change(name, "length", "1.25 m"))
        if wire.depth is None:  # which is of a cable in the ground alone
            found.append(Change(name, "run", "conduit"))
        if wire.cable is not None:
            found.append(Change(name, "cable.size", "16 mm²"))
            found.append(Change(name, "cable.strands", "fine"))
        for inline in wire.inline:
            end = dice.choice(("from", "to"))
            if inline.from_end is not None:
                found.append(Change(name, f"inline.{inline.device}.distance", "7 cm"))
                found.append(Change(name, f"inline.{inline.device}.from_end", end))
        found.append(Addition("fuses", f"{name}-new", FUSE, name, "to", "5 cm"))
        found.append(Addition("switches", f"{name}-off", SWITCH, name))
        found.append(Addition("breakers", f"{name}-cut", FUSE, name, "from", "2 cm"))
    for name, string in plan.strings.items():
        if string.modules is None:
            found.append(Change(name, "arrangement", "2s3p"))
            found.append(Change(name, "series", "3"))
        found.append(Change(name, "blocking_diode", ""))
        if string.module is not None:
            found.append(Change(name, f"modules.{string.module}.max_series_fuse", "25 A"))
            found.append(Change(name, f"modules.{string.module}.connector.make", "A"))
    for name, part in plan.controllers.items():
        found.append(Change(name, "limited_to", "9.5 A"))
        found.append(Change(name, "limited_to", ""))
        found.append(Change(name, "charge_voltage", "14.1 V"))
        if isinstance(part.place, str):
            found.append(Change(name, "place.ambient", "33 °C"))
    for name in plan.batteries:
        found.append(Change(name, "low_temperature_cutoff", "true"))
        found.append(Change(name, "capacity", "123 Ah"))
    for name in (*plan.fuses, *plan.breakers):
        found.append(Change(name, "interrupt", "10 kA"))
        found.append(Change(name, "style", ""))
    for name, panel in plan.distribution.items():
        found += [Change(name, f"ways.{way}.fuse", "7.5 A") for way in panel.ways]
    return found


FUSE = (("rating", "30 A"), ("voltage", "58 V"), ("dc", "true"))
SWITCH = (("rating", "40 A"), ("poles", "2"), ("dc", "true"))
CASES = list(texts())


@pytest.mark.parametrize(("name", "text"), CASES, ids=[name for name, _ in CASES])
def test_what_is_read_back_is_the_amended_plan(name: str, text: str) -> None:
    dice = random.Random(name)
    written = 0
    for form, shaped in dice.sample(list(forms(text, dice)), FORMS):
        before = plan_of(shaped, form)
        if before is None:
            continue
        listed = changes_of(before, dice)
        for change in dice.sample(listed, min(len(listed), 8)):
            made = with_changes(shaped, [change])
            if made.refused:
                assert made.text == shaped
                assert may_refuse(made.refused[0].why), (form, change, made.refused)
                continue
            after = load_plan("plan.yaml", text=made.text)
            assert is_amended(before, [change], after), (form, change, made.text)
            assert_kept(shaped, made.text, change)
            written += 1
    assert written


@pytest.mark.parametrize(("name", "text"), CASES[::3], ids=[name for name, _ in CASES[::3]])
def test_several_changes_one_after_another(name: str, text: str) -> None:
    dice = random.Random(name)
    for form, shaped in dice.sample(list(forms(text, dice)), FORMS):
        before = plan_of(shaped, form)
        if before is None:
            continue
        listed = changes_of(before, dice)
        some = dice.sample(listed, min(len(listed), 12))
        some = list({change.target: change for change in some}.values())
        some = [c for c in some if "inline" not in getattr(c, "key", "")]
        made = with_changes(shaped, some)
        refused = {r.change for r in made.refused}
        some = [change for change in some if change not in refused]
        after = load_plan("plan.yaml", text=made.text)
        assert is_amended(before, some, after), (form, some, made.text)
        assert comments(made.text) == comments(shaped)


def plan_of(text: str, form: str) -> Plan | None:
    """The plan of a text; None where a remark has cut a text of several lines in two."""
    try:
        return load_plan("plan.yaml", text=text)
    except PlanUnusable:
        assert "remarked" in form or "carriage" in form
        return None


def may_refuse(why: str) -> bool:
    """What stands behind an anchor that others use, or in a file of datasheets, is not written."""
    return (
        "anchor" in why or "`parts`" in why or "the only" in why or "comment stands inside" in why
    )


def comments(text: str) -> list[str]:
    """Everything that is said beside the plan."""
    return re.findall(r"(?:^|(?<=[ \t]))#[^\r\n]*", text, re.MULTILINE)


def assert_kept(old: str, new: str, change: Amendment) -> None:
    """Comments, line ends and all lines but those of the change are as they were."""
    assert comments(new) == comments(old), change
    assert ("\r\n" in new) == ("\r\n" in old)
    assert new.count("\n") - new.count("\r\n") == 0 or "\r\n" not in old
    start = shared(old, new)
    end = shared(old[start:][::-1], new[start:][::-1])
    gone = old[start : len(old) - end]
    if isinstance(change, Addition):
        changed = Counter(old.splitlines()) - Counter(new.splitlines())
        assert changed.total() <= 2, (change, changed)
        return
    if not change.text:
        return
    two = change.key.startswith(("cable", "modules", "place", "inline"))
    assert two or gone.count("\n") <= 1, (change, gone)
    assert two or len(gone) < 60, (change, gone)


def shared(one: str, other: str) -> int:
    """How many characters two texts have in common at their start."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((n for n, (a, b) in pairs if a != b), min(len(one), len(other)))


SHARED = """\
wattproof: 1
setting: vehicle
datasheets:
  modules:
    panel: {pmax: 200 W}
  cables:
    ten: {size: 10 AWG}
strings:
  left: {module: panel, series: 2}
  right: {module: panel, series: 2}
wires:
  left-run: {from: left, to: tracker.pv, cable: ten, length: 4 m}
  right-run: {from: right, to: tracker.pv, cable: ten, length: 4 m}
"""


def test_what_changes_alike_for_all_who_share_it_changes_where_it_stands() -> None:
    """One label for both strings stays one label."""
    style = [Change(s, "modules.panel.connector.style", "locking-pv") for s in ("left", "right")]
    size = [Change(w, "cable.size", "8 AWG") for w in ("left-run", "right-run")]
    new = with_changes(SHARED, [*style, *size]).text
    assert "panel: {pmax: 200 W, connector: {style: locking-pv}}" in new
    assert "ten: {size: 8 AWG}" in new
    assert new.count("module: panel,") == 2
    assert new.count("cable: ten,") == 2
    one = with_changes(SHARED, style[:1]).text
    assert "module: panel-for-left" in one
    assert one.count("module: panel,") == 1
