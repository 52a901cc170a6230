"""Where the page about a rule is, below the address at which the documentation is published."""

from __future__ import annotations

from urllib.parse import urlsplit

from wattproof.engine import OWN_FINDINGS


def page_of_rule(documentation: str, rule: str) -> str:
    """The address of the page about a rule, or about what the engine itself finds.

    Empty where nothing is published, and for a rule of another pack.
    """
    if not documentation or "/" in rule:
        return ""
    page = "of-the-program" if rule in OWN_FINDINGS else rule
    return f"{documentation.rstrip('/')}/generated/rules/{page}.html"


def is_published(address: str) -> bool:
    """Whether an address is one that a browser opens."""
    try:
        parts = urlsplit(address)
    except ValueError:
        return False
    if any(sign.isspace() or not sign.isprintable() for sign in address):
        return False
    return (parts.scheme in ("http", "https") and bool(parts.netloc)) or parts.scheme == "file"
