"""The manual page of the program, in roff, from the commands themselves."""

from __future__ import annotations

import inspect
import textwrap
from collections.abc import Iterator
from typing import Any

import typer

from wattproof import __version__
from wattproof.cli.app import build_app

EXIT = (
    ("0", "nothing was found at or above the level that counts"),
    ("1", "findings"),
    ("2", "a plan, its settings or the call is unusable"),
    ("3", "a rule failed, so that nothing is known of what it guards"),
)
REMEMBER = (
    "A plan without findings is not proven safe. The program sees what a plan declares and not "
    "what was built. Local codes, the makers' manuals and a licensed electrician stand above it."
)


def page() -> str:
    """The page as `man` reads it."""
    return "".join(f"{line}\n" for line in _lines())


def _lines() -> Iterator[str]:
    group: Any = typer.main.get_command(build_app())
    context = group.context_class(group, info_name="wattproof", **group.context_settings)
    yield '.\\" Made from the commands: `python docs/made.py` writes it anew.'
    yield f'.TH WATTPROOF 1 "" "Wattproof {__version__}" "User commands"'
    yield ".SH NAME"
    yield "wattproof \\- check a declared off\\-grid solar installation before a part is connected"
    yield ".SH SYNOPSIS"
    yield ".B wattproof"
    yield ".I COMMAND"
    yield r"[\fIOPTIONS\fR] [\fIARGUMENTS\fR]"
    yield ".SH DESCRIPTION"
    yield from _prose(group.help or "")
    yield from _options(group, context)
    yield ".SH COMMANDS"
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        yield from _command(name, command, context)
    yield ".SH EXIT STATUS"
    yield "What a command says otherwise goes before this."
    for status, means in EXIT:
        yield from (".TP", f".B {status}", _safe(means))
    yield ".SH ENVIRONMENT"
    for name, means in (
        ("NO_COLOR", "no colours, on a terminal too"),
        ("FORCE_COLOR", "colours, in a pipe too"),
        ("COLUMNS", "how wide a text is; never less than 40 columns"),
    ):
        yield from (".TP", f".B {name}", _safe(means))
    yield ".SH REMEMBER"
    yield from _prose(REMEMBER)


def _command(name: str, command: Any, parent: Any) -> Iterator[str]:
    context = command.context_class(command, info_name=name, parent=parent)
    usage = " ".join(command.collect_usage_pieces(context))
    yield f".SS {_safe(f'wattproof {name} {usage}')}"
    yield from _prose(command.help or "")
    for parameter in command.get_params(context):
        if parameter.param_type_name == "argument":
            help_text = getattr(parameter, "help", "") or ""
            yield from (
                ".TP",
                f".I {_safe(parameter.metavar or parameter.name.upper())}",
                _safe(help_text),
            )
    yield from _options(command, context)


def _options(command: Any, context: Any) -> Iterator[str]:
    for parameter in command.get_params(context):
        record = parameter.get_help_record(context)
        if parameter.param_type_name == "argument" or record is None:
            continue
        names, told = record
        yield from (".TP", f".B {_safe(names)}", _safe(told))


def _prose(text: str) -> Iterator[str]:
    """Paragraphs of running text."""
    for number, paragraph in enumerate(inspect.cleandoc(text).split("\n\n")):
        if number:
            yield ".PP"
        yield from map(_safe, textwrap.wrap(" ".join(paragraph.split()), 78))


def _safe(text: str) -> str:
    """A text in which no sign means anything to roff."""
    text = " ".join(text.split()).replace("\\", "\\e").replace("-", "\\-").replace("`", "\\(ga")
    return f"\\&{text}" if text[:1] in (".", "'") else text
