"""Which rule covers which hazard, and which hazards none covers."""

from __future__ import annotations

from typing import NamedTuple

from wattproof.rule import PARTS, Rule
from wattproof_docs.markdown import plain, table
from wattproof_docs.rules import PART_WORDS, built_in

REFUSED = "refused when the plan is read"
LISTED = "listed in every report, as no finding"


class Elsewhere(NamedTuple):
    """A hazard that the plan's reader or the report answers, beside a rule or without one."""

    part: str
    words: str
    otherwise: str


ELSEWHERE = (
    Elsewhere("module", "A coefficient that is missing", LISTED),
    Elsewhere("string", "An array with its poles crossed, or a string against the rest", REFUSED),
    Elsewhere("string", "Strings in series plus to plus", REFUSED),
    Elsewhere("controller", "One array on two controllers", REFUSED),
    Elsewhere("controller", "Loads straight on an array, past the controller", REFUSED),
    Elsewhere("controller", "One controller that feeds another", REFUSED),
    Elsewhere("conductor", "Automotive cable of another gauge than AWG", LISTED),
    Elsewhere("battery", "Poles crossed at a battery, or batteries shorting each other", REFUSED),
    Elsewhere("battery", "Batteries of unlike nominal voltage together", REFUSED),
    Elsewhere("controller", "The mains side of inverters and chargers", LISTED),
    Elsewhere("bonding", "Frames that may become live", LISTED + ", in cabins"),
)

BELOW = "none: see below"


class Mistake(NamedTuple):
    """A mistake that public lists name, the rules that look for it, or else why none does."""

    words: str
    named_by: str
    rules: tuple[str, ...] = ()
    otherwise: str = ""


SURVEYORS = "surveyors and insurers of boats"
EXAMINERS = "examiners of buildings and arrays"
MAKERS = "makers of batteries and inverters"
CAMPERS = "insurers and clubs of campers"
LISTED_MISTAKES = (
    Mistake("No fuse near the battery", f"{SURVEYORS}; {CAMPERS}", ("battery-fuse-missing",)),
    Mistake(
        "A fuse or breaker too large for its wire",
        f"{SURVEYORS}; {EXAMINERS}",
        ("fuse-over-conductor", "device-trips-late"),
    ),
    Mistake(
        "A fuse that cannot break what lithium drives",
        MAKERS,
        ("fuse-interrupt-low", "pack-fuse-unfit"),
    ),
    Mistake("More than four lugs on one post", SURVEYORS, ("terminal-overcrowded",)),
    Mistake("No battery switch", f"{SURVEYORS}; {CAMPERS}", ("battery-switch-missing",)),
    Mistake("One kind of plug for everything", CAMPERS, ("plugs-alike",)),
    Mistake("Wing nuts on battery posts", SURVEYORS, otherwise=BELOW),
    Mistake("Posts without covers", SURVEYORS, otherwise=BELOW),
    Mistake("A battery that can slide", f"{SURVEYORS}; {CAMPERS}", otherwise=BELOW),
    Mistake(
        "A battery among people without a vent",
        f"{SURVEYORS}; {CAMPERS}",
        ("battery-place-unsafe",),
    ),
    Mistake(
        "House or welding cable, stiff conductors",
        SURVEYORS,
        ("solid-conductor-in-motion", "welding-cable-fixed"),
    ),
    Mistake(
        "Wires too thin for their length",
        f"{SURVEYORS}; {CAMPERS}",
        ("voltage-drop-high", "conductor-too-small"),
    ),
    Mistake("A bilge pump behind the main switch", SURVEYORS, ("critical-load-can-be-cut-off",)),
    Mistake("Sparks in a petrol engine space", SURVEYORS, ("spark-in-gas-space",)),
    Mistake("Old and new, or unlike batteries together", MAKERS, ("unlike-batteries-joined",)),
    Mistake(
        "Everything on one battery of a bank",
        MAKERS,
        ("parallel-paths-unequal", "load-on-half-bank"),
    ),
    Mistake("More packs in series or parallel than allowed", MAKERS, ("pack-count-over-limit",)),
    Mistake("Lithium charged in the cold", MAKERS, ("charge-below-freezing",)),
    Mistake(
        "A charger set for another kind of battery",
        MAKERS,
        ("charge-voltage-wrong", "float-voltage-wrong", "equalised-though-sealed"),
    ),
    Mistake(
        "Lithium straight on an alternator",
        f"{MAKERS}; {CAMPERS}",
        ("alternator-straight-to-lithium", "alternator-can-lose-battery"),
    ),
    Mistake("Batteries joined while unequally charged", MAKERS, ("reading-packs-unequal",)),
    Mistake("An inverter connected without pre-charge", MAKERS, otherwise=BELOW),
    Mistake(
        "The case of an inverter without its ground", f"{MAKERS}; {EXAMINERS}", otherwise=BELOW
    ),
    Mistake("Live pins on the battery side of a plug", CAMPERS, otherwise=BELOW),
    Mistake("Connectors of two makes plugged together", EXAMINERS, ("connector-mixed",)),
    Mistake("Frames that nothing bonds", EXAMINERS, ("frames-not-bonded", "frame-bond-too-small")),
    Mistake(
        "String fuses missing or above the label",
        EXAMINERS,
        ("string-fuse-missing", "string-fuse-over-module"),
    ),
    Mistake(
        "Switches and breakers made for alternating current",
        EXAMINERS,
        ("device-not-for-dc", "switch-not-load-break"),
    ),
    Mistake("Breakers the wrong way round", EXAMINERS, ("breaker-polarity",)),
    Mistake("Cable in the sun that is not made for it", EXAMINERS, ("cable-not-for-outdoors",)),
    Mistake(
        "Cold voltage above the controller's limit",
        f"{EXAMINERS}; {MAKERS}",
        ("cold-voltage-over-controller",),
    ),
    Mistake("Modules held by glue alone", CAMPERS, ("mount-not-proven",)),
)
"""What insurers, surveyors, examiners and makers say they find most."""

NO_WORDS = "the plan language has no words for it"
ADVICE = "advice for the work itself, which no plan can show"
UNCOVERED: tuple[tuple[str, str], ...] = (
    ("Mains voltage: shock, neutral bonds, back-feed", "outside the scope; licensed work"),
    ("Loose screws, bad crimps, wrong tools", ADVICE),
    ("Chafe at edges, glands, drip loops", ADVICE),
    ("Order of connection, covering modules first", ADVICE + "; see the page on safety"),
    ("Gas pipes and stoves near cables", NO_WORDS),
    ("A battery that is not strapped down", NO_WORDS),
    ("Lightning on a mast or a cabin", "nothing to compute; surge arresters only by their voltage"),
    ("Age of batteries that are joined", NO_WORDS),
    ("The brake and the dump load of a wind generator", NO_WORDS),
    (
        "Winches and thrusters that run for minutes only",
        "judged as if they ran for good, since one that jams does",
    ),
    ("An alternator charger without an engine signal", NO_WORDS),
    ("Both inputs of a vehicle charger sharing one output", "by design; the alternator fills it"),
    ("Modules facing two ways in one string", "unlike light is seen only as a case of shade"),
    ("A low cut-off for loads on lead", NO_WORDS),
    ("Current from the battery into the array at night", "milliamperes; only its fire side counts"),
    ("Ferrules and lugs for fine strands", ADVICE),
    ("Wing nuts on battery posts", "no plan tells nuts: by ABYC E-10 none holds 6 AWG or larger"),
    (
        "Posts and bars without covers",
        ADVICE + "; a spanner across them draws thousands of amperes",
    ),
    ("Corroded, dirty or dry terminals", "readings of drop and heat at joints find them, no plan"),
    (
        "An inverter connected without pre-charge",
        "its capacitors spark and pit the switch for a moment; which inverters need it, and by "
        "what resistor, stands in their manuals; see the page on safety",
    ),
    (
        "The case of an inverter or charger without its ground",
        "it guards against mains voltage, which is outside the scope; licensed work",
    ),
    (
        "Live pins on the battery side of a plug",
        "the plan language tells no gender: the side that stays live has the sockets, by practice",
    ),
    (
        "Batteries joined while one is full and one is empty",
        "only readings tell it, where there are any. By makers: charge each alone to full, let "
        "them rest, and join what differs by no more than some hundredths of a volt",
    ),
    ("Batteries below the water in the bilge, or over a fuel tank", NO_WORDS),
    ("Breakers used as the daily switch", ADVICE),
    ("Snow, hail, and modules that are walked on", "nothing in a plan tells it"),
)


def page() -> str:
    """The tables that the page on hazards includes, by the part that a rule is about."""
    rules = sorted(built_in().rules.values(), key=lambda rule: (PARTS.index(rule.part), rule.id))
    text = ""
    for part in PARTS:
        rows = _rows(part, rules)
        if rows:
            text += f"## {PART_WORDS[part]}\n\n" + table(("Hazard", "Covered by"), rows)
    text += "## What public lists of common mistakes name\n\n" + table(
        ("Mistake", "Named by", "Covered by"), [_listed(each) for each in LISTED_MISTAKES]
    )
    unseen = [(plain(words), plain(why)) for words, why in UNCOVERED]
    return text + "## What no rule covers\n\n" + table(("Hazard", "Why"), unseen)


def _listed(each: Mistake) -> tuple[str, str, str]:
    links = [f"[`{name}`](generated/rules/{name}.md)" for name in each.rules]
    return plain(each.words), plain(each.named_by), ", ".join(links) or plain(each.otherwise)


def _rows(part: str, rules: list[Rule]) -> list[tuple[str, str]]:
    """Each hazard of a part once, beside all rules that look for it.

    A hazard stands with the first rule that covers it. A rule that names none has its summary.
    """
    covered: dict[str, list[Rule]] = {}
    for rule in rules:
        for words in rule.covers or (rule.summary,):
            covered.setdefault(words, []).append(rule)
    answered = {each.words: each for each in ELSEWHERE}
    here = [words for words, by in covered.items() if by[0].part == part]
    here += [each.words for each in ELSEWHERE if each.part == part and each.words not in covered]
    rows = []
    for words in here:
        cells = [f"[`{rule.id}`](generated/rules/{rule.id}.md)" for rule in covered.get(words, [])]
        if words in answered:
            cells.append(answered[words].otherwise)
        rows.append((plain(words), ", ".join(cells)))
    return rows
