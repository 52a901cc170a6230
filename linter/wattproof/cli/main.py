"""The program as a process: turns whatever happens into an exit status."""

from __future__ import annotations

import gc
import os
import sys
from typing import NoReturn

from wattproof.cli.errors import CallUnusable, NoRules
from wattproof.cli.output import cleaned_errors, write_error

UNUSABLE = 2
FAILED = 3
INTERRUPTED = 130
LOOKED_FOR_AFTER = (200_000, 20, 20)
"""How much is made before garbage is looked for, by generation."""


def main() -> NoReturn:
    """The program `wattproof`.

    A short run leaves little garbage, and none that matters at its end: looking for it seldom, and
    not at all while leaving, takes a good tenth off a check. Plug-ins of pydantic are not looked
    for: what else is installed must not change how a plan is read.
    """
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"
    gc.set_threshold(*LOOKED_FOR_AFTER)
    status = run(sys.argv[1:])
    gc.freeze()
    sys.exit(status)


def run(arguments: list[str]) -> int:
    """Run one call. Returns its exit status; a failure is one line on the error output."""
    try:
        from wattproof.cli.app import build_app

        with cleaned_errors(arguments):
            build_app(*arguments[:1])(arguments, prog_name="wattproof")
    except SystemExit as done:
        return done.code if isinstance(done.code, int) else FAILED if done.code else 0
    except KeyboardInterrupt:
        return INTERRUPTED
    except CallUnusable as unusable:
        for message in unusable.args:
            write_error(f"wattproof: {message}")
        return UNUSABLE
    except NoRules:
        write_error("wattproof: no rules are installed, so nothing can be checked; install it anew")
        return FAILED
    except BaseException as error:
        write_error(_our_fault(error))
        return FAILED
    return 0


def _our_fault(error: BaseException) -> str:
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    where = (
        f" in {trace.tb_frame.f_globals.get('__name__')}, line {trace.tb_lineno}" if trace else ""
    )
    return (
        f"wattproof failed{where}: {type(error).__name__}: {error}. This is a fault of wattproof, "
        "not of your plan; please report it, with the plan if you can share it."
    )
