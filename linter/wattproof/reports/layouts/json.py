"""Layouts for programs: the document of schemas/layouts.schema.json."""

from __future__ import annotations

from typing import Any, Final

from wattproof.choosing.closing import closing
from wattproof.choosing.layouts import Input, Layouts, Tried
from wattproof.choosing.needs import Needs
from wattproof.finding import Finding
from wattproof.reports.layouts import told
from wattproof.reports.writing import json_values as as_json
from wattproof.working import Value

OF_AN_INPUT: Final = ("cold", "limit", "hot", "needed", "current", "takes", "output", "gives")


def render(layouts: Layouts) -> str:
    """The layouts of one plan."""
    return as_json.dumped(document(layouts))


def document(layouts: Layouts) -> dict[str, Any]:
    """The layouts as plain data."""
    return {
        "file": layouts.file,
        "title": layouts.rest.title,
        "code": layouts.rest.code,
        "layouts": [_layout(each, each.score(layouts.weights)) for each in layouts.tried],
        "unchecked": layouts.unchecked,
        "weights": {name: as_json.number(share) for name, share in layouts.weights.items()},
        "closing": closing(layouts),
        "taken": list(layouts.taken),
        "rest": [_finding(f) for f in layouts.rest.findings if f.acceptance is None],
        "always": [_finding(f) for f in layouts.always],
    }


def _layout(tried: Tried, score: float) -> dict[str, Any]:
    return {
        "name": tried.name,
        "strings": [
            {"string": s.string, "input": s.input, "arrangement": s.form}
            for s in tried.joining.shares
        ],
        "modules": tried.joining.modules,
        "unused": tried.joining.unused,
        "fits": tried.reason is None,
        "reason": told.reason(tried),
        "hazards": tried.by_hazard,
        "findings": [_finding(f) for f in tried.own],
        "inputs": [_input(each) for each in tried.inputs],
        "power": {state: as_json.number(watts.number) for state, watts in tried.power.items()},
        "score": as_json.number(score),
        "energy": {
            period: {"least": as_json.number(low.number), "most": as_json.number(high.number)}
            for period, (low, high) in tried.energy.items()
        },
        "needs": _needs(tried.needs),
        "removable": told.taken_away(tried),
    }


def _input(each: Input) -> dict[str, Any]:
    limit, output = each.to_choose
    return {
        "name": each.name,
        **{key: _number(getattr(each, key)) for key in OF_AN_INPUT},
        "to_choose": {"max_input_voltage": limit or None, "max_output_current": output or None},
    }


def _number(value: Value | None) -> float | None:
    return as_json.number(value.number) if value is not None else None


def _needs(needs: Needs) -> dict[str, Any]:
    return {
        "wires": [
            {
                "wire": run.wire,
                "size": run.size or None,
                "length": as_json.number(run.length.number),
                "length_told": not run.assumed,
                "drop": _number(run.drop),
                "loss": _number(run.loss),
            }
            for run in needs.runs
        ],
        "string_fuses": {"strings": needs.fused, "ratings": needs.fuses},
        "joints": [
            {"count": count, "of": of, "current": as_json.number(amps.number)}
            for count, of, amps in needs.joints
        ],
        "connector_pairs": needs.pairs,
        "switches": [
            {"at": name, "voltage": as_json.number(v.number), "current": as_json.number(a.number)}
            for name, v, a in needs.switches
        ],
        "parts": needs.parts,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "level": finding.level,
        "verdict": finding.verdict,
        "hazard": finding.hazard,
        "message": finding.message,
        "when": finding.when,
        "subjects": list(finding.subjects),
    }
