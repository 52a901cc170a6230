"""Wattproof: checks a declared off-grid solar installation before anyone connects a part."""

__version__ = "0.16.0"
