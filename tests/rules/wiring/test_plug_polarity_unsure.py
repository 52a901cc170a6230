"""Adapters between plugs, each of which may swap the poles."""

from __future__ import annotations

from plans import edited
from rule_runs import faulty, found

ADAPTERS = "plug-polarity-unsure"


def test_each_adapter_counts() -> None:
    [finding] = found(faulty(ADAPTERS), ADAPTERS)
    assert finding.message == (
        "`home-run` has an adapter in it, which may swap the poles of up to 82 V"
    )
    [finding] = found(edited(("adapters: 1", "adapters: 2"), plan=faulty(ADAPTERS)), ADAPTERS)
    assert "has 2 adapters in it, each of which may swap" in finding.message
    assert str(finding.values[0]) == "2"
