"""Packs of rules: which are installed, and the rules in their modules."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import field, replace
from types import ModuleType
from typing import Any, NamedTuple

from wattproof.codes.seen import Seen
from wattproof.entry_points import points_of
from wattproof.guarding import guarded, guarding, reason
from wattproof.kept import KeptEach, kept
from wattproof.record import record
from wattproof.rule import Rule

ENTRY_POINTS = "wattproof.rules"
OWN_PACK = "wattproof"


class PackFailure(NamedTuple):
    """A pack or a module of one that could not be used."""

    pack: str
    module: str
    reason: str


@record
class RuleSet:
    """All rules found, by id, and what could not be loaded.

    What it says of a setting or a body of rules is the same for every plan, and kept.
    """

    rules: dict[str, Rule]
    failures: tuple[PackFailure, ...] = ()
    _planned: KeptEach[str | None, tuple[str, ...]] = field(default_factory=KeptEach)
    _elsewhere: KeptEach[str, dict[str, str]] = field(default_factory=KeptEach)
    _seen: KeptEach[str, Seen] = field(default_factory=KeptEach)

    def planned(self, setting: str | None) -> tuple[str, ...]:
        """Ids of the rules that are run over a plan of a setting, in order; of all for None."""
        return self._planned.of(
            setting,
            lambda: tuple(
                rule_id
                for rule_id, rule in sorted(self.rules.items())
                if setting is None or rule.is_for(setting)
            ),
        )

    @kept
    def likeness(self) -> frozenset[str]:
        """Ids of the rules that compare what should be alike."""
        return frozenset(rule_id for rule_id, rule in self.rules.items() if rule.likeness)

    def elsewhere(self, setting: str) -> dict[str, str]:
        """The rules that a setting leaves out, and why each."""
        return self._elsewhere.of(setting, lambda: self._left_out(setting))

    def _left_out(self, setting: str) -> dict[str, str]:
        ids = sorted(self.rules.keys() - set(self.planned(setting)))
        return {rule_id: self.rules[rule_id].elsewhere for rule_id in ids}

    def seen(self, code: str) -> Seen:
        """How many of the clauses of a body of rules were seen in public text."""
        return self._seen.of(code, lambda: self._counted(code))

    def _counted(self, code: str) -> Seen:
        clauses = [r.basis[code].verified for r in self.rules.values() if code in r.basis]
        return Seen(sum(clauses), len(clauses))


def discover() -> RuleSet:
    """The rules of all installed packs. Nothing that a plan says can name code to load."""
    found = RuleSet({})
    points = points_of(ENTRY_POINTS)
    for point in sorted(points, key=lambda p: (p.name != OWN_PACK, p.name)):
        found = load_pack(point.name, point.value, beside=found)
    return found


def load_pack(pack: str, package: str, *, beside: RuleSet | None = None) -> RuleSet:
    """The rules of a package's modules, beside those of other packs.

    Ids of packs other than our own are prefixed by the pack's name. What cannot be used is kept as
    a failure; it does not hide the rest.
    """
    rules = dict(beside.rules) if beside else {}
    failures = list(beside.failures) if beside else []
    try:
        with guarded():
            modules = _modules(importlib.import_module(package))
    except KeyboardInterrupt:
        raise
    except BaseException as error:  # a broken pack must neither hide the others nor end the run
        return RuleSet(rules, (*failures, PackFailure(pack, package, reason(error))))
    known = len(rules)
    strays: dict[str, str] = {}
    names = set(modules)
    with guarding() as guard:
        for name in modules:
            try:
                with guard:
                    held = _held(importlib.import_module(name))
                for found in held.values():
                    if isinstance(found, Rule) and found.check.__module__ == name:
                        _add(found, pack, rules)
                strays.update(_strays(held, name, names))
            except KeyboardInterrupt:
                raise
            except BaseException as error:
                failures.append(PackFailure(pack, name, reason(error)))
    own = {rule.id for rule in rules.values()} | {i.rpartition("/")[2] for i in rules}
    for rule_id, name in sorted(strays.items()):
        if rule_id not in own:
            why = f"rule `{rule_id}` does not stand at the top of the module of its function"
            failures.append(PackFailure(pack, name, why))
    if len(rules) == known and len(failures) == (len(beside.failures) if beside else 0):
        failures.append(PackFailure(pack, package, "it holds no rule"))
    return RuleSet(rules, tuple(failures))


def _held(module: ModuleType) -> dict[str, Any]:
    """What a module holds under names of its own; not what Python writes into every module."""
    return {n: v for n, v in vars(module).items() if not n.startswith("__")}


def _strays(held: dict[str, Any], name: str, modules: set[str]) -> dict[str, str]:
    """Rules that a module holds elsewhere than at its top, or that are made of code elsewhere."""
    found: list[Any] = []
    for value in held.values():
        if isinstance(value, dict):
            found += value.values()
        found += value if isinstance(value, list | tuple | set | frozenset) else [value]
    return {r.id: name for r in found if isinstance(r, Rule) and r.check.__module__ in modules}


def _add(rule: Rule, pack: str, rules: dict[str, Rule]) -> None:
    """Add a rule under its full id. Raises ValueError where another has that id."""
    rule_id = rule.id if pack == OWN_PACK else f"{pack}/{rule.id}"
    if rule_id in rules:
        raise ValueError(f"packs `{rules[rule_id].pack}` and `{pack}` both claim `{rule_id}`")
    rules[rule_id] = replace(rule, id=rule_id, pack=pack)


def _modules(package: ModuleType) -> list[str]:
    """Names of all modules below a package, sorted."""
    prefix = package.__name__ + "."
    found = [package.__name__]
    for info in pkgutil.walk_packages(package.__path__, prefix, onerror=lambda name: None):
        found.append(info.name)
    return sorted(found)
