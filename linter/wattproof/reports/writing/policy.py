"""The content security policy of a page: nothing is fetched, and nothing runs but what is in it."""

from __future__ import annotations

import base64
import hashlib
import re
from typing import Final

PLACE: Final = "POLICY-OF-THIS-PAGE"
"""What a template writes where the policy goes."""


def with_policy(text: str, *, connects: bool = False) -> str:
    """A page with its policy; see `policy_of`."""
    return text.replace(PLACE, policy_of(text, connects=connects), 1)


def policy_of(text: str, *, connects: bool = False) -> str:
    """The policy of a page, by the digests of its styles and scripts.

    connects: whether its script may ask the server that it came from.
    """
    styles = " ".join(_hashes("style", text)) or "'none'"
    scripts = " ".join(_hashes("script", text)) or "'none'"
    asks = "connect-src 'self'; " if connects else ""
    return (
        f"default-src 'none'; style-src {styles}; script-src {scripts}; {asks}"
        "base-uri 'none'; form-action 'none'"
    )


def _hashes(tag: str, text: str) -> list[str]:
    blocks = re.findall(rf"<{tag}\b[^>]*>(.*?)</{tag}>", text, re.DOTALL)
    digests = (hashlib.sha256(block.encode()).digest() for block in blocks)
    return [f"'sha256-{base64.b64encode(digest).decode()}'" for digest in digests]
