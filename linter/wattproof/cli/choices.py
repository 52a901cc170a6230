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


class ScheduleFormat(StrEnum):
    """What schedules are reported as."""

    text = "text"
    csv = "csv"
    markdown = "markdown"


class ScheduleTable(StrEnum):
    """One of the schedules."""

    conductors = "conductors"
    devices = "devices"
    parts = "parts"
    labels = "labels"


class Threshold(StrEnum):
    """The least level that raises the exit status."""

    error = "error"
    warning = "warning"
    note = "note"
