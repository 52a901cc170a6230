"""The cautions of all rules, by hazard, for the page on safety."""

from __future__ import annotations

from wattproof.finding import HAZARDS
from wattproof.reports.writing.wording import HAZARD_WORDS
from wattproof_docs.markdown import plain
from wattproof_docs.rules import built_in

SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")


def page() -> str:
    """Every caution with its signal word, and the rule that gives it."""
    rules = [r for r in built_in().rules.values() if r.caution is not None]
    text = ""
    for hazard in HAZARDS:
        here = [r for r in rules if r.hazard == hazard]
        here.sort(key=lambda r: (SIGNALS.index(r.caution.signal), r.id))
        if here:
            text += f"### {HAZARD_WORDS[hazard].capitalize()}\n\n"
            for rule in here:
                link = f"[{rule.id}](generated/rules/{rule.id}.md)"
                text += f"- **{rule.caution.signal}** {plain(rule.caution.text)} ({link})\n"
            text += "\n"
    return text
