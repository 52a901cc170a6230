"""Words that options take: those of the formats of each room, and of the lists of the program."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from wattproof.kinds import HAZARDS, LEVELS, PARTS, SCHEDULES, STATES
from wattproof.reports.findings.formats import FORMATS
from wattproof.reports.schedules.formats import FORMATS as LISTED


def _named(words: Iterable[str]) -> list[tuple[str, str]]:
    """Words with themselves as names, for a class of them."""
    return [(word, word) for word in words]


ReportFormat = StrEnum("ReportFormat", _named(FORMATS))  # type: ignore[misc]
"""What a check is reported as: the formats that the room of findings names."""
AS_TEXT = ReportFormat("text")


class DataFormat(StrEnum):
    """What figures, settings and lists are shown as."""

    text = "text"
    json = "json"


class SheetFormat(StrEnum):
    """What a sheet to take along is written in."""

    text = "text"
    markdown = "markdown"


class DocumentFormat(StrEnum):
    """What a comparison of plans or of layouts is reported as."""

    text = "text"
    markdown = "markdown"
    json = "json"


class SheetPaper(StrEnum):
    """What a sheet to measure by is written in."""

    text = "text"
    markdown = "markdown"
    html = "html"


class PageFormat(StrEnum):
    """What a report to look at is written in."""

    html = "html"
    markdown = "markdown"


class PrintedSheets(StrEnum):
    """What is laid out for paper."""

    bench = "bench"
    full = "full"


ScheduleFormat = StrEnum("ScheduleFormat", _named(LISTED))  # type: ignore[misc]
"""What schedules are reported as: the formats that their room names."""
LISTED_AS_TEXT = ScheduleFormat("text")


ScheduleTable = StrEnum("ScheduleTable", _named(SCHEDULES))  # type: ignore[misc]
"""One of the schedules."""


class SchemaSubject(StrEnum):
    """What a schema is of."""

    plan = "plan"
    settings = "settings"


PartName = StrEnum("PartName", _named(PARTS))  # type: ignore[misc]
"""The parts of an installation that rules look at."""


HazardName = StrEnum("HazardName", _named(HAZARDS))  # type: ignore[misc]
"""What rules guard against."""


Threshold = StrEnum("Threshold", _named(LEVELS))  # type: ignore[misc]
"""How grave findings are; as a threshold, the least level that raises the exit status."""


OperatingState = StrEnum("OperatingState", _named(STATES))  # type: ignore[misc]
"""The state in which the figures of a diagram hold."""
AT_STANDARD = OperatingState("standard")
