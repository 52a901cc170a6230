"""The bodies of rules side by side, from their data."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files

from wattproof.codes import (
    DISTANCE_KINDS,
    DROP_KINDS,
    BodyOfRules,
    NotTabulated,
    Surroundings,
    TableValue,
    body,
    known,
)
from wattproof.codes.seen import Seen, figures_and_rows
from wattproof.codes.tables import table as data_table
from wattproof.packs import discover
from wattproof.physics.conductors import ConductorSize, conductor_of_gauge
from wattproof_docs import demands
from wattproof_docs.markdown import definition, plain, table

COLDEST = (5.0, 0.0, -10.0, -20.0, -30.0, -40.0)  # °C, shown in the table of cold factors
GAUGES = ("14", "10", "6", "2", "2/0")
SHOWN_ISC = 10.0  # A

DISTANCE_WORDS = {
    "open": "an open conductor",
    "enclosed": "a conductor in a sheath or enclosure",
    "battery-sheathed": "a sheathed conductor straight from a battery",
    "outside-compartment": "a device directly outside the battery's compartment",
}
DROP_WORDS = {
    "array": "between array and controller",
    "charge": "between controller and battery",
    "critical": "to loads that matter",
    "other": "to other loads",
}
DEVICE_WORDS = {
    "not-above": "The rating is not above what the conductor may carry.",
    "next-standard-size": "Where what the conductor may carry lies between two standard ratings, "
    "the next larger one is allowed; some small conductors have a fixed limit.",
    "next-standard-size-to-share": "The next larger standard rating is allowed where it is not "
    "above a share of what the conductor may carry.",
}


def page() -> str:
    """What each body holds, one table a question."""
    bodies = [body(name) for name in known()]
    return "".join(
        (
            _about(bodies),
            "## Allowances on current\n\n",
            _figures("Sun brighter than the label's", bodies, lambda b: b.irradiance_factor),
            _figures("Current that lasts for hours", bodies, lambda b: b.continuous_factor),
            _figures("What other strings drive back", bodies, lambda b: b.reverse_current_factor),
            "## String fuses\n\nAs a multiple of the short-circuit current on the module's label; "
            "the largest series fuse on the label holds besides.\n\n",
            _figures("At least", bodies, lambda b: b.string_fuse_window(SHOWN_ISC)[0]),
            _figures("At most", bodies, lambda b: b.string_fuse_window(SHOWN_ISC)[1]),
            _cold(bodies),
            "## How far a fuse may be from what feeds it\n\n",
            *(
                _figures(f"For {DISTANCE_WORDS.get(k, k)}", bodies, _distance(k))
                for k in DISTANCE_KINDS
            ),
            "## How much voltage may be lost\n\n",
            *(_figures(DROP_WORDS.get(k, k).capitalize(), bodies, _drop(k)) for k in DROP_KINDS),
            _devices(bodies),
            demands.section(bodies),
            _compared(bodies),
            _seen(bodies),
            _tables(),
        )
    )


def _distance(kind: str) -> Callable[[BodyOfRules], TableValue | None]:
    return lambda b: b.source_distance(kind)


def _drop(kind: str) -> Callable[[BodyOfRules], TableValue | None]:
    return lambda b: b.drop_limit(kind)


def _about(bodies: list[BodyOfRules]) -> str:
    text = "## The bodies\n\n"
    for each in bodies:
        text += definition(
            f"`{each.id}`: {plain(each.title)}",
            plain(each.scope),
            f"Edition: {plain(each.edition)}.",
            f"Fits: {', '.join(each.settings)}. Conductors in "
            f"{'AWG' if each.size_system == 'awg' else 'mm²'}.",
            f"Ask: {plain(each.local)}.",
        )
    return text


def _figures(
    title: str, bodies: list[BodyOfRules], of: Callable[[BodyOfRules], TableValue | None]
) -> str:
    rows = []
    for each in bodies:
        figure = of(each)
        shown = "no figure held" if figure is None else _shown(figure, title)
        rows.append((f"`{each.id}`", shown, "" if figure is None else plain(figure.cited)))
    return f"### {title}\n\n" + table(("Body", "Figure", "Source"), rows)


def _shown(figure: TableValue, title: str) -> str:
    if figure.unit:
        return f"{figure.value:g} {figure.unit}"
    if figure.what.startswith("voltage drop"):
        return f"{figure.value * 100:g} %"
    return f"× {figure.value:g}"


def _cold(bodies: list[BodyOfRules]) -> str:
    rows = []
    for each in bodies:
        factors = [each.voltage_factor(coldest) for coldest in COLDEST]
        cells = [f"{f.value:g}" if f else "" for f in factors]
        source = next((f.source.split(", row")[0] for f in factors if f), "no table held")
        rows.append((f"`{each.id}`", *cells, plain(source)))
    head = ("Body", *(f"{c:g} °C".replace("-", "−") for c in COLDEST), "Source")
    return (
        "## Cold voltage without a coefficient\n\nMultiples of the open-circuit voltage of "
        "crystalline modules at the coldest air. The coefficient on the label, where it is given, "
        "goes before.\n\n" + table(head, rows)
    )


def _devices(bodies: list[BodyOfRules]) -> str:
    text = "## What a fuse or breaker may exceed\n\n"
    for each in bodies:
        rules = each.data["device"]
        share = f" The share is {rules['share']:.0%}." if "share" in rules else ""
        upto = f" Up to {rules['up_to']:g} A; above that, not." if "up_to" in rules else ""
        source = rules["source"] + ("" if rules["verified"] else " (from memory)")
        says = DEVICE_WORDS.get(rules["rule"], rules["rule"])
        text += definition(f"`{each.id}`", f"{says}{share}{upto}", f"Source: {plain(source)}.")
    return text


def _compared(bodies: list[BodyOfRules]) -> str:
    """The same wire under each body: what it may carry, and the largest device."""
    text = (
        "## The same wire under each\n\nCopper with 90 °C insulation, two loaded conductors, in "
        "air of 35 °C, computed as a check does. First what it may carry, then the largest fuse or "
        "breaker that guards it. Where a body counts in mm², the next smaller size of its table is "
        "read.\n\n"
    )
    rows = []
    for gauge in GAUGES:
        size = conductor_of_gauge(gauge)
        rows.append((f"{gauge} AWG", *(_carries(each, size) for each in bodies)))
    return text + table(("Size", *(f"`{each.id}`" for each in bodies)), rows)


def _carries(each: BodyOfRules, size: ConductorSize) -> str:
    try:
        ampacity = each.ampacity(size, 90.0, Surroundings(ambient=35.0))
        return f"{ampacity.value:.3g} A; {each.largest_device(ampacity)[0]:.3g} A"
    except NotTabulated:
        return "not in its table"


def _seen(bodies: list[BodyOfRules]) -> str:
    """How much of each was seen in public text, counted from rules and data."""
    rules = discover().rules.values()
    rows = []
    for each in bodies:
        clauses = [rule.basis[each.id].verified for rule in rules if each.id in rule.basis]
        counted = Seen(sum(clauses), len(clauses))
        rows.append((f"`{each.id}`", str(counted), str(figures_and_rows(each))))
    return (
        "## How much was seen\n\nClauses of rules, and single figures and table rows, that were "
        "seen in public text: standards, handbooks, makers' guides, first or second hand. The "
        "others are from memory, and every result says so of its own body.\n\n"
        + table(("Body", "Clauses seen", "Figures and rows seen"), rows)
    )


def _tables() -> str:
    folder = files("wattproof.codes").joinpath("data", "tables")
    rows = []
    for name in sorted(e.name.removesuffix(".csv") for e in folder.iterdir()):
        if name.startswith("."):
            continue
        held = data_table(name)
        seen = sum(row["verified"] == "yes" for row in held.rows)
        rows.append(
            (
                plain(held.source),
                plain(held.edition),
                plain(held.basis),
                f"{seen} of {len(held.rows)}",
            )
        )
    return (
        "## The tables that are held\n\nThe last column counts the rows that were seen in a "
        "published copy; the others are from memory.\n\n"
        + table(("Source", "Edition", "Holds for", "Rows seen"), rows)
    )
