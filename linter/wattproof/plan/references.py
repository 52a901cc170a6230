"""Names over the whole plan: each stands once, and each datasheet, cable and place exists."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.plan.bonding import FrameBond
from wattproof.plan.checks import energy_problems, open_problems, shade_problems
from wattproof.plan.families import CONNECTED, JOINING
from wattproof.plan.fields import Named, as_size, names_nothing
from wattproof.plan.reading_places import reading_problems
from wattproof.plan.resemblance import nearest
from wattproof.plan.root import Plan
from wattproof.plan.terminals import terminal_problems
from wattproof.plan.wiring import Bond, Wire
from wattproof.quantities import UNKNOWN
from wattproof.source import Problem, Text

FAMILIES = (*CONNECTED, *JOINING, "readings")
MAY_BE_UNKNOWN = ("cable", "place", "module")
"""What a reference may leave unknown, by what it leads to."""


def components(plan: Plan) -> Iterator[Named]:
    """Every named component, in the order of families and of the plan."""
    for family in FAMILIES:
        yield from getattr(plan, family).values()


def joining_problems(
    plan: Plan, unreadable: set[str], *, all_sheets_read: bool
) -> Iterator[Problem]:
    """Every name that stands twice, and everything that the circuit refers to and that is not.

    unreadable: names that are declared but could not be read; they are not missing.
    all_sheets_read: False where a file of datasheets could not be read, so that any may be in it.
    """
    yield from _names_twice(plan)
    if all_sheets_read:
        for name, problem in _unknown_sheets(plan):
            if name not in unreadable:
                yield _of_its_kind(problem, name, plan)
    for name, problem in terminal_problems(plan, unreadable):
        yield _of_its_kind(problem, name, plan) if name else problem


def other_problems(plan: Plan, unreadable: set[str]) -> Iterator[Problem]:
    """References to nothing that the circuit does not hang on: places, shade, use, readings."""
    for name, problem in _unknown_names(plan):
        if name not in unreadable:
            yield _of_its_kind(problem, name, plan)
    yield from energy_problems(plan, unreadable)
    yield from shade_problems(plan)
    yield from open_problems(plan)
    yield from reading_problems(plan)


def _of_its_kind(problem: Problem, name: str, plan: Plan) -> Problem:
    """What is said of a name that is declared, but as a part of another kind."""
    kinds = {
        **{family: getattr(plan, family) for family in FAMILIES},
        "datasheets: modules": plan.datasheets.modules,
        "datasheets: cables": plan.datasheets.cables,
        "site: places": plan.site.places,
    }
    family = next((family for family, held in kinds.items() if name in held), "")
    if not family:
        return problem
    what = problem.message.removeprefix("there is no ").partition(" `")[0]
    wanted = f"name the {what} that is meant, or declare one"
    if family == "datasheets: modules" and what in ("component", "string"):
        wanted = _strings_of(name, plan)
    return problem._replace(instead=f"`{name}` stands under `{family}`: {wanted}")


def _strings_of(module: str, plan: Plan) -> str:
    """What to name in the place of a module's sheet: the strings that are made of it."""
    strings = (*plan.strings.items(), *plan.open_strings.items())
    made = [f"`{name}`" for name, s in strings if module in (s.module, *(s.modules or ()))]
    if not made:
        return "declare a string of it under `strings`, and name that"
    return f"write {made[0]}, its string" if len(made) == 1 else f"write one of {', '.join(made)}"


def _names_twice(plan: Plan) -> Iterator[Problem]:
    first: dict[str, Named] = {}
    for component in components(plan):
        if component.name in ("chassis", "water", "earth"):
            message = f"the name `{component.name}` is kept for what bonds lead to"
            yield Problem(component.at, message, f"write `{component.name}-bar` or the like")
        other = first.setdefault(component.name, component)
        if other is not component:
            message = (
                f"the name `{component.name}` stands twice; it is also on line {other.at.line}"
            )
            instead = "give each component its own name"
            if isinstance(component, Wire):
                instead = f"call the wire `{component.name}-run` or the like"
            yield Problem(component.at, message, instead)


def _unknown_sheets(plan: Plan) -> Iterator[tuple[str, Problem]]:
    sheets = plan.datasheets
    for string in plan.strings.values():
        names = string.modules or ((string.module,) if string.module is not None else ())
        known = [n for n in names if n != UNKNOWN or "modules" not in string.unknown]
        yield from _unknown(known, sheets.modules, "module", "datasheets: modules")
    conductors: list[Wire | Bond | FrameBond] = [
        *plan.wires.values(),
        *plan.bonds.values(),
        *plan.frame_bonds.values(),
    ]
    for conductor in conductors:
        told = (conductor.cable,) if conductor.cable is not None else ()
        yield from _unknown(told, sheets.cables, "cable", "datasheets: cables")


def _unknown_names(plan: Plan) -> Iterator[tuple[str, Problem]]:
    for component in components(plan):
        yield from _unknown(_places(component), plan.site.places, "place", "site: places")
    for case in plan.shade.values():
        for shadow in case.shadows:
            yield from _unknown((shadow.string,), plan.strings, "string", "strings")
    for battery in plan.batteries.values():
        if battery.shunt is not None:
            yield from _unknown((battery.shunt,), plan.wires, "wire", "wires")
    rivals = [*plan.all_chargers, *plan.controllers]
    for charger in plan.all_chargers.values():
        if charger.never_with is not None:
            yield from _unknown((charger.never_with,), rivals, "charger", "chargers or controllers")
    for heater in plan.heaters.values():
        yield from _unknown((heater.warms,), plan.batteries, "battery", "batteries", "warms")
    for switch in (*plan.switches.values(), *plan.selectors.values()):
        if switch.opened_by is not None:
            yield from _unknown(
                (switch.opened_by,), plan.batteries, "battery", "batteries", "opened_by"
            )
    for bond in plan.frame_bonds.values():
        yield from _unknown(bond.strings, plan.strings, "string", "strings")
    consumers = [*plan.all_loads, *plan.all_inverters]
    for names in plan.together or ():
        yield from _unknown(names, consumers, "load or inverter", "loads or inverters")
    guards = [*plan.fuses, *plan.breakers]
    for battery in plan.batteries.values():
        fuse = battery.each_pack.fuse if battery.each_pack is not None else None
        if fuse is not None:
            yield from _unknown((fuse,), guards, "fuse or breaker", "fuses")


def _places(component: Named) -> tuple[Text, ...]:
    """The surroundings that a component names under `place`."""
    written = getattr(component, "place", None)
    if written is None:
        return ()
    return written if isinstance(written, tuple) else (written,)


def _unknown(
    names: Iterable[Text], known: Iterable[str], what: str, family: str, key: str = ""
) -> Iterator[tuple[str, Problem]]:
    known = list(known)
    for name in names:
        if name not in known:
            near = nearest(name, known)
            instead = f"write `{near}`" if near else f"declare it under `{family}`"
            if what == "cable" and not near:
                instead += ", or write its size alone here, as `… AWG` or `… mm²`"
            if key and not near:
                from wattproof.plan.hints.in_wires import battery_meant  # of what is wrong only

                instead = f"{instead}; {battery_meant(key)}"
            if what in MAY_BE_UNKNOWN and not near and names_nothing(name):
                instead = "write `unknown`, or delete the key"
            elif what == "cable" and not near:
                instead = as_size(name) or instead
            yield name, Problem(name.place, f"there is no {what} `{name}`", instead)
