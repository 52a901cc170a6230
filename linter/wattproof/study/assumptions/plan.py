"""The plan as a whole: what it is held against, and what is no part of it."""

from __future__ import annotations

from wattproof.study.assumptions.rows import Silence

NO_CODE = Silence(
    key="body of rules",
    says="The plan names no body of rules; {title} ({edition}) is used. Ask which one holds where "
    "it will be used.",
    instead="code: {id}",
)
OTHER_CODE = Silence(
    key="body of rules",
    says="The plan names no body of rules; by {title} it would be no fault.",
    instead="code, with the body of rules that holds where it will be used",
)
TWO_CODES = Silence(
    key="two bodies of rules",
    says="The array, its wires, joints and devices up to the controllers, is read by {array}; what "
    "hangs on the batteries, from the controllers on, by {battery}.",
    instead="one body of rules under `code`, where one holds for both",
)
NO_MAINS_SIDE = Silence(
    key="alternating current",
    says="The mains side of {names} is no part of the plan and is not checked: its "
    "residual-current device, the bond of its neutral, which must not exist twice, and the lock "
    "that keeps an inverter from feeding back into shore power.",
    instead="a licensed electrician, who plans and tests it; no key tells it",
)
