"""What each output looks like, held against files.

Set UPDATE_GOLDEN=1 to write them anew, on purpose; look at what changed before it is kept.
"""

from __future__ import annotations

import os

import pytest

from reports.report_rules import GOLDEN, result_of, run_of
from wattproof import __version__
from wattproof.reports.findings import json_report, sarif, text

OUTPUTS = {
    "faulty.txt": lambda: text.render([result_of()]),
    "faulty-working.txt": lambda: text.render([result_of()], working=True),
    "faulty.json": lambda: json_report.render(run_of(result_of())),
    "faulty.sarif": lambda: sarif.render(run_of(result_of())).replace(__version__, "VERSION"),
    "unusable.txt": lambda: text.render([result_of("wattproof: 1\nsettin: boat\nfuses: 3\n")]),
}


@pytest.mark.parametrize("name", OUTPUTS)
def test_output_is_as_kept(name: str) -> None:
    made = OUTPUTS[name]()
    path = GOLDEN / name
    if os.environ.get("UPDATE_GOLDEN"):
        path.write_text(made, encoding="utf-8", newline="\n")
    assert made == path.read_text(encoding="utf-8")
