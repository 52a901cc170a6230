"""An older check as it is kept: what was found in each plan, by files from where it is kept."""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from typing import Final, Literal, NamedTuple

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from wattproof.cli.errors import CallUnusable
from wattproof.comparison import known_of
from wattproof.engine import Result
from wattproof.finding import Known, Level
from wattproof.reports.findings.verdict import did_fail

VERSION: Final = 1
_MOST_BYTES: Final = 20_000_000


class _Kept(BaseModel):
    """A part of the file: no other keys, no values of another kind."""

    model_config = ConfigDict(extra="forbid", strict=True)


class _Finding(_Kept):
    rule: str
    subjects: list[str]
    level: Level
    margin: float | None
    message: str


class _Plan(_Kept):
    file: str
    findings: list[_Finding]


class _File(_Kept):
    version: Literal[1] = Field(alias="wattproof-baseline")
    plans: list[_Plan]


class Baseline(NamedTuple):
    """What an older check found, by the whole paths of plans."""

    findings: dict[str, tuple[Known, ...]]

    def of(self, plan: str) -> tuple[Known, ...]:
        """What it found in a plan; nothing of one that it did not know."""
        return self.findings.get(os.path.realpath(plan), ())


def read_baseline(file: str) -> Baseline:
    """Read a kept check. Raises CallUnusable where the file is none."""
    try:
        with open(file, "rb") as opened:
            held = opened.read(_MOST_BYTES + 1)
    except OSError as error:
        raise CallUnusable(
            f"{file} cannot be read: {error.strerror}; `--write-baseline {file}` makes one"
        ) from None
    try:
        kept = _File.model_validate_json(held[:_MOST_BYTES])
    except ValidationError as error:
        first = error.errors()[0]
        at = ".".join(str(part) for part in first["loc"])
        where = f" at {at}" if at else ""
        raise CallUnusable(
            f"{file} is no kept check{where}: {first['msg']}; `--write-baseline {file}` makes one"
        ) from None
    home = os.path.dirname(os.path.realpath(file))
    return Baseline(
        {
            os.path.realpath(os.path.join(home, plan.file)): tuple(
                Known(f.rule, tuple(f.subjects), f.level, f.margin, f.message)
                for f in plan.findings
            )
            for plan in kept.plans
        }
    )


def write_baseline(file: str, results: Sequence[Result]) -> None:
    """Keep what was found. Raises CallUnusable where a plan could not be checked in full."""
    from wattproof.cli.output import save_document
    from wattproof.reports.findings.json_report import known_finding

    for result in results:
        if result.problems or did_fail(result):
            raise CallUnusable(
                f"nothing is kept in {file}: {result.file} could not be checked in full"
            )
    home = os.path.dirname(os.path.realpath(file))
    plans = [
        {
            "file": os.path.relpath(os.path.realpath(result.file), home).replace(os.sep, "/"),
            "findings": [known_finding(each) for each in known_of(result)],
        }
        for result in results
    ]
    document = {"wattproof-baseline": VERSION, "plans": sorted(plans, key=lambda p: str(p["file"]))}
    save_document(file, json.dumps(document, indent=2, ensure_ascii=False) + "\n")
