"""Directives for what pages show of plans: `run`, `drawing` and `changes`.

`run` shows the output of a real call of the program, made while the page is built, in the folder of
the repository, so that what is printed can be called as it is.

    ```{run} check docs/tutorial/hut.yaml
    :status: 1
    :finding: cold-voltage-over-controller
    ```

status: the exit status that the page speaks of (0 unless given); another one fails the build.
finding: show only the finding of that rule. from, until: show the lines from the first that
begins with a text, to before the next that begins with another.

`drawing` shows the picture that a call writes to its standard output.

`changes` shows the lines that differ between two plans, which it takes by their files.
"""

from __future__ import annotations

import difflib
import os
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import ClassVar

from docutils import nodes
from docutils.parsers.rst import directives
from sphinx.util.docutils import SphinxDirective

_TITLE = re.compile(r"^(?=\S[^\n]*\n-+\n)|^(?= ?\d+\. )|^(?=Result |More )", re.MULTILINE)


OPTIONS = ("status", "finding", "from", "until")


class NotShown(ValueError):
    """The run does not give what the page is to show."""


def run(call: str, folder: Path) -> tuple[int, str]:
    """Exit status and output of a call, made in a folder."""
    done = subprocess.run(
        [sys.executable, "-m", "wattproof", *call.split()],
        cwd=folder,
        env={**os.environ, "PYTHONUTF8": "1"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    return done.returncode, done.stdout + done.stderr


def shown(call: str, folder: Path, options: Mapping[str, str]) -> str:
    """The output that a page shows. Raises NotShown."""
    status, output = run(call, folder)
    if status != int(options.get("status", 0)):
        raise NotShown(f"`wattproof {call}` ended with status {status}:\n{output}")
    if "finding" in options:
        return _finding(output, options["finding"])
    lines = output.splitlines()
    start, end = 0, len(lines)
    if "from" in options:
        start = _line(lines, options["from"], 0)
    if "until" in options:
        end = _line(lines, options["until"], start + 1)
    return "\n".join(lines[start:end]).strip("\n")


def _line(lines: list[str], begins: str, start: int) -> int:
    for number in range(start, len(lines)):
        if lines[number].strip().startswith(begins):
            return number
    raise NotShown(f"no line of the output begins with {begins!r}")


def _finding(output: str, rule: str) -> str:
    for block in _TITLE.split(output):
        named = rf"^ +Rule +{re.escape(rule)},|\[{re.escape(rule)}\]$"
        if re.search(named, block, flags=re.MULTILINE):
            return block.rstrip()
    raise NotShown(f"the output has no finding of {rule}:\n{output}")


class Run(SphinxDirective):
    """Shows a call and its output."""

    required_arguments = 1
    final_argument_whitespace = True
    option_spec: ClassVar = dict.fromkeys(
        ("status", "finding", "from", "until"), directives.unchanged
    )

    def run(self) -> list[nodes.Node]:
        """Called by Sphinx where the directive stands."""
        call = self.arguments[0]
        try:
            output = shown(call, Path(self.env.srcdir).parent, self.options)
        except NotShown as reason:
            return [self.state.document.reporter.warning(str(reason), line=self.lineno)]
        self.env.note_reread()  # the rules may have changed where the page has not
        prompt = f"$ wattproof {call}\n\n"
        return [nodes.literal_block(prompt + output, prompt + output, language="text")]


class Drawing(SphinxDirective):
    """Shows the picture that a call gives."""

    required_arguments = 1
    final_argument_whitespace = True

    def run(self) -> list[nodes.Node]:
        """Called by Sphinx where the directive stands."""
        try:
            picture = shown(self.arguments[0], Path(self.env.srcdir).parent, {})
        except NotShown as reason:
            return [self.state.document.reporter.warning(str(reason), line=self.lineno)]
        self.env.note_reread()
        return [nodes.raw("", f'<div class="drawing">{picture}</div>', format="html")]


def changes(before: str, after: str) -> str:
    """The lines that differ between two texts, each with its neighbours."""
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), n=1, lineterm="")
    return "\n".join("" if line.startswith("@@") else line for line in list(lines)[2:]).strip("\n")


class Changes(SphinxDirective):
    """Shows the lines that differ between two files."""

    required_arguments = 2

    def run(self) -> list[nodes.Node]:
        """Called by Sphinx where the directive stands."""
        folder = Path(self.env.srcdir)
        for name in self.arguments:
            self.env.note_dependency(str(folder / name))
        before, after = ((folder / name).read_text(encoding="utf-8") for name in self.arguments)
        text = changes(before, after)
        return [nodes.literal_block(text, text, language="diff")]
