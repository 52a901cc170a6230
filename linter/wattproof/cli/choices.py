"""Words that options take."""

from __future__ import annotations

from enum import StrEnum

from wattproof.reports.findings.formats import FORMATS
from wattproof.reports.schedules.formats import FORMATS as LISTED

ReportFormat = StrEnum("ReportFormat", [(word, word) for word in FORMATS])  # type: ignore[misc]
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


class ComparisonFormat(StrEnum):
    """What a comparison is reported as."""

    text = "text"
    markdown = "markdown"
    json = "json"


class LayoutsFormat(StrEnum):
    """What layouts are compared in."""

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


ScheduleFormat = StrEnum("ScheduleFormat", [(word, word) for word in LISTED])  # type: ignore[misc]
"""What schedules are reported as: the formats that their room names."""
LISTED_AS_TEXT = ScheduleFormat("text")


class ScheduleTable(StrEnum):
    """One of the schedules."""

    conductors = "conductors"
    devices = "devices"
    parts = "parts"
    labels = "labels"


class SchemaSubject(StrEnum):
    """What a schema is of."""

    plan = "plan"
    settings = "settings"


class PartName(StrEnum):
    """The parts of an installation that rules look at."""

    module = "module"
    string = "string"
    combiner = "combiner"
    overcurrent = "overcurrent"
    conductor = "conductor"
    connector = "connector"
    switch = "switch"
    controller = "controller"
    battery = "battery"
    bonding = "bonding"
    energy = "energy"
    reading = "reading"
    plan = "plan"


class HazardName(StrEnum):
    """What rules guard against."""

    fire = "fire"
    shock = "shock"
    injury = "injury"
    damage = "damage"
    lost_energy = "lost-energy"
    legal = "legal"


class Threshold(StrEnum):
    """How grave findings are; as a threshold, the least level that raises the exit status."""

    error = "error"
    warning = "warning"
    note = "note"


class OperatingState(StrEnum):
    """The state in which the figures of a diagram hold."""

    standard = "standard"
    coldest = "coldest"
    hottest = "hottest"
    bright = "bright"
