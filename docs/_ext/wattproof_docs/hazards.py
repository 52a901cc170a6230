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
    Elsewhere("battery", "Parts of unlike nominal voltage together", REFUSED),
    Elsewhere("controller", "The mains side of inverters and chargers", LISTED),
    Elsewhere("bonding", "Frames that may become live", LISTED + ", in cabins"),
)

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
    ("An alternator charger without an engine signal", NO_WORDS),
    ("Both inputs of a vehicle charger sharing one output", "by design; the alternator fills it"),
    ("Modules facing two ways in one string", "unlike light is seen only as a case of shade"),
    ("A low cut-off for loads on lead", NO_WORDS),
    ("Current from the battery into the array at night", "milliamperes; only its fire side counts"),
    ("Ferrules and lugs for fine strands", ADVICE),
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
    unseen = [(plain(words), plain(why)) for words, why in UNCOVERED]
    return text + "## What no rule covers\n\n" + table(("Hazard", "Why"), unseen)


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
