"""The bodies of rules that a call may name."""

from __future__ import annotations

from wattproof.cli.errors import CallUnusable
from wattproof.codes import known


def known_code(written: str) -> str:
    """The id of a body of rules. Raises CallUnusable with the nearest, or with all."""
    from wattproof.plan.resemblance import nearest

    ids = known()
    if written in ids:
        return written
    near = nearest(written, ids)
    hint = f"did you mean `{near}`?" if near else f"there are {', '.join(ids)}"
    raise CallUnusable(f"there is no body of rules `{written}`: {hint}")
