"""Questions on a terminal, one by one: where to find each answer; return means not known."""

from __future__ import annotations

import sys

from wattproof.choosing.first_plan import ASKS, BY_KEY, Ask, answer, contradiction, is_asked
from wattproof.cli.errors import CallUnusable
from wattproof.cli.output import paint_of_screen, screen_columns, write_text
from wattproof.quantities import Mistake
from wattproof.reports.writing.columns import hanging, on_screen
from wattproof.reports.writing.paint import Paint


def ask_all() -> dict[str, str] | None:
    """All answers by key, without those that nobody knows; None where it was broken off.

    Raises CallUnusable where nobody is there to answer.
    """
    if sys.stdin is None or not sys.stdin.isatty():
        raise CallUnusable(
            "nothing is told, and there is no terminal to ask on: give options, such as --modules "
            "4 --voc '22.4 V' --battery agm; `wattproof new --help` lists them"
        )
    paint = paint_of_screen()
    with on_screen(screen_columns()):
        write_text(
            "A first plan, from what you hold in your hands. Return: you do not know it.\n"
            "A number alone is taken in V, A, W or Ah, as the question shows.\n"
            "Control-C: stop, and nothing is written.\n"
        )
        try:
            return _answers(paint)
        except (KeyboardInterrupt, EOFError):
            write_text("\n")
            return None


def _answers(paint: Paint) -> dict[str, str]:
    told: dict[str, str] = {}
    for number, ask in enumerate(ASKS, start=1):
        if not is_asked(ask, told):
            continue
        given = _asked(ask, f"{number} of {len(ASKS)}", paint)
        if given:
            told[ask.key] = given
        against = contradiction(told)
        while against is not None:
            one, other, why = against
            _say(f"{told[one]} contradicts {told[other]}: {why}.", paint("  ! ", "bad"))
            for key in (other, one):
                told.pop(key)
                again = _asked(BY_KEY[key], "again", paint)
                if again:
                    told[key] = again
            against = contradiction(told)
    return told


def _asked(ask: Ask, number: str, paint: Paint) -> str:
    """One answer; empty where it is not known."""
    write_text("\n")
    _say(f"{paint(ask.asks, 'strong')} [{ask.example}]", f"{number}  ")
    _say(f"{ask.where[:1].upper()}{ask.where[1:]}.", "    ")
    while True:
        written = input("> ").strip()
        if not written and not ask.needed:
            return ""
        if not written:
            _say("This one is needed: the rest hangs on it.", "  ! ")
            continue
        try:
            return answer(ask, written)
        except Mistake as mistake:
            instead = f": {mistake.instead}" if mistake.instead else ""
            _say(f"{mistake.message}{instead}.", "  ! ")


def _say(text: str, first: str) -> None:
    write_text("\n".join(hanging(text, first=first, margin=4)) + "\n")
