"""The sheet of expected values as a page to print: one file that fetches and runs nothing."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Iterator
from typing import Final

from markupsafe import Markup, escape

from wattproof.reports.expected.words import HEAD, REMEMBER
from wattproof.reports.writing.columns import clean
from wattproof.views.expected import Sheet, Step

_STYLE: Final = """
@page { size: A4; margin: 14mm; }
body { font: 10.5pt/1.4 "Segoe UI", "Noto Sans", "DejaVu Sans", Arial, sans-serif; color: #111;
  background: #fff; max-width: 190mm; margin: 0 auto; padding: 0 4mm; }
h1 { font-size: 16pt; margin: 0 0 2mm; } h2 { font-size: 12pt; margin: 6mm 0 1mm; }
section { break-inside: avoid; }
table { border-collapse: collapse; width: 100%; margin: 2mm 0; }
th, td { border: 1px solid #555; padding: 1.2mm 2mm; text-align: left; vertical-align: top; }
th { font-weight: 600; background: #eee; } td.box { width: 28mm; height: 9mm; }
.care { border: 2px solid #111; padding: 1mm 2mm; } .care b { letter-spacing: 0.04em; }
caption { text-align: left; padding: 1mm 0; }
"""


def render(file: str, title: str, sheet: Sheet) -> str:
    """The page of one plan."""
    digest = base64.b64encode(hashlib.sha256(_STYLE.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'"
    head = Markup(
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta http-equiv="Content-Security-Policy" content="{}">\n'
        "<title>What a meter should show: {}</title>\n<style>{}</style></head><body>\n"
    ).format(policy, _safe(title or file), Markup(_STYLE))
    parts = [head, Markup("<h1>What a meter should show</h1>\n")]
    parts.append(
        Markup(
            "<p>{} ({})<br>Sky: {}<br>Date, meter, name: ______________________________</p>\n"
        ).format(_safe(title or file), _safe(file), _safe(sheet.conditions or HEAD))
    )
    for number, step in enumerate(sheet.steps, start=1):
        parts += _step(number, step)
    parts.append(Markup("<p>{}</p>\n</body></html>\n").format(REMEMBER))
    return "".join(parts)


def _step(number: int, step: Step) -> Iterator[Markup]:
    yield Markup("<section><h2>{}. {}</h2>\n").format(number, _safe(step.heading))
    if step.caution is not None:
        care = Markup('<p class="care"><b>{}</b> {}</p>\n')
        yield care.format(step.caution.signal, _safe(step.caution.text))
    yield Markup("<p>{}</p>\n").format(_safe(step.words))
    for grid in step.grids:
        caption = Markup("{} of {}").format(_safe(grid.what), _safe(grid.at))
        rows = [("sun", *grid.across), *((sun, *cells) for sun, cells in grid.rows)]
        yield _table(caption, rows)
    if step.boxes:
        yield Markup(
            "<table><tr><th>where</th><th>what</th><th>right</th><th>likely</th><th>shown</th>"
            "<th>how small a loss it finds</th></tr>\n"
        )
        for box in step.boxes:
            cells = (box.at, box.what, box.right, box.likely)
            yield Markup('<tr>{}<td class="box"></td><td>{}</td></tr>\n').format(
                _cells(cells), _safe(box.finds)
            )
        yield Markup("</table>\n")
    yield Markup("</section>\n")


def _table(caption: Markup, rows: Iterable[tuple[str, ...]]) -> Markup:
    first, *rest = rows
    head = Markup("").join(Markup("<th>{}</th>").format(_safe(each)) for each in first)
    body = Markup("").join(Markup("<tr>{}</tr>\n").format(_cells(each)) for each in rest)
    return Markup("<table><caption>{}</caption><tr>{}</tr>\n{}</table>\n").format(
        caption, head, body
    )


def _cells(texts: Iterable[str]) -> Markup:
    return Markup("").join(Markup("<td>{}</td>").format(_safe(text)) for text in texts)


def _safe(text: str) -> Markup:
    """A text of a plan, its signs shown and nothing in it hidden; names as code."""
    parts = clean(text).split("`")
    shown = (
        Markup("<code>{}</code>").format(part) if number % 2 else escape(part)
        for number, part in enumerate(parts)
    )
    return Markup("").join(shown)
