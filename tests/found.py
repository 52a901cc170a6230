"""What is found in a plan, for tests that ask of nothing else."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

from amounts import LONG
from wattproof.engine import Result, check_file, examine
from wattproof.packs import RuleSet, discover
from wattproof.testing import A_DAY


def found_alone(name: str, text: str, rules: RuleSet, *, try_remedies: bool = False) -> Result:
    """The result of a check that tries no remedy and asks nothing, which take most of its time.

    The long run tries what is not told at its harshest as well, so that a rule that fails there is
    met in every plan.
    """
    return examine(name, rules, today=A_DAY, text=text, try_remedies=try_remedies, ask=LONG).result


@lru_cache(100)
def found_in_whole(name: str, text: str) -> Result:
    """All that a check by all rules tells of a plan, for tests of how it is told: checked once."""
    return check_file(name, discover(), today=A_DAY, text=text)


def found_in_file(path: Path) -> Result:
    """The same of a plan in a file."""
    return found_in_whole(str(path), path.read_text(encoding="utf-8"))


_NOTHING = re.compile(r"(?<![\d.,])0 (A|W|V)\b|reached at ([6-9]\d|\d{3}) °C|\bnan\b|\binf\b", re.I)


def told_of_nothing(result: Result) -> list[str]:
    """Messages and remedies that tell a current of nothing, or a temperature that none has."""
    words = (words for found in result.each for words in (found.message, found.remedy))
    return [each for each in words if _NOTHING.search(each)]
