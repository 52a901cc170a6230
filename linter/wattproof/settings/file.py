"""A settings file as models."""

from __future__ import annotations

import math
import re
from typing import Annotated, Any, Final

from pydantic import Field

from wattproof.finding import LEVELS
from wattproof.plan.fields import Flag, Named, Part, Paths, Reader, Whole, Words, one_of
from wattproof.quantities import Mistake
from wattproof.source import Block, Kind, Text

KIND: Final = Kind(
    word="settings file",
    key="wattproof-settings",
    version=1,
    holds="rules",
    family="rules",
    shorter="keep what this project sets, and delete the rest",
)
RULE_ID: Final = "[a-z0-9]+(-[a-z0-9]+)*"
_RULE_KEY: Final = re.compile(rf"([^\s/]+/)?{RULE_ID}")
_SHARE: Final = re.compile(r"([-+]?[0-9.]+) ?%")


class Number(float):
    """A plain number, with its text."""

    text: Text


def _read_options(node: Any) -> dict[Text, Number]:
    """Numbers by the names of options. Raises Mistake."""
    if not isinstance(node, Block):
        example = "write for example `{wrong: 0.08}`"
        raise Mistake("this is not a mapping of options to numbers", example, node.place)
    return {name: _read_number(value) for name, value in node.items()}


def _read_number(node: Any) -> Number:
    if not isinstance(node, Text):
        raise Mistake("an option is one number", "write for example `0.03` for 3 %", node.place)
    try:
        number = Number(node)
    except ValueError:
        number = Number("nan")
    if not math.isfinite(number) or not node.isascii() or "_" in node:
        share = _SHARE.fullmatch(node)
        meant = _as_number(share.group(1)) if share else ""
        instead = f"write `{meant}`" if meant else "write for example `0.03` for 3 %"
        raise Mistake(f"`{node}` is not a plain number", instead, node.place)
    number.text = node
    return number


def _as_number(percent: str) -> str:
    try:
        return f"{float(percent) / 100:g}"
    except ValueError:
        return ""


_OPTIONS_SCHEMA: Final[dict[str, Any]] = {
    "type": "object",
    "propertyNames": {"pattern": "^[a-z_][a-z0-9_]*$"},
    "additionalProperties": {
        "anyOf": [
            {"type": "number"},
            {
                "type": "string",
                "pattern": r"^ *[-+]?([0-9]+[.]?[0-9]*|[.][0-9]+)([eE][-+]?[0-9]+)? *$",
            },
        ]
    },
}


class RuleSettings(Named):
    """What is set for one rule."""

    off: Flag = Field(
        False,
        description="True where the rule is not to be run. Needs a reason. A rule that guards a "
        "hard limit cannot be switched off.",
        examples=[True],
    )
    level: Annotated[Text, one_of(*LEVELS)] | None = Field(
        None,
        description="Another level than the rule's own. A milder one needs a reason. A rule that "
        "guards a hard limit takes no milder one.",
        examples=["note"],
    )
    reason: Words | None = Field(
        None,
        description="Why it is off or milder; every report shows it.",
        examples=["all our vans park in the open"],
    )
    options: Annotated[dict[Text, Number], Reader(_read_options, lambda: _OPTIONS_SCHEMA)] = Field(
        default_factory=dict,
        description="Values of the rule's options. `wattproof basis RULE` lists them.",
        examples=[{"wrong": 0.08}],
    )

    @classmethod
    def read_key(cls, node: Any) -> Text:
        """The id of a rule, with the name of its pack before it if it has one. Raises Mistake."""
        if not isinstance(node, Text) or not _RULE_KEY.fullmatch(node):
            message = f"`{node}` is not the id of a rule"
            raise Mistake(message, "`wattproof rules` lists the ids", node.place)
        return node


class SettingsFile(Part):
    """What a project sets for the checks of its plans."""

    version: Whole = Field(
        alias=KIND.key, description="Version of the settings format.", examples=[KIND.version]
    )
    threshold: Annotated[Text, one_of(*LEVELS)] | None = Field(
        None,
        description="Findings of this level or a graver one give exit status 1; unless set, "
        "`warning`.",
        examples=["note"],
    )
    exclude: Paths = Field(
        (),
        description="Plans that the search of a folder leaves out: files or folders, from the "
        "folder of this file; `*` stands for anything.",
        examples=[["drafts", "*/old-*.yaml"]],
    )
    rules: dict[str, RuleSettings] = Field(
        default_factory=dict,
        description="What is set for rules, by their ids. `wattproof rules` lists them.",
        examples=[{"shade-series-loss": {"off": True, "reason": "all our vans park in the open"}}],
        json_schema_extra={"propertyNames": {"pattern": f"^([^ /]+/)?{RULE_ID}$"}},
    )
