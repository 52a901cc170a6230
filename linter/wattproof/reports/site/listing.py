"""Checked plans for programs: the document of schemas/index.schema.json."""

from __future__ import annotations

import hashlib
from typing import Any, Final

from wattproof import __version__
from wattproof.reports.findings.glance import verdict_of
from wattproof.reports.findings.verdict import counts, exit_status, live
from wattproof.reports.site import Entry, File, Revision, Site
from wattproof.reports.writing import json_values as as_json
from wattproof.reports.writing.wording import STANDING
from wattproof.views.facts import AtController, Bank, Facts
from wattproof.working import Value

VERSION: Final = 1


def render(site: Site) -> str:
    """The list as JSON."""
    return as_json.dumped(document(site))


def document(site: Site) -> dict[str, Any]:
    """The list as plain data."""
    return {
        "index": VERSION,
        "program": {"name": "wattproof", "version": __version__},
        "title": site.title,
        "standing": STANDING,
        "plans": [_entry(entry) for entry in site.entries],
    }


def _entry(entry: Entry) -> dict[str, Any]:
    result = entry.result
    verdict = verdict_of(result)
    return {
        "file": entry.file,
        "title": result.title,
        "page": entry.page,
        "verdict": {"signal": verdict.signal, "says": verdict.says, "grave": verdict.grave},
        "status": exit_status([result]),
        "findings": counts(live(result.findings)),
        "accepted": len(result.findings) - len(live(result.findings)),
        "questions": sum(not asked.marginal for asked in result.questions),
        "problems": [as_json.problem(found) for found in result.problems],
        "code": result.code,
        "code_title": result.code_title,
        "facts": _facts(entry.facts) if entry.facts is not None else None,
        "fingerprint": entry.fingerprint,
        "files": [_file(file) for file in entry.files],
        "revision": _revision(entry.revision),
    }


def _facts(facts: Facts) -> dict[str, Any]:
    return {
        "setting": facts.setting,
        "open": facts.open,
        "modules": facts.modules,
        "power": _value(facts.power) if facts.power is not None else None,
        "coldest": _value(facts.coldest),
        "inputs": [_input(each) for each in facts.inputs],
        "batteries": [_bank(each) for each in facts.banks],
    }


def _input(at: AtController) -> dict[str, Any]:
    return {"name": at.name, "cold_voltage": _value(at.cold), "limit": _value(at.limit)}


def _bank(bank: Bank) -> dict[str, Any]:
    return {
        "name": bank.name,
        "chemistry": bank.chemistry,
        "nominal": _value(bank.nominal),
        "capacity": _value(bank.capacity),
    }


def _value(value: Value) -> dict[str, Any]:
    return {**as_json.value(value), "certainty": "assumed" if value.assumptions else "computed"}


def _file(file: File) -> dict[str, Any]:
    return {
        "file": file.name,
        "address": file.address,
        "sha256": hashlib.sha256(file.text.encode()).hexdigest(),
    }


def _revision(revision: Revision | None) -> dict[str, Any] | None:
    if revision is None:
        return None
    return {"commit": revision.commit, "as_kept": revision.as_kept}
