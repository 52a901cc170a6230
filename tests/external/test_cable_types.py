"""What the names printed on cables stand for, against public data of their makers.

H1Z2Z2-K and 62930 IEC 131: makers' data sheets to EN 50618 and IEC 62930 (1.5/1.5 kV DC between
conductors, 90 °C in lasting service, 120 °C for 20 000 h, copper of class 5).
THHN, THWN, THWN-2: guides to NEC table 310.4 (90 °C dry; 75 °C wet; 90 °C wet and dry).
SGT, SGX: scope of SAE J1127 (60 V DC) and guides to it (80 °C and 125 °C).
Trailers: a maker's guide to contact 10 of ISO 11446 (2.5 mm², a fuse of 20 A at the most).
"""

from __future__ import annotations

import pytest

from wattproof.codes.cable_types import cable_type
from wattproof.study.assumptions.cables import PLUG_RATING


@pytest.mark.parametrize(
    ("printed", "temperature", "voltage", "outdoor"),
    [
        ("H1Z2Z2-K", "90 °C", "1500 V", True),
        ("h1z2z2k", "90 °C", "1500 V", True),
        ("62930 IEC 131", "90 °C", "1500 V", True),
        ("THHN", "90 °C", "600 V", False),
        ("THWN", "75 °C", "600 V", None),
        ("THWN-2", "90 °C", "600 V", None),
        ("SGT", "80 °C", "60 V", False),
        ("SGX", "125 °C", "60 V", False),
    ],
)
def test_a_printed_name(printed: str, temperature: str, voltage: str, outdoor: bool | None) -> None:
    found = cable_type(printed)
    assert found is not None
    assert (found.insulation_temperature, found.voltage) == (temperature, voltage)
    assert found.outdoor is outdoor
    assert found.verified


def test_the_charge_line_of_thirteen_pins() -> None:
    assert PLUG_RATING.value["trailer-13"] == 20.0
