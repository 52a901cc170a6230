"""wattproof new: a first plan from labels, by options or by questions; or a first pack of rules."""

from __future__ import annotations

import os
from typing import Annotated

import typer

from wattproof.cli.options import SettingsName

_DEFAULT = "plan.yaml"


def _option(key: str, words: str, form: str) -> typer.models.OptionInfo:
    made: typer.models.OptionInfo = typer.Option(
        f"--{key}", metavar=form, help=words, show_default=False
    )
    return made


def new(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="Where the plan goes; no file is overwritten.")
    ] = _DEFAULT,
    setting: Annotated[
        str | None, _option("setting", "vehicle, boat, cabin or portable.", "WORD")
    ] = None,
    code: Annotated[
        str | None, _option("code", "The body of rules: `wattproof rules` has them.", "WORD")
    ] = None,
    coldest: Annotated[
        str | None, _option("coldest", "Lowest air temperature with daylight.", "'-10 °C'")
    ] = None,
    modules: Annotated[
        str | None, _option("modules", "How many modules there are, all alike.", "COUNT")
    ] = None,
    voc: Annotated[
        str | None, _option("voc", "Open-circuit voltage, by the label.", "'… V'")
    ] = None,
    vmp: Annotated[
        str | None, _option("vmp", "Voltage at maximum power, by the label.", "'… V'")
    ] = None,
    isc: Annotated[
        str | None, _option("isc", "Short-circuit current, by the label.", "'… A'")
    ] = None,
    imp: Annotated[
        str | None, _option("imp", "Current at maximum power, by the label.", "'… A'")
    ] = None,
    pmax: Annotated[str | None, _option("pmax", "Power, by the label.", "'… W'")] = None,
    voc_coefficient: Annotated[
        str | None,
        _option("voc-coefficient", "Change of open-circuit voltage, by the label.", "'… %/°C'"),
    ] = None,
    series_fuse: Annotated[
        str | None, _option("series-fuse", "Largest series fuse, by the label.", "'… A'")
    ] = None,
    length: Annotated[
        str | None, _option("length", "Cable from modules to controller, one way.", "'… m'")
    ] = None,
    controller: Annotated[
        str | None, _option("controller", "mppt, pwm or vehicle-charger.", "WORD")
    ] = None,
    controllers: Annotated[
        str | None, _option("controllers", "How many such controllers there are.", "COUNT")
    ] = None,
    input_voltage: Annotated[
        str | None,
        _option("input-voltage", "Highest voltage that the controller takes; or open.", "'… V'"),
    ] = None,
    output_current: Annotated[
        str | None,
        _option("output-current", "Current that the controller gives; or open.", "'… A'"),
    ] = None,
    battery: Annotated[
        str | None,
        _option("battery", "lithium-iron-phosphate, flooded, agm, gel or unknown.", "WORD"),
    ] = None,
    nominal: Annotated[
        str | None, _option("nominal", "Nominal voltage of the battery.", "'… V'")
    ] = None,
    capacity: Annotated[
        str | None, _option("capacity", "Capacity of the battery.", "'… Ah'")
    ] = None,
    pack: Annotated[
        str | None,
        typer.Option(
            metavar="FOLDER",
            help="Write a pack of rules to begin with, named as its folder, in place of a plan.",
            show_default=False,
        ),
    ] = None,
    settings: SettingsName = None,
) -> None:
    """Write a first plan from labels, and show every way to join the modules.

    With options, or without any by questions on a terminal. What is not told is written as
    `unknown`, what is to be chosen as `open`; no value is made up.

    Exit status: 0, 2 where the call is unusable, or 130 where it was broken off.
    """
    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.first_questions import ask_all
    from wattproof.cli.first_text import checked_text
    from wattproof.cli.layouts import layouts_of_file, write_layouts
    from wattproof.cli.output import write_error, write_text
    from wattproof.source import PlanUnusable

    given = {
        "setting": setting,
        "code": code,
        "coldest": coldest,
        "modules": modules,
        "voc": voc,
        "vmp": vmp,
        "isc": isc,
        "imp": imp,
        "pmax": pmax,
        "voc-coefficient": voc_coefficient,
        "series-fuse": series_fuse,
        "length": length,
        "controller": controller,
        "controllers": controllers,
        "input-voltage": input_voltage,
        "output-current": output_current,
        "battery": battery,
        "nominal": nominal,
        "capacity": capacity,
    }
    if pack is not None:
        if file != _DEFAULT or settings is not None or any(given.values()):
            raise CallUnusable("--pack writes a pack of rules and no plan: give it alone")
        from wattproof.cli.new_pack import write_pack

        write_text(write_pack(pack))
        return
    _refuse_existing(file)
    options = {key: text for key, text in given.items() if text is not None}
    if options:
        told = _from_options(options)
    else:
        answers = ask_all()
        if answers is None:
            write_error("broken off: nothing was written")
            raise typer.Exit(130)
        told = answers
    text = checked_text(told)
    _write(file, text)
    write_text(f"Written to {file}\n\n")
    try:
        found = layouts_of_file(file, file, settings)
    except PlanUnusable as unusable:
        raise CallUnusable(f"{file}: {unusable.problems[0].message}") from None
    write_layouts(found)
    write_text(f"\nNext: `wattproof check {file}`, and write in what you look up.\n")


def _from_options(options: dict[str, str]) -> dict[str, str]:
    """Answers from options. Raises CallUnusable with what to write instead of each."""
    from wattproof.choosing.first_plan import ASKS, BY_KEY, TAKEN, answer
    from wattproof.cli.errors import CallUnusable
    from wattproof.quantities import UNKNOWN, Mistake

    told: dict[str, str] = {}
    wrong: list[str] = []
    for key, written in options.items():
        try:
            told[key] = answer(BY_KEY[key], written)
        except Mistake as mistake:
            instead = f"; {mistake.instead}" if mistake.instead else ""
            wrong.append(f"--{key}: {mistake.message}{instead}")
    missing = [ask for ask in ASKS if ask.needed and ask.key not in {**options, **TAKEN}]
    for ask in missing:
        such = f"Write --{ask.key} {ask.example.partition(',')[0]}"
        such += f", or --{ask.key} {UNKNOWN} where nobody can tell" if ask.may_be_unknown else ""
        wrong.append(f"--{ask.key} is needed: {ask.asks} {such}")
    if wrong:
        raise CallUnusable(*wrong)
    return told


def _refuse_existing(file: str) -> None:
    """Raise CallUnusable where something of that name is there, or no folder for it is."""
    from wattproof.cli.errors import CallUnusable

    if os.path.lexists(file):
        raise CallUnusable(f"{file} is there already and is not overwritten: name another file")
    folder = os.path.dirname(file)
    if folder and not os.path.isdir(folder):
        raise CallUnusable(f"there is no folder {folder}: make it first, or name another file")


def _write(file: str, text: str) -> None:
    """Write the plan whole or not at all, and never over anything. Raises CallUnusable."""
    from wattproof.cli.errors import CallUnusable
    from wattproof.replacing import replace_file

    try:
        replace_file(file, text.encode("utf-8"), before=lambda: _refuse_existing(file))
    except OSError as error:
        raise CallUnusable(f"{file} cannot be written: {error.strerror}") from None
