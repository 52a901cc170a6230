"""How long the page in a browser takes: to start, to answer first, to answer again, to change.

    PYTHONPATH=tests python tests/benchmarks/in_browser.py

Each start is a fresh browser, so that nothing is warm; the smallest of several tells most, since
other programs disturb it least, and the middle one what to expect. Aims: a first answer (from
opening an address that holds a plan to its verdict on the page) under 6 s, later ones under 1 s,
memory of program and page under 400 MB after fifty checks.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from functools import partial

from browser.built import built
from browser.desk import Desk, desk_in, example, packed
from reports.browser import chromium

STARTS = 5
AGAIN = 10
PLANS = ("examples/van-six-modules.yaml", "examples/faulty/van-cold-morning.yaml")


def seconds(act: Callable[[], object]) -> float:
    """How long something takes."""
    before = time.perf_counter()
    act()
    return time.perf_counter() - before


def first_answer(address: str) -> float:
    """To the verdict on the plan of an address, in a browser that was not there before."""
    with chromium() as browser:
        page = browser.new_page()

        def opened() -> None:
            page.goto(address, wait_until="commit")
            page.wait_for_selector("html[data-checked]", state="attached")

        return seconds(opened)


def check(desk: Desk, plan: str, number: int) -> None:
    """One check of a text that was not checked before."""
    files = example(plan)
    files[plan] = f"# {number}\n{files[plan]}"
    desk.call("check", files, plan)


def measure(desk: Desk, plan: str) -> None:
    """Print how long the calls of one plan take."""
    check(desk, plan, -1)  # behind the one that the page itself begins with
    again = sorted(seconds(partial(check, desk, plan, number)) for number in range(AGAIN))
    print(f"again            {again[0]:5.2f} to {again[-1]:.2f} s   aim 1   {plan}")
    files = example(plan)
    for name, arguments in (("page", ["bench"]), ("layouts", []), ("mend", [[]])):
        took = seconds(partial(desk.call, name, files, plan, *arguments))
        print(f"{name:<16} {took:5.2f} s           {plan}")


def main() -> None:
    """Print each figure beside its aim."""
    address = (built() / "index.html").as_uri()
    plan = packed({"plan": PLANS[0], "files": example(PLANS[0])})
    starts = [first_answer(f"{address}#{plan}") for _ in range(STARTS)]
    middle = statistics.median(starts)
    print(f"first answer     {min(starts):5.2f} s, median {middle:.2f}   aim 6")
    with chromium() as browser, desk_in(browser, address) as desk:
        for plan in PLANS:
            measure(desk, plan)
        for number in range(50):
            check(desk, PLANS[0], 1000 + number)
        worker = desk.page.evaluate("wattproofPage.engine.bytes")
        page = desk.page.evaluate("performance.memory.usedJSHeapSize")
        print(f"memory           {(worker + page) / 1e6:5.0f} MB  aim 400")


if __name__ == "__main__":
    main()
