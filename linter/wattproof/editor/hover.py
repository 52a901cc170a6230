"""What is shown of the word under a cursor: the words of a key, what is computed of a part."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from wattproof.editor.keys import Key, Keys
from wattproof.editor.names import Name
from wattproof.editor.words import Path
from wattproof.plan.opening import OPEN
from wattproof.reports.writing.columns import clean
from wattproof.study.assumptions.printed import where_printed
from wattproof.views.borne import borne_in
from wattproof.views.figures import figures_of

if TYPE_CHECKING:
    from wattproof.study import Study

MOST_FIGURES: Final = 16


def of_key(path: Path, keys: Keys) -> str:
    """The words of a key, its units, an example, and where its value is printed; as Markdown."""
    key = keys.find(path)
    if key is None or not key.key:
        return ""
    return "\n\n".join([f"**{key.key}**", *_told(key, keys)])


def _told(key: Key, keys: Keys) -> Iterator[str]:
    if key.words:
        yield key.words
    choices = keys.choices(key)
    if choices:
        yield f"One of {', '.join(f'`{word}`' for word in choices)}."
    model = keys.models.get(key.model)
    where = where_printed(model, key.key) if model is not None else ""
    if where:
        yield f"Where to look: {where}."
    if model is not None and key.key in model.MAY_BE_OPEN:
        yield f"`{OPEN}` leaves it to `wattproof choose`."
    example = next(iter(key.schema.get("examples", ())), None)
    if isinstance(example, str | int | float):
        yield f"Example: `{key.key}: {example}`"
    if key.required:
        yield "It must be given."


def of_name(name: Name, study: Study) -> str:
    """What is computed of a part; empty where nothing is. As Markdown."""
    bears = [each for each in borne_in(study) if name.path and each.path == name.path]
    lines = [clean(f"{each.sentence}.") for each in bears]
    basis = tuple(dict.fromkeys(source for each in bears for source in each.basis))
    if basis:
        lines.append(clean(f"By {'; '.join(basis)}."))
    figures = [f for f in figures_of(study) if f.subject == name.text]
    if name.space == "component" and figures:
        rows = []
        for figure in figures[:MOST_FIGURES]:
            state = f", {figure.state}" if figure.state else ""
            assumed = " (assumed)" if figure.value.assumptions else ""
            rows.append(clean(f"- {figure.quantity}{state}: {figure.value}{assumed}"))
        more = len(figures) - len(rows)
        rows += [f"- and {more} more: `wattproof figures`"] if more > 0 else []
        lines.append("\n".join(rows))
    return "\n\n".join(lines)
