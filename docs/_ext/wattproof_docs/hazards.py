"""Which rule covers which hazard, and which hazards none covers."""

from __future__ import annotations

from typing import NamedTuple

from wattproof_docs.markdown import plain, table

REFUSED = "refused when the plan is read"
LISTED = "listed in every report, as no finding"


class Hazard(NamedTuple):
    """A hazard, the rules that cover it, and what else does."""

    words: str
    rules: tuple[str, ...] = ()
    otherwise: str = ""


COVERED: dict[str, tuple[Hazard, ...]] = {
    "Labels and plans": (
        Hazard("Values on a label that cannot all be true", ("module-values-impossible",)),
        Hazard("Power that is not voltage times current", ("module-power-disagrees",)),
        Hazard(
            "A nominal voltage copied in place of the one at maximum power",
            ("module-fill-factor-odd", "module-values-impossible"),
        ),
        Hazard("Values that lie on no curve of a cell", ("module-fits-no-curve",)),
        Hazard("Cells miscounted, or the voltage of two modules", ("module-cells-odd",)),
        Hazard("Coefficients of wrong sign, size or unit", ("module-coefficient-odd",)),
        Hazard("The air's temperature told for the cells", ("cell-temperature-odd",)),
        Hazard("A coefficient that is missing", (), LISTED),
        Hazard("A series fuse on the label that is too small", ("module-fuse-label-low",)),
        Hazard("Feet written as metres, or the way back counted twice", ("wire-length-odd",)),
    ),
    "Arrays and their controllers": (
        Hazard("Cold voltage over the controller's limit", ("cold-voltage-over-controller",)),
        Hazard(
            "Two modules in series on a small vehicle charger", ("cold-voltage-over-controller",)
        ),
        Hazard("Cold voltage over what modules stand", ("cold-voltage-over-module",)),
        Hazard("Cold voltage over fuses, switches, joints, cable", ("cold-voltage-over-device",)),
        Hazard("Hot voltage too low to charge", ("hot-voltage-under-battery",)),
        Hazard("A tracker that never starts in heat", ("tracker-will-not-start",)),
        Hazard("More current than the input stands", ("controller-input-over-current",)),
        Hazard(
            "Light on the backs of modules, which adds current",
            ("controller-input-over-current", "conductor-too-small", "combiner-over-rating"),
        ),
        Hazard("More power than the controller passes on", ("controller-clips",)),
        Hazard("A pulse-width controller on modules of high voltage", ("pwm-voltage-wasted",)),
        Hazard("A regulator before a controller", ("controller-feeds-controller",)),
        Hazard("Strings of unlike voltage or length side by side", ("unlike-voltage-in-parallel",)),
        Hazard("Modules of unlike current in series", ("unlike-current-in-series",)),
        Hazard("A fixed array that dies with its portable part", ("portable-joined-to-roof",)),
        Hazard("A shadow that costs far more than its light", ("shade-series-loss",)),
        Hazard("A best point under shade that no one can use", ("shaded-peak-under-window",)),
        Hazard("No bypass diodes in series", ("bypass-diode-missing",)),
        Hazard("Blocking diodes where they only cost", ("blocking-diode-misused",)),
        Hazard("Flexible modules that cook on a roof", ("flexible-module-bonded",)),
        Hazard("An array with its poles crossed, or a string against the rest", (), REFUSED),
        Hazard("Strings in series plus to plus", (), REFUSED),
        Hazard("One array on two controllers", (), REFUSED),
        Hazard("Loads straight on an array, past the controller", (), REFUSED),
        Hazard("A controller without its battery", ("controller-battery-missing",)),
        Hazard("Modules straight on a battery", ("charge-controller-missing",)),
        Hazard("One controller that feeds another", (), REFUSED),
    ),
    "Protection and joints of arrays": (
        Hazard("Other strings feeding a shorted one", ("string-fuse-missing",)),
        Hazard(
            "One fuse for many strings, or for a group whose lead is thin",
            ("string-fuse-missing", "group-lead-unprotected"),
        ),
        Hazard("A string fuse too large for its modules", ("string-fuse-over-module",)),
        Hazard("A string fuse too small for its string", ("string-fuse-too-small",)),
        Hazard("A string fuse not made for arrays", ("string-fuse-not-pv",)),
        Hazard("Overloaded branch connectors and boxes", ("combiner-over-rating",)),
        Hazard("Connectors of unlike make mated", ("connector-mixed",)),
        Hazard("Small plugs that melt", ("small-plug-overloaded",)),
        Hazard("Adapters that swap the poles", ("plug-polarity-unsure",)),
        Hazard("Voltage within reach", ("array-voltage-touchable",)),
        Hazard(
            "No switch for the array, or a connector in its place",
            ("array-switch-missing",),
        ),
        Hazard("A switch that opens one pole of an array", ("array-switch-one-pole",)),
    ),
    "Conductors": (
        Hazard("Wires too thin for their current and heat", ("conductor-too-small",)),
        Hazard("Terminals that stand less heat than the wire", ("conductor-too-small",)),
        Hazard("Many loaded wires in one bundle", ("conductor-too-small", "fuse-over-conductor")),
        Hazard("Insulation cooler than its surroundings", ("insulation-too-cool",)),
        Hazard("Voltage lost on the way", ("voltage-drop-high",)),
        Hazard("Indoor cable in sun and rain", ("cable-not-for-outdoors",)),
        Hazard("Welding cable left in place", ("welding-cable-fixed",)),
        Hazard("Aluminium sold as copper", ("aluminium-conductor",)),
        Hazard("Solid wire where it shakes", ("solid-conductor-in-motion",)),
        Hazard("Wire that is too thin to be handled", ("conductor-too-thin",)),
        Hazard("Wire that does not fit its terminal", ("conductor-over-terminal",)),
        Hazard("Automotive cable of another gauge than AWG", (), LISTED),
        Hazard("Two thin wires in place of one", ("paralleled-small-wires",)),
        Hazard("A negative thinner than its positive", ("negative-smaller-than-positive",)),
        Hazard("Large currents through the body", ("chassis-as-return",)),
        Hazard("Cable in the ground that is not made for it", ("buried-cable-unsuited",)),
        Hazard("Starter cables that starve the starter", ("cranking-cable-thin",)),
    ),
    "Fuses, breakers, switches, panels": (
        Hazard("No fuse at the battery, or one too far from it", ("battery-fuse-missing",)),
        Hazard("A fuse at the weak end of a wire", ("battery-fuse-missing",)),
        Hazard(
            "A wire that is live from both ends", ("battery-fuse-missing", "fuse-over-conductor")
        ),
        Hazard("Display and sense wires without a fuse, drawn as loads", ("battery-fuse-missing",)),
        Hazard("A fuse too large for its wire", ("fuse-over-conductor",)),
        Hazard("A fuse that opens without a fault", ("fuse-under-load",)),
        Hazard("A rating that counts though the array gives less", ("rated-output-counted",)),
        Hazard("A fuse that bursts at what the battery drives", ("fuse-interrupt-low",)),
        Hazard("A cheap reset breaker as the only one", ("fuse-interrupt-low",)),
        Hazard("A breaker that closes on the fault again", ("breaker-resets-itself",)),
        Hazard("A switch that stops a bilge pump", ("critical-load-can-be-cut-off",)),
        Hazard("A switch set to save no battery", ("low-voltage-switch-odd",)),
        Hazard("Parts of too low a voltage, or for alternating current", ("device-not-for-dc",)),
        Hazard("Ratings that no fuse of its style has", ("fuse-style-confused",)),
        Hazard("A breaker fed the wrong way round", ("breaker-polarity",)),
        Hazard("A main fuse that opens before the branch's", ("main-fuse-opens-first",)),
        Hazard("A panel or fuse block overloaded", ("panel-over-rating",)),
        Hazard("A fuse or switch that is listed and in no wire", ("component-unused",)),
        Hazard("A busbar overloaded", ("busbar-over-rating",)),
        Hazard("A switch too weak, or not to be opened under load", ("switch-not-load-break",)),
        Hazard(
            "A battery switch that leaves a controller on its array",
            ("battery-switch-strands-controller",),
        ),
    ),
    "Batteries and their charge": (
        Hazard("Poles crossed at a battery, or batteries shorting each other", (), REFUSED),
        Hazard("Parts of unlike nominal voltage together", (), REFUSED),
        Hazard("Batteries of unlike kind or size together", ("unlike-batteries-joined",)),
        Hazard("More packs together than allowed", ("pack-count-over-limit",)),
        Hazard("Packs in parallel without a fuse each", ("each-pack-unfused",)),
        Hazard("Fuses of packs that cannot break a shorted one", ("pack-fuse-unfit",)),
        Hazard("Packs in parallel that share unequally", ("parallel-paths-unequal",)),
        Hazard("Loads on half of a bank", ("load-on-half-bank",)),
        Hazard("Charged too hard by all sources at once", ("charge-current-over-battery",)),
        Hazard(
            "Charged too little to last", ("charge-current-too-small", "flooded-charge-too-small")
        ),
        Hazard("Charged to the wrong voltage", ("charge-voltage-wrong",)),
        Hazard("Held at the wrong voltage when full", ("float-voltage-wrong",)),
        Hazard("Equalised though it is sealed", ("equalised-though-sealed",)),
        Hazard("Compensation with its sign turned round", ("compensation-odd",)),
        Hazard("A diode that keeps a battery from getting full", ("isolator-drop-undercharges",)),
        Hazard("A diode isolator overloaded", ("isolator-over-rating",)),
        Hazard(
            "Charge that does not follow temperature, or should not",
            ("temperature-compensation-wrong",),
        ),
        Hazard("Lithium charged below freezing", ("charge-below-freezing",)),
        Hazard("A battery in too hot a place", ("battery-too-hot",)),
        Hazard("Lithium that cuts off in full sun", ("lithium-cut-off-in-sun",)),
        Hazard("More drawn than packs let out", ("load-over-battery-discharge",)),
        Hazard("One pack that cuts off takes the others with it", ("pack-cut-off-overloads",)),
        Hazard("Lead drawn so hard that half is left in it", ("lead-drawn-too-hard",)),
        Hazard("A monitor that does not see everything", ("shunt-bypassed",)),
        Hazard("An alternator overloaded by a charger", ("alternator-overloaded",)),
        Hazard(
            "An alternator that loses its battery while it runs", ("alternator-can-lose-battery",)
        ),
        Hazard("A vehicle charger the wrong way round", ("vehicle-charger-input-wrong",)),
        Hazard("Lithium on an alternator without a charger", ("alternator-straight-to-lithium",)),
        Hazard("A relay that couples two banks in the sun", ("relay-closes-in-sun",)),
    ),
    "Inverters, controllers and loads": (
        Hazard(
            "Cable and fuse of an inverter",
            ("conductor-too-small", "fuse-over-conductor", "fuse-under-load", "voltage-drop-high"),
        ),
        Hazard("An inverter on load terminals", ("inverter-on-load-terminals",)),
        Hazard("Load terminals overloaded", ("load-port-over-rating",)),
        Hazard("A DC converter overloaded", ("converter-overloaded",)),
        Hazard("A motor that the inverter cannot start", ("inverter-surge-low",)),
        Hazard("A unit without air to cool it", ("unit-too-hot",)),
        Hazard("The mains side of inverters and chargers", (), LISTED),
    ),
    "Grounding": (
        Hazard("A negative tied to ground twice", ("negative-bonded-twice",)),
        Hazard("The positive at the chassis", ("positive-bonded",)),
        Hazard("A tie too thin to clear a fault", ("bond-too-small",)),
        Hazard("Frames of modules on a thin bond", ("frame-bond-too-small",)),
        Hazard("An alternator without a way back", ("alternator-return-missing",)),
        Hazard(
            "A controller that switches the negative, grounded past it",
            ("common-positive-controller-grounded",),
        ),
        Hazard("Frames that may become live", ("frames-not-bonded",), LISTED + ", in cabins"),
        Hazard("An array on a building that leaks to earth", ("building-rules-apply",)),
    ),
    "Sun and use": (
        Hazard("More used than the sun brings", ("harvest-under-loads",)),
        Hazard("A bank that is empty after one dull day", ("autonomy-short",)),
        Hazard("Modules that lie flat where the winter sun is low", ("flat-winter-loss",)),
        Hazard("An inverter that idles a day's sun away", ("inverter-idle",)),
        Hazard("Sun hours that no clear sky gives", ("sun-hours-over-clear-sky",)),
    ),
    "What a meter showed": (
        Hazard("A module reversed, open or shorted", ("reading-voltage-low",)),
        Hazard(
            "Modules above their label, so that the cold margin is gone",
            ("reading-voltage-high",),
        ),
        Hazard("Dirt, shade, a broken cell or a bad joint", ("reading-current-low",)),
        Hazard("More current than the label allows", ("reading-current-high",)),
        Hazard("One string unlike its neighbours", ("reading-strings-unequal",)),
        Hazard("Less power than the curve gives", ("reading-power-under-curve",)),
        Hazard("Poles crossed at the meter", ("reading-polarity",)),
        Hazard("Joints that warm up under load", ("reading-joint-drop",)),
        Hazard("Voltage lost between charger and battery", ("reading-charge-voltage",)),
        Hazard("A battery charged over its limit", ("reading-battery-overcharged",)),
        Hazard("A reading without its sun or temperature", ("reading-conditions-missing",)),
    ),
    "Places, people, law": (
        Hazard("Gas of a battery in a living space, a battery with gas", ("battery-place-unsafe",)),
        Hazard("Sparks in gas or petrol vapour", ("spark-in-gas-space",)),
        Hazard("A module that comes off at road speed", ("mount-not-proven",)),
        Hazard(
            "What building codes ask for: disconnect, shutdown, arcs, labels",
            ("building-rules-apply",),
        ),
    ),
}

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
    """The two tables that the page on hazards includes."""
    text = ""
    for part, hazards in COVERED.items():
        rows = [(plain(each.words), _covered_by(each)) for each in hazards]
        text += f"## {part}\n\n" + table(("Hazard", "Covered by"), rows)
    rows = [(plain(words), plain(why)) for words, why in UNCOVERED]
    return text + "## What no rule covers\n\n" + table(("Hazard", "Why"), rows)


def _covered_by(hazard: Hazard) -> str:
    links = [f"[`{rule}`](generated/rules/{rule}.md)" for rule in hazard.rules]
    return ", ".join([*links, *([hazard.otherwise] if hazard.otherwise else [])])
