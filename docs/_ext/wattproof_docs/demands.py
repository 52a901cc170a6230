"""What bodies of rules forbid and ask for besides figures, side by side, from their data."""

from __future__ import annotations

from wattproof.codes import FORBIDDABLE, BodyOfRules
from wattproof_docs.markdown import definition, plain, table

SETTINGS = ("boat", "cabin", "portable", "vehicle")

BAN_WORDS = {
    "body-return": "Currents that go back through chassis, hull or earth",
    "welding-cable": "Welding cable as fixed wiring",
    "loose-frames": "Metal frames of modules that nothing bonds, at any voltage",
    "self-resetting-breaker": "Breakers that close again by themselves",
}
BOND_WORDS = {
    "least": "{gauge} AWG or larger",
    "one-size-below": "at most one size below the largest negative",
}


def section(bodies: list[BodyOfRules]) -> str:
    """One table a question."""
    return "".join(
        (
            "## What is forbidden outright\n\n",
            *(_forbidden(what, bodies) for what in FORBIDDABLE),
            "## What else is asked for\n\n",
            _batteries(bodies),
            _packs(bodies),
            _parallel(bodies),
            _bonds(bodies),
            _buildings(bodies),
            _notes(bodies),
        )
    )


def _forbidden(what: str, bodies: list[BodyOfRules]) -> str:
    rows = []
    for each in bodies:
        ban = each.ban(what)
        everywhere = set(ban.settings) >= set(SETTINGS)
        where = f"in a {' or a '.join(ban.settings)}" if ban.settings else "nowhere"
        where = "everywhere" if everywhere else where
        rows.append((_name(each), where, _source(ban.source, ban.verified)))
    return f"### {BAN_WORDS.get(what, what)}\n\n" + table(("Body", "Forbidden", "Source"), rows)


def _batteries(bodies: list[BodyOfRules]) -> str:
    rows = []
    for each in bodies:
        entry = each.data["battery_place"]
        shown = ", ".join(each.vented_outside)
        rows.append((_name(each), shown, _source(entry["source"], entry["verified"])))
    return "### Batteries among people only where vented outside\n\n" + table(
        ("Body", "Kinds of battery", "Source"), rows
    )


def _packs(bodies: list[BodyOfRules]) -> str:
    rows = []
    for each in bodies:
        limit = each.pack_device
        shown = f"above {limit.value:g} {limit.unit}" if limit else "common practice"
        rows.append((_name(each), shown, plain(limit.cited) if limit else ""))
    return "### A device at each of several packs in parallel\n\n" + table(
        ("Body", "Asked for", "Source"), rows
    )


def _parallel(bodies: list[BodyOfRules]) -> str:
    rows = []
    for each in bodies:
        least = each.parallel_size
        if least is None:
            rows.append((_name(each), "none named", ""))
            continue
        shown = f"{least.size.name}{' (advice)' if least.advice else ''}"
        rows.append((_name(each), shown, plain(least.figure.cited)))
    return "### The smallest conductor in parallel with others\n\n" + table(
        ("Body", "Size", "Source"), rows
    )


def _bonds(bodies: list[BodyOfRules]) -> str:
    rows = []
    for each in bodies:
        entry = each.data.get("bond")
        if entry is None:
            rows.append((_name(each), "none named", ""))
            continue
        words = BOND_WORDS.get(entry["rule"], entry["rule"]).format(**entry)
        where = f", in a {' or a '.join(entry['settings'])}" if "settings" in entry else ""
        rows.append((_name(each), words + where, _source(entry["source"], entry["verified"])))
    return "### The tie between a negative and the chassis or the water\n\n" + table(
        ("Body", "Size", "Source"), rows
    )


def _buildings(bodies: list[BodyOfRules]) -> str:
    rows = []
    for each in bodies:
        for demand in each.building_demands:
            limit = demand.from_volts
            above = f", from {limit.value:g} {limit.unit} on" if limit else ""
            rows.append((_name(each), plain(demand.asks) + above, plain(demand.source)))
    return "### An array on a building\n\n" + table(("Body", "Must have", "Source"), rows)


def _notes(bodies: list[BodyOfRules]) -> str:
    text = "### What each says of itself\n\n"
    for each in bodies:
        notes = {note.key: note for setting in SETTINGS for note in each.notes(setting, "battery")}
        for note in notes.values():
            text += definition(_name(each), plain(note.says))
    return text


def _name(each: BodyOfRules) -> str:
    return f"`{each.id}`"


def _source(source: str, verified: bool) -> str:
    return plain(source) + ("" if verified else " (from memory)")
