"""The plan that is checked under every body of rules, and what each finds in it.

Each row is a finding, by its rule and what it speaks of first, with its level under each body in
turn, empty where the body has none. The figures beside them were worked by hand.
"""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parents[2]
CAMPER = (ROOT / "docs" / "bodies" / "camper.yaml").read_text(encoding="utf-8")
BODIES = ("abyc-e11", "as-nzs-3001", "iec", "iso-13297", "nec-2023")

EXPECTED: dict[tuple[str, str], tuple[str, str, str, str, str]] = {
    # 0.3 m open before the device: 0.178, 0.2, 0.2 and 0.2 m are allowed, and 0.46 m.
    ("battery-fuse-missing", "bank-run"): ("error", "error", "error", "error", ""),
    # Lithium where people sleep.
    ("battery-place-unsafe", "house"): ("", "warning", "", "", ""),
    # 120 A and more in a vehicle, and no switch.
    ("battery-switch-missing", "house"): ("note", "note", "note", "note", "note"),
    # 4 mm²: one size below 2 × 35 mm², and 8 AWG; the others state none, and five times the fuse of
    # 150 A for a second ask for 750 / 143 = 5.2 mm².
    ("bond-too-small", "chassis-bond"): ("warning", "warning", "warning", "warning", "warning"),
    # 4 A through the chassis: forbidden outright, or at most 30 A in a vehicle; what E-11 says of
    # hulls does not reach the body of a vehicle.
    ("chassis-as-return", "lamp-negative"): ("", "", "", "error", ""),
    # 1.25 × 135.3 A against 110 A, and 1.25 × 35 A against 40 A: only there is a factor. On
    # terminals marked for 75 °C the second may carry 50 A.
    ("conductor-too-small", "bank-run"): ("", "", "", "", "error"),
    ("conductor-too-small", "heater-run"): ("", "", "", "", "warning"),
    # 150 A over 245, 198, 198, 270 and 110 A; the next size above 130 A on terminals for 75 °C.
    ("fuse-over-conductor", "bank-run"): ("", "", "", "", "warning"),
    # 50 A over 80, 75, 75, 90 and 40 A; 50 A on terminals for 75 °C.
    ("fuse-over-conductor", "charge-run"): ("", "", "", "", "warning"),
    # 80 A over 80 A, over 75 A twice, over 90 A, over 40 A.
    ("fuse-over-conductor", "heater-run"): ("", "error", "error", "", "error"),
    # 50 A over 45 A: the next size within 150 %, which no other body allows, nor 45 A there.
    ("fuse-over-conductor", "lamp-positive"): ("", "error", "error", "error", "error"),
    # 135.3 A in a device of 150 A: 1.25 × 135.3 A is asked for by one.
    ("fuse-under-load", "main-fuse"): ("", "", "", "", "warning"),
    # 4.9 A on the label of 3.2 A: above 1.5, below 1.5625 times it.
    ("module-fuse-label-low", "rear-string"): ("", "", "", "", "note"),
    # 2 × 35 mm²: 1/0 AWG as advice, 4 mm², not named, 1/0 AWG as advice, 1/0 AWG.
    ("paralleled-small-wires", "inverter-run"): ("note", "", "", "note", "warning"),
    # Two others give 10.4 A, or 13 A with the allowance; the modules stand 12 A.
    ("string-fuse-missing", "front-string"): ("error", "", "", "error", "error"),
    # 3.96 % to what matters: 3 % is usual, 5 % for extra-low voltage in one, 6 % from a supply of
    # one's own in another; on boats it is 2.5 and 2.29 % by the bodies' own formulas.
    ("voltage-drop-high", "cooler-run"): ("", "", "", "", "warning"),
    # 6.1 % to a pump: 5 %, on boats 10 %, from a supply of one's own 8 %.
    ("voltage-drop-high", "pump-run"): ("", "note", "", "", "note"),
    ("welding-cable-fixed", "inverter-run"): ("note", "note", "note", "warning", "note"),
}
