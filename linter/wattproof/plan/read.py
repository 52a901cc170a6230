"""A node tree to a typed plan. Every mistake becomes a problem at its place; all are reported."""

from __future__ import annotations

import os
from typing import Any, NamedTuple, get_origin

from wattproof.folders import is_repository, upwards
from wattproof.plan.fields import INNER
from wattproof.plan.model_fields import fields_with_models
from wattproof.plan.models import ModelReader
from wattproof.plan.opening import OPEN
from wattproof.plan.panels import with_untold_ways
from wattproof.plan.references import joining_problems, other_problems
from wattproof.plan.root import Head, PartsFile, Plan
from wattproof.plan.sized import with_sized_cables
from wattproof.plan.terminals import by_names
from wattproof.plan.told import FAMILIES
from wattproof.plan.ways import with_joined_ends, with_ways
from wattproof.plan.wiring import Wire
from wattproof.quantities import UNKNOWN, Mistake
from wattproof.source import (
    PLAN,
    Block,
    Missing,
    PlanUnusable,
    Problem,
    Text,
    parse_past,
    read_text,
)

MAX_PARTS = 100
MAX_PARTS_SIZE = 4_000_000
"""Characters of all parts files together."""


class Read(NamedTuple):
    """What was read of a plan.

    plan: None where nothing of it could be read. problems: everything wrong with it. wired: True
    where what is joined to what was read whole, so that its circuit can be looked at all the same.
    """

    plan: Plan | None
    problems: tuple[Problem, ...]
    wired: bool


def load_plan(path: str, *, shown_as: str | None = None, text: str | None = None) -> Plan:
    """Read a plan file and the parts files it names. Raises PlanUnusable with every problem.

    shown_as: the name that messages use and that `parts` are relative to (for standard input).
    text: the plan's text where the caller has it already.
    """
    read = read_plan(path, shown_as=shown_as, text=text)
    if read.plan is None or read.problems:
        raise PlanUnusable(list(read.problems))
    return read.plan


def read_plan(path: str, *, shown_as: str | None = None, text: str | None = None) -> Read:
    """Read what can be read of a plan; see `load_plan`. Raises PlanUnusable where it is no plan."""
    name = shown_as or path
    if text is None:
        text = read_text(path, shown_as=name)
    block, passed = parse_past(text, name)
    reader = _Reader()
    reader.problems.extend(passed)
    plan = reader.plan(block)
    if plan is not None:
        reader.read_parts(plan, os.path.dirname(name))
        plan = with_sized_cables(_with_names(plan), all_sheets_read=reader.all_sheets_read)
        plan, amiss = with_ways(with_untold_ways(with_joined_ends(plan)))
        reader.problems += amiss
        reader.wired = reader.wired and not amiss
        joined = list(
            joining_problems(plan, reader.unreadable, all_sheets_read=reader.all_sheets_read)
        )
        reader.wired = reader.wired and reader.all_sheets_read and not joined
        reader.problems += [*joined, *other_problems(plan, reader.unreadable)]
        for problem, written in reader.misnamed:
            reader.problems.remove(problem)
            reader.problems.append(by_names(problem, written, plan))
    return Read(plan, tuple(sorted(set(reader.problems))), reader.wired)


def problems_of_parts(path: str, text: str) -> list[Problem]:
    """What is wrong with a file of datasheets, whatever plans name it."""
    reader = _Reader()
    try:
        block, passed = parse_past(text, path)
        reader.problems.extend(passed)
        reader.parts_file(block)
    except PlanUnusable as unusable:
        return sorted({*reader.problems, *unusable.problems})
    return sorted(set(reader.problems))


class _Reader(ModelReader):
    def __init__(self) -> None:
        super().__init__(PLAN)
        self.all_sheets_read = True
        self.size = 0

    def plan(self, block: Block) -> Plan | None:
        """The plan of a whole file. Families are read one by one, so each error stays local."""
        self.unknown_keys(block, Plan, "a plan")
        self._no_files(block)
        if not self.version(block):
            if Text(PLAN.key) in block:
                return None
            block[Text.at(PLAN.key, block.place)] = Text.at(str(PLAN.version), block.place)
        heads = Block({k: v for k, v in block.items() if k in Head.model_fields and k not in INNER})
        heads.place = block.place
        head = self.validate(Head, heads, "the plan", heads.place)
        self.wired = self.wired and head is not None
        values = Block()
        for key, field in Plan.model_fields.items():
            if key in block and key not in Head.model_fields:
                built = self.field(field.annotation, key, block[Text(key)], key)
                if built is not None and not isinstance(built, Missing):
                    values[Text(key)] = built
        # A section of which nothing is known is as one that is left out: its values are assumed.
        read, _ = self._told(Plan, values, "the plan")
        written = head.__dict__ if head is not None else {}
        held = fields_with_models(Plan).items()
        empty: dict[str, Any] = {key: {} for key, (_, of) in held if get_origin(of) is dict}
        return Plan.model_construct(**empty | written | read)  # it takes long to make each itself

    def _no_files(self, block: Block) -> None:
        """Tell of components that stand where files of labels are named."""
        held = block.get(Text("parts"))
        if not isinstance(held, Block):
            return
        from wattproof.plan.hints.elsewhere import PARTS_IN_FAMILIES  # of what is wrong only

        message = "`parts` names files of labels, and no components"
        self.problems.append(Problem(held.place, message, PARTS_IN_FAMILIES))
        self.wired = False
        del block[Text("parts")]

    def read_parts(self, plan: Plan, folder: str) -> None:
        """Add the datasheets of the parts files to the plan's own."""
        if not plan.parts:
            return
        if len(plan.parts) > MAX_PARTS:
            message = f"`parts` names {len(plan.parts)} files, and at most {MAX_PARTS} are read"
            instead = "join some of them, or split the plan"
            self.problems.append(Problem(plan.parts[0].place, message, instead))
            self.all_sheets_read = False
            return
        root = _tree_root(folder)
        first: dict[str, Text] = {}
        for part in plan.parts:
            path = _part_at(part, folder)
            before = first.setdefault(os.path.realpath(path), part)
            if before is not part:
                message = f"`{part}` is the file that `{before}` names on line {before.place.line}"
                self.problems.append(Problem(part.place, message, "name each file once"))
                continue
            sheets = self._sheets_of(part, path, root)
            if sheets is None:
                self.all_sheets_read = False
                continue
            for family in ("modules", "cables"):
                own = getattr(plan.datasheets, family)
                for name, sheet in getattr(sheets.datasheets, family).items():
                    if name in own:
                        message = f"the datasheet `{name}` is also at {own[name].at}"
                        self.problems.append(Problem(sheet.at, message, "rename one of them"))
                    own[name] = sheet

    def _sheets_of(self, part: Text, path: str, root: str) -> PartsFile | None:
        """What a parts file holds; None where it cannot be read."""
        try:
            _refuse_outside(part, path, root)
            text = read_text(path, shown_as=path)
            self.size += len(text)
            if self.size > MAX_PARTS_SIZE:
                message = f"the files of `parts` hold more than {MAX_PARTS_SIZE:,} characters"
                raise Mistake(message, "name fewer, or take out what the plan does not use")
            block, passed = parse_past(text, path)
            self.problems.extend(passed)
            return self.parts_file(block)
        except Mistake as mistake:
            self.problems.append(Problem(part.place, mistake.message, mistake.instead))
        except PlanUnusable as unusable:
            if unusable.problems is not self.problems:
                self.problems.extend(unusable.problems)
        return None

    def parts_file(self, block: Block) -> PartsFile | None:
        """What a file of datasheets holds; None where it cannot be read."""
        self.unknown_keys(block, PartsFile, "a parts file")
        if not self.version(block):
            return None
        return self.model(PartsFile, block, "the parts file")


def part_path(written: Text, folder: str) -> str:
    """The file that a plan in a folder names as one of its parts. Raises Mistake."""
    path = _part_at(written, folder)
    _refuse_outside(written, path, _tree_root(folder))
    return path


def _part_at(written: str, folder: str) -> str:
    return os.path.normpath(os.path.join(folder, written))


def _tree_root(folder: str) -> str:
    """The folder that parts may not leave: the repository's, or the plan's own."""
    return next(filter(is_repository, upwards(folder)), os.path.realpath(folder or "."))


def _refuse_outside(written: Text, path: str, root: str) -> None:
    real = os.path.realpath(path)
    if os.path.isabs(written) or os.path.commonpath([real, root]) != root:
        raise Mistake(
            f"`{written}` lies outside the folder tree of the plan",
            "keep datasheets beside the plan and name them by a relative path",
        )


def _with_names(plan: Plan) -> Plan:
    """The plan in which `unknown` and `open` are names where something is called that."""
    for field, families, declared in (
        ("cable", ("wires", "bonds"), plan.datasheets.cables),
        ("module", ("strings",), plan.datasheets.modules),
        ("place", FAMILIES, plan.site.places),
    ):
        for word in (UNKNOWN, OPEN):
            if word in declared:
                plan = plan.model_copy(
                    update={
                        family: {
                            n: _named(p, field, word) for n, p in getattr(plan, family).items()
                        }
                        for family in families
                    }
                )
    return plan


def _named(part: Any, field: str, word: str) -> Any:
    where, left = (part.unknown, "left_unknown") if word == UNKNOWN else (part.open, "left_open")
    if field not in where:
        return part
    name = Text.at(word, where[field])
    several = field == "place" and isinstance(part, Wire)
    held = (*(getattr(part, field) or ()), name) if several else name
    rest = {key: place for key, place in where.items() if key != field}
    return part.model_copy(update={field: held, left: rest or None})
