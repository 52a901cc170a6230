"""What a builder means by a word for one of a few values, where the word is none of them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from wattproof.plan.hints.elsewhere import NO_PART

_WHICH_STAGE: Final = (
    "write `bulk` where it takes all that the array gives, `absorption` where it holds the charge "
    "voltage, `float` where it holds the lower one; else leave `stage` out"
)
_NO_STAGE: Final = ("boost", "full", "charged", "charging", "off", "standby", "idle", "night")
_ONLY_CLEAR: Final = (
    "write `sky: clear` where no cloud and no haze was near the sun; else leave `sky` out"
)

_LEAD: Final = (
    "write `flooded` for lead that is filled up with water, `agm` or `gel` for sealed lead: its "
    "label says which; or `unknown`"
)
_LITHIUM: Final = (
    "write `lithium-iron-phosphate` where the label says so, or LiFePO4 or LFP; nothing is known "
    "here of other lithium, which burns more easily"
)

_AS_LEAD: Final = (
    "with `unknown` it is checked as if it were lead, and what is said of charging it does not hold"
)
_OTHER_LITHIUM: Final = (
    f"nothing is known here of other lithium than LiFePO4, which burns more easily: {_AS_LEAD}"
)
_OTHER_CELLS: Final = f"nothing is known here of nickel or sodium: {_AS_LEAD}"

WORDS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("lifepo4", "lifepo", "lfp", "lithium-iron"), "lithium-iron-phosphate"),
    **dict.fromkeys(
        ("wet", "fla", "wet-cell", "flooded-lead", "flooded-lead-acid", "opzs"), "flooded"
    ),
    "opzv": "gel",
    **dict.fromkeys(
        (
            "van",
            "rv",
            "motorhome",
            "camper",
            "campervan",
            "caravan",
            "truck",
            "car",
            "bus",
            "trailer",
        ),
        "vehicle",
    ),
    **dict.fromkeys(("wohnmobil", "wohnwagen", "kastenwagen", "auto", "skoolie"), "vehicle"),
    **dict.fromkeys(("boot", "segelboot", "hausboot"), "boat"),
    **dict.fromkeys(("haus", "gartenhaus", "hütte", "huette", "tiny-house", "tinyhouse"), "cabin"),
    **dict.fromkeys(
        ("yacht", "sailboat", "motorboat", "narrowboat", "houseboat", "ship", "marine"), "boat"
    ),
    **dict.fromkeys(
        ("house", "home", "hut", "shed", "garage", "barn", "farm", "off-grid", "building"), "cabin"
    ),
    **dict.fromkeys(("camping", "folding-set", "tent"), "portable"),
    **dict.fromkeys(
        ("cart", "ute", "4x4", "4wd", "lorry", "pickup", "suv", "minibus", "minivan", "horsebox"),
        "vehicle",
    ),
    **dict.fromkeys(("dinghy", "trawler", "tender", "ketch", "sloop", "ferry", "launch"), "boat"),
    **dict.fromkeys(
        (
            *("cottage", "chalet", "workshop", "container", "lodge", "greenhouse", "allotment"),
            *("yurt", "office", "outbuilding", "summerhouse", "farmhouse", "stable"),
        ),
        "cabin",
    ),
    **dict.fromkeys(
        ("wind-generator", "wind-turbine", "turbine", "water-generator", "hydro"), "wind"
    ),
    **dict.fromkeys(("tracker", "tracking", "mpp", "maximum-power-point"), "mppt"),
    **dict.fromkeys(("pulse-width", "pulse-width-modulation"), "pwm"),
    **dict.fromkeys(("plus", "pos", "red", "+"), "positive"),
    **dict.fromkeys(("minus", "neg", "black", "-"), "negative"),
    **dict.fromkeys(("built-in", "inside", "standard"), "internal"),
    **dict.fromkeys(("outside", "separate"), "external"),
    **dict.fromkeys(("s", "south-facing", "süd", "sued", "sud"), "south"),
    **dict.fromkeys(("n", "north-facing", "nord"), "north"),
    **dict.fromkeys(("e", "east-facing", "ost"), "east"),
    **dict.fromkeys(("w", "west-facing"), "west"),
    **dict.fromkeys(("se", "southeast"), "south-east"),
    **dict.fromkeys(("sw", "southwest"), "south-west"),
    **dict.fromkeys(("ne", "northeast"), "north-east"),
    **dict.fromkeys(("nw", "northwest"), "north-west"),
    **dict.fromkeys(("arch", "rail", "gantry", "ground-frame"), "open-rack"),
    **dict.fromkeys(
        ("canal-boat", "sailing-boat", "catamaran", "barge", "vessel", "cruiser"), "boat"
    ),
    **dict.fromkeys(("trailer-tent", "suitcase-kit", "portable-kit"), "portable"),
    **dict.fromkeys(("kupfer", "ofc", "cuivre", "cobre"), "copper"),
    **dict.fromkeys(("alu", "al"), "aluminium"),
    **dict.fromkeys(("underground", "trench", "in-ground", "in-the-ground"), "buried"),
    **dict.fromkeys(("clipped", "surface-mounted", "on-wall", "cable-ties"), "surface"),
    **dict.fromkeys(("lead-acid-flooded", "open-lead", "lead-antimony"), "flooded"),
    **dict.fromkeys(("lead-acid-agm", "agm-lead", "agm-deep-cycle", "absorbed-glass-mat"), "agm"),
    **dict.fromkeys(("gel-cell", "lead-gel", "blei-gel", "lead-acid-gel"), "gel"),
    **dict.fromkeys(("lithium-iron-phosphat", "lithium-ferro-phosphate"), "lithium-iron-phosphate"),
    **dict.fromkeys(("b2b", "dc/dc", "booster", "ladebooster", "dc-dc-charger"), "vehicle-charger"),
    **dict.fromkeys(("lichtmaschine", "alternateur"), "alternator"),
    **dict.fromkeys(("landstrom", "mains-charger"), "shore"),
    **dict.fromkeys(("dc-dc", "dcdc", "dc-to-dc", "battery-to-battery"), "vehicle-charger"),
    "aluminum": "aluminium",
    "cca": "copper-clad-aluminium",
    **dict.fromkeys(("tinned", "tinned-copper", "cu"), "copper"),
    **dict.fromkeys(("air", "open-air", "open"), "free-air"),
    **dict.fromkeys(("pipe", "tube", "trunking", "loom", "duct"), "conduit"),
    **dict.fromkeys(("glued", "flush", "stuck", "adhesive"), "roof-bonded"),
    **dict.fromkeys(("on-the-ground", "on-ground", "lying-on-the-ground", "lying"), "ground"),
    **dict.fromkeys(("on-the-grass", "on-grass", "grass", "floor", "on-the-floor"), "ground"),
    **dict.fromkeys(("rack", "pole", "tilted", "frame"), "open-rack"),
    **dict.fromkeys(("gap", "roof", "brackets", "raised"), "roof-gap"),
    **dict.fromkeys(("portable-stand", "stand", "lawn"), "ground"),
    **dict.fromkeys(("y", "y-branch", "y-connector", "t-branch", "branch"), "branch-connector"),
    **dict.fromkeys(("box", "junction-box"), "combiner-box"),
    **dict.fromkeys(("busbar", "bar", "terminals", "strip"), "terminal-block"),
    **dict.fromkeys(("mono", "poly", "monocrystalline", "polycrystalline", "perc"), "crystalline"),
    **dict.fromkeys(("cigs", "amorphous", "cdte"), "thin-film"),
    **dict.fromkeys(("mains", "ac", "ac-charger", "grid", "shore-power"), "shore"),
    **dict.fromkeys(("engine", "vehicle-alternator", "dynamo", "vehicle"), "alternator"),
    **dict.fromkeys(("outboard", "outboard-motor", "outboard-engine", "magneto"), "alternator"),
    **dict.fromkeys(("hydrogenerator", "hydro-generator", "towed-generator"), "wind"),
    **dict.fromkeys(("water", "water-turbine", "micro-hydro", "pico-hydro", "pelton"), "wind"),
    **dict.fromkeys(("solar", "photovoltaic"), "pv"),
    **dict.fromkeys(("foldable", "suitcase"), "folding"),
    **dict.fromkeys(("sae", "sae-plug", "sae-connector", "two-pin", "2-pin"), "flat-two-pin"),
    **dict.fromkeys(
        ("lighter", "cigarette-lighter", "cigar-lighter", "car-lighter", "12v-socket", "accessory"),
        "cigar",
    ),
    **dict.fromkeys(("7-pin", "7-way", "seven-pin", "seven-way", "12n", "12s"), "trailer-7"),
    **dict.fromkeys(("13-pin", "thirteen-pin"), "trailer-13"),
    **dict.fromkeys(("mppt", "cc", "constant-current", "main-charge"), "bulk"),
    **dict.fromkeys(("absorb", "cv", "constant-voltage", "topping"), "absorption"),
    **dict.fromkeys(("storage", "maintenance", "trickle"), "float"),
    **dict.fromkeys(("semi-flexible", "bendable"), "flexible"),
    **dict.fromkeys(("nec", "nfpa", "nfpa-70", "nec-690", "nec-2017", "nec-2020"), "nec-2023"),
    **dict.fromkeys(("abyc", "abyc-e-11", "e11", "e-11"), "abyc-e11"),
    **dict.fromkeys(("as-nzs", "as/nzs", "as/nzs-3001", "as-3001", "3001"), "as-nzs-3001"),
    **dict.fromkeys(("iso", "iso-10133", "13297", "10133"), "iso-13297"),
    **dict.fromkeys(("vde", "din", "din-vde", "bs-7671", "iec-60364", "iec-62548"), "iec"),
}
"""Other words for a value that is one of a few, where they mean one thing."""

BY_KEY: Final[Mapping[str, str]] = {
    **dict.fromkeys(("bonded", "geklebt", "verklebt"), "roof-bonded"),
    **dict.fromkeys(("glued", "glue", "stuck", "adhesive", "taped", "tape", "sealant"), "bonded"),
    **dict.fromkeys(("screwed", "screws", "bolts", "riveted", "rivets"), "bolted"),
    **dict.fromkeys(("geschraubt", "verschraubt"), "bolted"),
    **dict.fromkeys(("clamps", "clamp"), "clamped"),
    **dict.fromkeys(
        ("bonded-and-bolted", "glued-and-bolted", "glued-and-screwed", "screwed-and-glued"),
        "bolted-and-bonded",
    ),
}
"""The same of words that mean another thing under another key, and stand for it there."""

UNCLEAR: Final[Mapping[str, str]] = {
    **dict.fromkeys(
        ("lithium", "li", "li-ion", "lithium-ion", "lipo", "li-po", "lithium-polymer", "18650"),
        _LITHIUM,
    ),
    **dict.fromkeys(("nmc", "nca", "lto", "lmo", "lco", "nmca", "li-nmc", "linmc"), _OTHER_LITHIUM),
    **dict.fromkeys(
        ("lithium-titanate", "lithium-manganese", "lithium-cobalt", "lithium-nmc"), _OTHER_LITHIUM
    ),
    **dict.fromkeys(("lead", "lead-acid", "sla", "vrla", "sealed", "deep-cycle"), _LEAD),
    **dict.fromkeys(("lead-carbon", "lead-crystal", "lead-calcium", "calcium", "tubular"), _LEAD),
    **dict.fromkeys(("marine", "leisure", "golf-cart", "traction", "forklift", "solar"), _LEAD),
    **dict.fromkeys(("car", "car-battery", "truck", "starter", "maintenance-free"), _LEAD),
    **dict.fromkeys(("nicd", "ni-cd", "nicad", "nickel-cadmium", "nickel"), _OTHER_CELLS),
    **dict.fromkeys(("nimh", "ni-mh", "nickel-metal-hydride"), _OTHER_CELLS),
    **dict.fromkeys(("nife", "ni-fe", "nickel-iron", "edison"), _OTHER_CELLS),
    **dict.fromkeys(("sodium", "sodium-ion", "na-ion", "salt", "saltwater"), _OTHER_CELLS),
}
"""Words for a chemistry that leave open which is meant, and what tells them apart."""


def sure_word(word: str, words: tuple[str, ...]) -> str:
    """Which of a few words another word or spelling stands for; empty where nobody can tell."""
    plain = _plain(word)
    meanings = (plain, WORDS.get(plain, ""), BY_KEY.get(plain, ""))
    return next((meaning for meaning in meanings if meaning in words), "")


def _plain(word: str) -> str:
    return word.strip().lower().replace("_", "-").replace(" ", "-")


def meant_word(word: str, words: tuple[str, ...]) -> str:
    """What to write instead of a word that is none of a few; empty where nobody can tell."""
    plain = _plain(word)
    if "shore" in words and plain in _OF_AN_ENGINE:
        return _BETWEEN_TWO
    if found := sure_word(word, words):
        return f"write `{found}`"
    if "open-rack" in words and plain.startswith("ground-mount"):
        return "write `open-rack` where they stand on a frame, `ground` where they lie on it"
    if compound := _compound(plain, words):
        return compound
    if "branch-connector" in words and _BRANCH.search(plain):
        return "write `branch-connector`"
    if "chassis" in words and (common := common_meant(plain)):
        return common
    if words == ("clear",):
        return _ONLY_CLEAR
    if "absorption" in words and plain in _NO_STAGE:
        return _WHICH_STAGE
    if "mppt" in words and plain in ("microinverter", "micro-inverter", "grid-tie", "inverter"):
        return NO_PART
    if "folding" in words and (kind := sure_word(word, _TECHNOLOGIES)):
        return f"write `technology: {kind}` in its place"
    if words == ("positive", "negative") and plain in ("both", "pair", "two", "+/-", "dual"):
        return "delete `pole`: a wire is a pair without it"
    if "iec" in words and (body := _BODY_THERE.get(plain)):
        return body
    if "external" in words and plain in _WITHOUT:
        return _UNREGULATED
    if "shore" in words:
        begins = (word for word in _OF_NO_CHARGER if f"{plain}-".startswith(f"{word}-"))
        return _OF_NO_CHARGER.get(max(begins, key=len, default=""), "")
    return UNCLEAR.get(plain, "") if "agm" in words else ""


_BODY_THERE: Final[Mapping[str, str]] = {
    **dict.fromkeys(
        ("europe", "eu", "european", "uk", "germany", "france", "spain", "italy", "en", "vde"),
        "write `iec`, or `iso-13297` on a boat",
    ),
    **dict.fromkeys(
        ("us", "usa", "america", "american", "united-states"),
        "write `nec-2023`, or `abyc-e11` on a boat; in a van "
        "`{array: nec-2023, battery: abyc-e11}`",
    ),
}
"""What to write where a body of rules is told by the country."""


def _compound(plain: str, words: tuple[str, ...]) -> str:
    """What to write instead of a compound, by the part of it that tells the kind."""
    parts = plain.split("-")
    if len(parts) < 2 or {"and", "or", "und", "&"} & set(parts):
        return ""
    if "vehicle-charger" in words and _BETWEEN_BATTERIES.search(plain):
        return "write `vehicle-charger`; what its solar input stands is `max_input_voltage`"
    last, first = (part if part in words else WORDS.get(part, "") for part in (parts[-1], parts[0]))
    if "vehicle" in words and last in words:
        return f"write `{last}`"
    found = first if first in words else last if last in _NAMED_BY_THE_LAST else ""
    rest = "what else its name tells stands under keys of its own"
    return f"write `{found}`; {rest}" if found in words else ""


_BETWEEN_BATTERIES: Final = re.compile(
    "(^|-)(dc-?(to-?)?dc|b2b|battery-to-battery|booster|vehicle|alternator)(-|$)"
)
_NAMED_BY_THE_LAST: Final = ("mppt", "pwm")
"""What people name by a compound whose last word tells the kind: a boost tracker."""
_BRANCH: Final = re.compile(
    "[0-9]-?(to|in|into|way)-?[0-9]?|(^|-)(y|t|branch|branches|splitter)(-|$)"
)
_TECHNOLOGIES: Final = ("crystalline", "thin-film")
_WITHOUT: Final = ("none", "no", "false", "without", "unregulated", "rectifier", "missing")
_UNREGULATED: Final = (
    "leave it out, and write as `charge_voltage` what a meter shows at its battery when that is "
    "full: without a regulator nothing holds it"
)
_GENERATOR: Final = (
    "write `shore` where it is fed by a generator of mains voltage, and `alternator` where an "
    "engine charges without one"
)
_OF_AN_ENGINE: Final = ("vehicle", "vehicle-charger", "alternator-charger", "car-charger", "engine")
_BETWEEN_TWO: Final = (
    "write `alternator` where that itself is meant; a charger between two batteries, which an "
    "engine feeds, stands under `controllers:`, with `kind: vehicle-charger`"
)
_OF_NO_CHARGER: Final[Mapping[str, str]] = {
    **dict.fromkeys(
        ("generator", "genset", "diesel", "petrol", "gas", "fuel-generator"), _GENERATOR
    ),
    **dict.fromkeys(
        ("petrol-generator", "gasoline-generator", "diesel-generator", "inverter-generator"),
        _GENERATOR,
    ),
    **dict.fromkeys(
        ("solar", "mppt", "pwm", "tracker"),
        "what has a solar input stands under `controllers:`",
    ),
    **dict.fromkeys(
        ("inverter", "combi", "inverter-charger", "multi"),
        "an inverter and charger in one case stands under `inverter_chargers:`",
    ),
    **dict.fromkeys(
        ("dc-dc", "dcdc", "b2b", "battery-to-battery", "booster"),
        "a charger between two batteries stands under `controllers:`, with `kind: vehicle-charger`",
    ),
}
"""What is written as the kind of a charger, and where it stands or what it is."""


def common_meant(name: str) -> str:
    """What to write for a word that means the body or the earth; empty for another."""
    words = ("ground", "gnd", "body", "frame", "mass", "masse", "car-body", "bodywork", "hull")
    if name.lower() not in words:
        return ""
    return (
        "write `chassis` where the body or frame of a vehicle is meant, `water` on a boat, "
        "`earth` at a cabin"
    )
