"""Voltages read at batteries that conductors join, in parallel or in series, or are about to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from wattproof.plan.splitting import Selector
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import JoinedBanks
from wattproof.study.readings.of_charging import ChargeReading
from wattproof.working import Value


@record
class PacksRead:
    """Two batteries that were read together, the higher one first.

    apart: by how much they differ (V). in_series: they are so, and of one voltage; else they are
    in parallel.
    """

    high: BankStudy
    low: BankStudy
    readings: tuple[ChargeReading, ChargeReading]
    apart: Value
    in_series: bool


def packs_read(
    readings: Iterable[ChargeReading], joined: Iterable[JoinedBanks]
) -> Iterator[PacksRead]:
    """Every two such batteries, by readings that were taken together or tell nothing of it."""
    pairs = {
        frozenset((pair.first.name, pair.second.name)): pair
        for pair in joined
        if (_of_one_voltage(pair) if pair.in_series else pair.switch is None or _are_alike(pair))
    }
    at_posts = [r for r in readings if r.posts is not None and r.bank is not None]
    for one, other in combinations(at_posts, 2):
        assert one.bank is not None
        assert other.bank is not None
        pair = pairs.get(frozenset((one.bank.name, other.bank.name)))
        if pair is None or one.reading.taken != other.reading.taken:
            continue
        first, second = sorted((one, other), key=lambda r: -r.posts.number if r.posts else 0.0)
        assert first.posts is not None
        assert second.posts is not None
        assert first.bank is not None
        assert second.bank is not None
        words = f"difference between {first.bank.name} and {second.bank.name}"
        apart = (first.posts - second.posts).named("ΔU", words, "V")
        yield PacksRead(first.bank, second.bank, (first, second), apart, pair.in_series)


def _of_one_voltage(pair: JoinedBanks) -> bool:
    return pair.first.nominal.number == pair.second.nominal.number


def _are_alike(pair: JoinedBanks) -> bool:
    """True for packs of one kind that a switch of theirs joins, and no relay by voltage."""
    switch = pair.switch
    if switch is None or isinstance(switch, Selector) or switch.closes_above is not None:
        return False
    one, other = pair.first, pair.second
    same_kind = one.battery.chemistry == other.battery.chemistry
    return same_kind and one.capacity.number == other.capacity.number
