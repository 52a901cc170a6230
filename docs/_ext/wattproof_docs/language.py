"""The reference of the plan language, from the JSON Schema that is made from the models."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any

from wattproof.plan.schema import plan_schema
from wattproof_docs import silence
from wattproof_docs.markdown import flow, plain

TITLES = {
    "ModuleSheet": "Modules",
    "CableSheet": "Cables",
    "Surroundings": "Places",
    "Way": "Ways of a panel",
    "Shadow": "Shadows",
    "ShadeCase": "Shade",
    "Inline": "Devices in a wire",
    "Datasheets": "Datasheets",
    "Connector": "Connectors",
    "Site": "Site",
    "Accepted": "Accepted findings",
}


HEAD = """# All keys of a plan

<!-- Made from the models that read a plan: `python docs/made.py` writes it anew. -->

Every key that a plan may have: what it means, what may stand there, an example, and what is taken
where the plan does not say. How a plan is built up is told under
[The plan language](language.md). Each key has an anchor of its own, its path in a plan:
`keys.md#strings.series`, and `keys.md#plan.setting` for those at the top.

> **Write what is printed on the very part that will be built in.** An example shows the form of a
> value and nothing else. What nobody knows is left out or `unknown`: it is then taken as is usual
> and listed, while a guess is believed.

"""


def page() -> str:
    """Every family with its keys, as Markdown that can be read as it is."""
    schema = plan_schema()
    families = _paths()
    sections = [("The plan as a whole", "", "Plan", schema)]
    for model, path in families.items():
        title = TITLES.get(model) or path.split(".")[-1].capitalize()
        sections.append((title.replace("_", " "), path, model, schema["$defs"][model]))
    text = HEAD + "".join(f"- {_to(title)}\n" for title, *_ in sections) + "\n"
    for title, path, model, family in sections:
        text += f"## {title}\n\n"
        if path:
            told = plain(family.get("description") or "A fuse or breaker at its place in a wire.")
            text += f"{told} Stands under `{path}`.\n\n"
        text += "".join(_keys(model, path, family)) + "\n"
    return text + "## By the alphabet\n\n" + "".join(_alphabet(sections))


def anchor(path: str, key: str) -> str:
    """Where a key is explained: its path in a plan, without the names that a plan gives."""
    return f"{path or 'plan'}.{key}"


def _to(title: str) -> str:
    """A link to a section."""
    return f"[{title}](#{title.lower().replace(' ', '-')})"


def _alphabet(sections: list[tuple[str, str, str, dict[str, Any]]]) -> Iterator[str]:
    where: dict[str, list[tuple[str, str]]] = {}
    for title, path, _, family in sections:
        for key in _properties(family):
            where.setdefault(key, []).append((title, anchor(path, key)))
    for key in sorted(where):
        links = (f'<a href="#{at}">{title}</a>' for title, at in where[key])
        yield f"- `{key}`: {', '.join(links)}\n"


def _families(schema: dict[str, Any]) -> dict[str, str]:
    """Models in the order in which a plan comes to them, with the keys that lead there."""
    seen: dict[str, str] = {}

    def walk(found: dict[str, Any], path: str) -> None:
        for key, value in _properties(found).items():
            model = _model(value)
            if model and model not in seen:
                below = f"{path}.{key}" if path else key
                seen[model] = below
                walk(schema["$defs"][model], below)

    walk(schema, "")
    return seen


def _properties(found: dict[str, Any]) -> dict[str, Any]:
    """The keys of a model; those of a device in a wire stand below its name."""
    if "properties" in found:
        return dict(found["properties"])
    for form in found.get("anyOf", ()):
        if isinstance(form.get("additionalProperties"), dict):
            return dict(form["additionalProperties"]["properties"])
    return {}


def _model(value: dict[str, Any]) -> str:
    """The model that a key leads to, or an empty string."""
    for each in (value, value.get("additionalProperties"), value.get("items")):
        for form in (each, *each.get("anyOf", ())) if isinstance(each, dict) else ():
            if "$ref" in form:
                return str(form["$ref"]).rsplit("/", 1)[-1]
    return ""


def _keys(model: str, path: str, found: dict[str, Any]) -> Iterator[str]:
    required = found.get("required", ())
    for key, value in _properties(found).items():
        description, _, units = value.get("description", "").partition(" Units: ")
        examples = value.get("examples", ())
        facts = [f"Value: {_kind(value, units.rstrip('.'))}."]
        facts += [f"Example: `{key}: {flow(examples[0])}`."] if examples else []
        if key in required:
            facts.append("Must be given.")
        elif value.get("default") not in (None, [], {}):
            facts.append(f"Unless given: `{flow(value['default'])}`.")
        assumed = silence.when_silent(f"{model}.{key}")
        if assumed:
            facts.append(f"[Where the plan is silent](assumed.md): {assumed}.")
        name = f'<a id="{anchor(path, key)}"></a>**`{key}`**'
        yield f"- {name}: {plain(description)}\\\n  {' '.join(facts)}\n"


def _kind(value: dict[str, Any], units: str) -> str:
    """What may stand there, in words."""
    forms = [value, *value.get("anyOf", ())]
    if units:
        name = "a name, or " if "a-z0-9" in value.get("pattern", "") else ""
        among = ", ".join(f"`{unit}`" for unit in units.split(", "))
        return f"{name}a number with one of the units {among}"
    for form in forms:
        if "enum" in form and form["enum"] != ["true", "false"]:
            words = dict.fromkeys(str(word) for word in form["enum"])
            return f"{'one of ' if len(words) > 1 else ''}{', '.join(f'`{w}`' for w in words)}"
    model = _model(value)
    if model:
        return f"entries as under {_to(TITLES.get(model) or _last(model))}"
    if any(form.get("type") == "boolean" for form in forms):
        return "`true` or `false`"
    if any(form.get("type") == "integer" for form in forms):
        least = min(form.get("minimum", 1) for form in forms if form.get("type") == "integer")
        return f"a whole number from {least}"
    if any(form.get("format") == "date" for form in forms):
        return "a date such as `2027-06-30`"
    many = any(form.get("type") == "array" for form in forms)
    pattern = " ".join(
        str(each.get("pattern", "")) for form in forms for each in (form, form.get("items", {}))
    )
    one, more = "text", "texts"
    if re.search(r"s\|p", pattern):
        one, more = "a short form such as `4s2p`", "short forms"
    elif r"\." in pattern:
        one, more = "a component or a terminal of one", "components or terminals"
    elif "a-z0-9" in pattern:
        one, more = "a name", "names"
    return f"{one}, or a list of {more}" if many else one


def _last(model: str) -> str:
    return _paths()[model].split(".")[-1].capitalize().replace("_", " ")


@cache
def _paths() -> dict[str, str]:
    """Where each model stands in a plan; the schema takes a second to make."""
    return _families(plan_schema())
