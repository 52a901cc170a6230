"""What an editor may set."""

from __future__ import annotations

from typing import Any, NamedTuple

from wattproof.reports.writing.rule_pages import is_published


class Options(NamedTuple):
    """The settings of the server.

    documentation: the address under which the documentation is published, to which codes of
    findings then lead; empty where it is not. inlay: whether computed currents stand in the lines.
    """

    documentation: str = ""
    inlay: bool = True


def read_options(told: Any, before: Options) -> Options:
    """Options as an editor told them, in a mapping or in one under `wattproof`; else as before.

    What is of another type than it should be is passed over: an editor sends what it likes.
    """
    if isinstance(told, dict) and isinstance(told.get("wattproof"), dict):
        told = told["wattproof"]
    if not isinstance(told, dict):
        return before
    address, inlay = told.get("documentation"), told.get("inlay")
    if isinstance(address, str) and (not address or is_published(address)):
        before = before._replace(documentation=address)
    return before._replace(inlay=inlay) if isinstance(inlay, bool) else before
