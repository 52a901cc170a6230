"""Only the tables that were asked for are read."""

import subprocess
import sys
from pathlib import Path

import wattproof.codes.tables as tables
from wattproof.codes import known

DATA = Path(tables.__file__).parent / "data"

PROGRAM = """
from wattproof.codes import Surroundings, body
from wattproof.codes import tables
read = []
whole = tables.Table
def noted(source, edition, basis, rows):
    read.append(source)
    return whole(source, edition, basis, rows)
tables.Table = noted
from wattproof.physics.conductors import conductor_of_gauge
assert not read
rules = body("abyc-e11")
rules.irradiance_factor, rules.drop_limit("array")
assert not read
rules.ampacity(conductor_of_gauge("10"), 105, Surroundings(45))
print("; ".join(read))
"""


def test_a_boat_s_ampacity_reads_one_table() -> None:
    path = str(Path(tables.__file__).parents[2])
    run = subprocess.run(
        [sys.executable, "-c", PROGRAM], capture_output=True, text=True, env={"PYTHONPATH": path}
    )
    assert run.returncode == 0, run.stderr
    assert run.stdout.strip() == "33 CFR 183.425 Table 5 (ABYC E-11 agrees below 50 V)"


def test_every_table_says_where_it_is_from() -> None:
    for path in sorted((DATA / "tables").glob("*.csv")):
        table = tables.table(path.stem)
        assert table.source
        assert table.edition
        assert table.basis
        assert table.rows
        for row in table.rows:
            assert row["verified"] in ("yes", "memory"), f"{path.name}: {row}"
            assert None not in row


def test_every_table_is_used() -> None:
    """A data file that nothing names would be a figure that nobody checks."""
    named = "\n".join(
        path.read_text("utf-8") for path in (*DATA.glob("*.toml"), *DATA.parent.glob("*.py"))
    )
    for path in (DATA / "tables").glob("*.csv"):
        assert f'"{path.stem}"' in named


def test_bodies_are_the_toml_files() -> None:
    assert set(known()) == {path.stem for path in DATA.glob("*.toml")}
