"""Computed currents in the lines of a plan: what each part bears of what it stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lsprotocol.types import InlayHint, Range

from wattproof.editor.documents import Document
from wattproof.views.borne import borne_in

if TYPE_CHECKING:
    from wattproof.study import Study


def hints(document: Document, shown: Range, study: Study) -> list[InlayHint]:
    """One behind the name of each component of which something is computed, in some lines."""
    first, last = document.lines.offset(shown.start), document.lines.offset(shown.end)
    at = {word.path: word.end for word in document.words if word.is_key}
    found: dict[int, InlayHint] = {}
    for borne in borne_in(study):
        end = at.get(borne.path)
        if end is None or not first <= end <= last or end in found:
            continue
        end += document.text[end : end + 1] in ("'", '"')
        end += document.text[end : end + 1] == ":"
        basis = f". By {'; '.join(borne.basis)}" if borne.basis else ""
        found[end] = InlayHint(
            position=document.lines.position(end),
            label=borne.short,
            tooltip=f"{borne.sentence}{basis}",
            padding_left=True,
        )
    return list(found.values())
