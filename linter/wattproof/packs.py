"""Packs of rules: which are installed, and the rules in their modules."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import replace
from types import ModuleType
from typing import NamedTuple

from wattproof.rule import Rule

ENTRY_POINTS = "wattproof.rules"
OWN_PACK = "wattproof"


class PackFailure(NamedTuple):
    """A pack or a module of one that could not be used."""

    pack: str
    module: str
    reason: str


class RuleSet(NamedTuple):
    """All rules found, by id, and what could not be loaded."""

    rules: dict[str, Rule]
    failures: tuple[PackFailure, ...] = ()


def discover() -> RuleSet:
    """The rules of all installed packs. Nothing that a plan says can name code to load."""
    from importlib.metadata import entry_points

    found = RuleSet({})
    points = sorted(entry_points(group=ENTRY_POINTS), key=lambda p: (p.name != OWN_PACK, p.name))
    for point in points:
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
        modules = _modules(importlib.import_module(package))
    except Exception as error:  # a broken pack must not hide the others
        return RuleSet(rules, (*failures, PackFailure(pack, package, reason(error))))
    for name in modules:
        try:
            for found in vars(importlib.import_module(name)).values():
                if isinstance(found, Rule) and found.check.__module__ == name:
                    _add(found, pack, rules)
        except Exception as error:
            failures.append(PackFailure(pack, name, reason(error)))
    return RuleSet(rules, tuple(failures))


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


def reason(error: Exception) -> str:
    """An exception in a line."""
    return f"{type(error).__name__}: {error}"
