"""What a command says when it cannot go on."""

from __future__ import annotations


class CallUnusable(Exception):
    """The call asks for what does not exist or cannot be. Each message says what to do."""

    def __str__(self) -> str:
        return "\n".join(map(str, self.args))


class NoRules(Exception):
    """Not one rule is installed, so that a check would pass anything."""
