"""What a project sets: rules switched off, levels, options and the threshold, each with its place.

The models of the file are loaded only where there is one.
"""

from wattproof.settings.effective import NOTHING_SET, RuleSetting, Setting, Settings, of_call
from wattproof.settings.find import FILE_NAMES, Search, search

__all__ = [
    "FILE_NAMES",
    "NOTHING_SET",
    "RuleSetting",
    "Search",
    "Setting",
    "Settings",
    "of_call",
    "search",
]
