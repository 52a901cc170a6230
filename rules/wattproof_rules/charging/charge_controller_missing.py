"""A string of modules on a battery or a consumer with no charge controller between."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.array.uncontrolled import RegulatedOn, StraightOn
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 706.32",
        "2023",
        "a charge controller is required, except where the array's current for an hour is less "
        "than 3 % of the battery's capacity and the array is matched to it (so in 690.72 of 2014)",
        verified=False,
    ),
    "common practice": practice(
        "a controller stands between modules and battery; only a module of a few watts may keep a "
        "large lead battery full without one"
    ),
}

MAINTAINS = 0.03
"""Share of a lead battery's capacity that the current of an hour may be, without a controller."""

MADE_FOR_MODULES = "; or write its `max_voltage`, if its maker lets modules drive it"

MORE = """\
datasheets:
  modules:
    porch-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V,
                regulated: true}
strings:
  porch-string: {module: porch-100, mounting: roof-gap}
fuses:
  porch-fuse: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  porch-run: {from: porch-string, to: house, cable: pv-10, length: 4 m, place: [roof, cabin],
              inline: [{porch-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="charge-controller-missing",
    summary="Modules on a battery or a consumer with no charge controller between.",
    covers=("Modules straight on a battery",),
    level="error",
    hazard="fire",
    part="controller",
    basis=BASIS,
    explanation="A module is a source of current that knows nothing of the battery: it goes on "
    "charging a full one. Lead boils dry and gives off gas that explodes; lithium is pushed over "
    "its highest voltage until its management opens, and then the whole open-circuit voltage of "
    "the array is on everything else on that wire. At night the battery flows back through the "
    "modules.",
    caution=warning(
        "A battery that is charged without end gives off explosive gas, and can burst or burn."
    ),
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit(",\n                regulated: true}", "}"),
)
def charge_controller_missing(study: Study) -> Iterator[Observation]:
    for each in study.array.straight_on:
        if each.stands is not None and not exceeds(each.volts, each.stands):
            continue
        bank = each.bank
        if bank is not None and exceeds(bank.nominal, each.volts):
            yield _too_weak(each, bank)
            continue
        hourly = (each.current * _hour()).named("Qhour", "charge in an hour of sun", "C")
        keeps = bank is not None and bank.is_lead and not exceeds(hourly, _share(each))
        most = f" where it stands {each.stands}" if each.stands is not None else ""
        cold = f"shows it up to {each.volts} once it lets go of its current{most}"
        full = f"charges it with up to {each.current}, full or not" if bank is not None else cold
        fed = f"`{each.fed.name}`"
        yield Observation(
            message=f"`{each.string.name}` feeds {fed} with no charge controller between, and "
            + ("keeps it full with so little that it may" if keeps else full),
            on=(each.string, each.fed),
            values=(each.current, each.volts),
            remedy=f"lead `{each.string.name}` to the solar input of a controller, and its output "
            f"to {fed} through a fuse at the battery"
            if bank is not None
            else f"lead `{each.string.name}` to the solar input of a controller, and {fed} to a "
            f"battery that it charges{MADE_FOR_MODULES if each.stands is None else ''}",
            level="note" if keeps else None,
            hazard=None if bank is not None else "damage",
        )
    for regulated in study.array.regulated_on:
        nominal = regulated.banks[0].nominal
        if regulated.in_series > 1 and exceeds(regulated.alone, nominal):
            yield _regulators_in_series(regulated)
        elif exceeds(nominal, regulated.together):
            yield _under_its_battery(regulated)


def _regulators_in_series(each: RegulatedOn) -> Observation:
    """Modules in series, of which each would hold a battery of such a voltage full by itself."""
    bank, string = each.banks[0], each.string
    return Observation(
        message=f"the {each.in_series} modules in series of `{string.name}` each have a regulator "
        f"for a battery of their own: together they charge `{bank.name}` past the voltage at which "
        "each of them would stop, and none of them measures it",
        on=(string, bank),
        values=(each.together, each.alone, bank.nominal),
        remedy="join them in parallel, positives to positives; or take modules without a "
        "regulator, and lead them to the solar input of a controller",
    )


def _under_its_battery(each: RegulatedOn) -> Observation:
    bank, string = each.banks[0], each.string
    return Observation(
        message=f"`{string.name}` gives no more than {each.together} at its best, and the "
        f"regulator on it, which lowers voltage and does not raise it, charges nothing of "
        f"{bank.nominal} with that",
        on=(string, bank),
        values=(each.together, bank.nominal),
        margin=margin_below(bank.nominal, each.together),
        remedy=f"take modules whose regulator is made for {bank.nominal}; or modules without one, "
        "in series, on the solar input of a controller",
        level="warning",
        hazard="lost-energy",
    )


def _too_weak(each: StraightOn, bank: BankStudy) -> Observation:
    """A string that the battery is always above, and drives current through."""
    string, fed = f"`{each.string.name}`", f"`{each.fed.name}`"
    blocked = each.string.blocking_diode is not None
    back = f", and no diode is told that keeps {fed} from driving its current back through it"
    return Observation(
        message=f"{string} shows {fed} no more than {each.volts} on the coldest morning, and "
        f"charges nothing of {bank.nominal}{'' if blocked else back}",
        on=(each.string, each.fed),
        values=(each.volts, bank.nominal),
        remedy=f"take {string} away; or put more modules in series, on the solar input of a "
        "controller",
        level="warning" if blocked else None,
        hazard="lost-energy" if blocked else None,
    )


def _share(each: StraightOn) -> Value:
    """The charge that a lead battery stands in an hour without end (C)."""
    assert each.capacity is not None
    words = "share of the capacity that the current of an hour may be"
    share = tabled(MAINTAINS, "", "k", words, "NEC 690.72(B)(1) of 2014, from memory")
    return (share * each.capacity).named("Qmost", "charge that it stands in an hour", "C")


def _hour() -> Value:
    return tabled(3600.0, "s", "hour", "an hour", "definition")
