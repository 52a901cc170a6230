"""By what a sheet of paper is known to be of a plan as it stands now, and not of an older one."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Final

_SHOWN: Final = 12


def fingerprint(sources: Mapping[str, str]) -> str:
    """Twelve hexadecimal digits that change with any sign of the plan or of its parts files.

    sources: their texts by name. The names do not matter, so that a plan may be moved. Of a plan in
    one file they are the first digits of the SHA-256 (FIPS 180-4) of its text in UTF-8. Empty where
    there is no text.
    """
    if not sources:
        return ""
    digests = [hashlib.sha256(text.encode()).digest() for text in sources.values()]
    whole = digests[0] if len(digests) == 1 else hashlib.sha256(b"".join(digests)).digest()
    return whole.hex()[:_SHOWN]
