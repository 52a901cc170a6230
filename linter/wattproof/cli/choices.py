"""Words that options take."""

from __future__ import annotations

from enum import StrEnum


class ReportFormat(StrEnum):
    """What a check is reported as."""

    text = "text"
    json = "json"
    sarif = "sarif"


class FiguresFormat(StrEnum):
    """What figures are reported as."""

    text = "text"
    json = "json"


class Threshold(StrEnum):
    """The least level that raises the exit status."""

    error = "error"
    warning = "warning"
    note = "note"
