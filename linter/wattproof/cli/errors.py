"""What a command says when it cannot go on."""

from __future__ import annotations


class CallUnusable(Exception):
    """The call asks for something that does not exist or cannot be. The message says what to do."""


class NoRules(Exception):
    """Not one rule is installed, so that a check would pass anything."""
