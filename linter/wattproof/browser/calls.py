"""The calls of a page, by name. What is asked and what is answered is JSON."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, Final

from wattproof.browser import beginning, changing, checking, showing
from wattproof.browser.desk import Desk
from wattproof.cli.errors import CallUnusable
from wattproof.source import PlanUnusable

CALLS: Final[dict[str, Callable[..., Any]]] = {
    "check": checking.checked,
    "documented": checking.documented,
    "page": showing.page,
    "diagram": showing.diagram,
    "curves": showing.curves,
    "questions": showing.questions,
    "layouts": showing.layouts,
    "layouts-document": showing.layouts_document,
    "mend": changing.mended,
    "choose": changing.chosen,
}
"""What is asked of the plan on the desk; each takes the desk first."""
ALONE: Final[dict[str, Callable[..., Any]]] = {
    "asks": beginning.asks,
    "begin": beginning.begun,
}
"""What is asked without a plan."""
READY: Final = "ready"
"""The call that loads what every check needs, so that the first one does not wait for it."""
_desk: Final = Desk()


def answered(call: str, given: str, desk: Desk = _desk) -> str:
    """The answer to one call: `{"is": …}`, or `{"refused": …}` with what stands against it.

    given: `{"files": {name: text}, "plan": name, "with": [arguments]}`; without files for a call
    that needs no plan. Raises what is a fault of the program, and nothing else.
    """
    asked = json.loads(given)
    arguments = asked.get("with", [])
    try:
        if call == READY:
            return _dumped({"is": len(desk.rules.rules)})
        if call in ALONE:
            return _dumped({"is": ALONE[call](*arguments)})
        desk.lay(asked["files"], asked["plan"])
        return _dumped({"is": CALLS[call](desk, *arguments)})
    except CallUnusable as unusable:
        return _dumped({"refused": str(unusable)})
    except PlanUnusable as unusable:
        told = (f"{p.place}: {p.message}" for p in sorted(set(unusable.problems)))
        return _dumped({"refused": "; ".join(told)})


def _dumped(answer: Any) -> str:
    """As JSON in ASCII, so that no half character is lost or refused on the way."""
    return json.dumps(answer, allow_nan=False)
