"""wattproof language-server: what a check says, in an editor while a plan is typed."""

from __future__ import annotations

import typer


def language_server() -> None:
    """Serve an editor over standard input and output, by the language server protocol.

    An editor starts it: it shows findings, computed figures and names of a plan while it is typed,
    and offers remedies, choices and acceptances. Needs the extra `editor`.

    Exit status: 0 ended by the editor, 1 ended otherwise, 2 the extra is not installed.
    """
    import datetime
    import sys
    from importlib.util import find_spec
    from threading import Thread

    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.examining import examined
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings

    if find_spec("pygls") is None:
        raise CallUnusable(
            "the language server needs an extra that is not installed: "
            "`pip install 'wattproof[editor]'`"
        )

    from wattproof.editor.answers import made
    from wattproof.editor.judge import Judge
    from wattproof.editor.turns import Turns
    from wattproof.engine import Checked
    from wattproof.rechecking import Rechecks

    rule_set = installed_rules()

    def settings() -> PlanSettings:
        """Read anew for each check: a settings file may have been changed meanwhile."""
        return PlanSettings(rule_set, None, (), None)

    def examine(path: str, *, try_remedies: bool, ask: bool) -> Checked:
        return examined(
            path, rule_set, settings(), shown_as=path, try_remedies=try_remedies, ask=ask
        )

    def rechecks(path: str) -> Rechecks:
        return Rechecks(path, rule_set, datetime.date.today(), path, settings().of(path))

    turns = Turns()
    server = made(Judge(examine, rechecks, tuple(rule_set.rules)), turns)

    to_editor, sys.stdout = sys.stdout.buffer, sys.stderr  # what else is printed is no message

    def talk() -> None:
        try:
            server.start_io(sys.stdin.buffer, to_editor)
        finally:
            turns.end()

    Thread(target=talk, name="editor", daemon=True).start()
    turns.work()
    raise typer.Exit(0 if server.was_shut_down else 1)
