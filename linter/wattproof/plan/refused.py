"""What a model refuses, told in our words: what is wrong with a value, and what to add."""

from __future__ import annotations

from typing import Any

from wattproof.plan.fields import Part, Reader
from wattproof.plan.model_fields import fields_of, readers_of
from wattproof.quantities import Mistake
from wattproof.source import Block, Items, Place, Problem, Text


def problem_of(model: type[Part], detail: Any, values: Block, what: str, place: Place) -> Problem:
    """One validation error in our words, at the most exact place known."""
    mistake = detail.get("ctx", {}).get("error")
    where = _place_of(values, detail["loc"]) or place
    key = str(detail["loc"][-1]) if detail["loc"] else ""
    if isinstance(mistake, Mistake):
        if key == "from_end" and (end := _end_of(values, mistake.message)):
            mistake = Mistake(mistake.message, f"write `{end}`, which it is of {what}", where)
        message = (
            f"`{key}`: {mistake.message}"
            if isinstance(key, str) and key in values
            else mistake.message
        )
        instead = mistake.instead
        if instead.startswith("use one of ") and (told := _told_of(model, key)):
            instead += f" ({told})"
        return Problem(mistake.place or where, message, instead)
    if key == "module" and isinstance(values.get(Text(key)), Items) and len(values[Text(key)]) > 1:
        return Problem(
            where, f"`module` of {what} names several", "write `modules` before the list"
        )
    if detail["type"] == "missing":
        if len(detail["loc"]) > 1:  # inside of what stands under a key of the model
            what, outer = f"an entry of `{detail['loc'][0]}` of {what}", str(detail["loc"][0])
            instead = "name a device: `[NAME]`, or `[{NAME: {distance: 10 cm}}]`"
            added = instead if outer == "inline" else f"add `{key}:`"
            return Problem(where, f"{what} has no `{key}`", added)
        return Problem(where, f"{what} has no `{key}`", to_add(model, key))
    if detail["type"] == "list_type":
        held = values.get(Text(key), Text(""))
        instead = f"write `{key}: [{held}]`" if isinstance(held, Text) else "write `[…]` around it"
        if key == "inline":
            from wattproof.plan.device_forms import form_of_devices  # of what is wrong only

            listed = form_of_devices(held)
            instead = f"write `inline: {listed}`"
            if "…" in listed:
                instead += ", `from_end` being `from` or `to`"
            elif not listed:
                instead = (
                    "declare it under `fuses:`, `breakers:` or `switches:`, and name it in a list"
                )
        return Problem(where, f"`{key}` of {what} is a list, since it may hold several", instead)
    if detail["type"] == "extra_forbidden" and "inline" in detail["loc"]:
        from wattproof.plan.hints.in_wires import key_of_device_meant  # of what is wrong only

        instead = key_of_device_meant(key, detail["input"])
        return Problem(where, f"a device in {what} has no key `{key}`", instead)
    if detail["type"] == "extra_forbidden":
        return Problem(where, f"{what} has no key `{key}`", "delete it or check its spelling")
    return Problem(where, f"{what}: `{key}` is not what belongs here", "see `wattproof schema`")


def _told_of(model: type[Part], key: str) -> str:
    """What a word under a key tells, where that is one of a few; empty of anything else."""
    field = fields_of(model).get(key)
    words = field and any(
        "enum" in r.schema() for r in readers_of(field.annotation, *field.metadata)
    )
    told = (field.description or "").rstrip(".") if field and words else ""
    return told[:1].lower() + told[1:]


def _end_of(wire: Block, told: str) -> str:
    """The end of a wire that is told by the name of what stands there."""
    ends = {end: str(wire.get(Text(end), "")).partition(".")[0] for end in ("from", "to")}
    return next((end for end, name in ends.items() if name and f"`{name}`" in told), "")


def to_add(model: type[Part], key: str) -> str:
    """What to write where a key is missing, without a figure that could be taken for the true."""
    from wattproof.plan.forms import form, is_form

    field = fields_of(model)[key]
    readers = [each for each in field.metadata if isinstance(each, Reader)]
    words = [word for reader in readers for word in reader.schema().get("enum", ())]
    if words:
        return f"add `{key}:`, one of {', '.join(words)}"
    if not field.examples:
        from wattproof.plan.hints.shown import FORMS

        return f"add `{key}: {FORMS[key]}`" if key in FORMS else f"add `{key}:`"
    shown = form(model.__name__, key, field.examples[0])
    if is_form(shown):
        return f"add `{key}: {shown.partition(', ')[0]}`, {shown.partition(', ')[2]}"
    return f"add `{key}: {shown}` or the like"


def _place_of(node: Any, path: tuple[Any, ...]) -> Place | None:
    """The place of the deepest node on a path of keys and indexes."""
    place: Place | None = None
    for step in path:
        if isinstance(node, Block) and len(node) == 1 and step not in node:
            [node] = node.values()  # `{name: {details}}`, an inline device
        if isinstance(node, Block) and step in node:
            place = next(key.place for key in node if key == step)
            node = node[step]
        elif isinstance(node, Items) and isinstance(step, int) and step < len(node):
            node = node[step]
            place = node.place
        else:
            break
    return place
