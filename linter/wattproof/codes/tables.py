"""The data files: read once, when first asked for."""

import csv
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple


class Table(NamedTuple):
    """One published table.

    ``source`` names it, ``basis`` says for what it holds; each row maps column names to the text
    of its cells, and its ``verified`` cell says ``yes`` or ``memory``.
    """

    source: str
    edition: str
    basis: str
    rows: tuple[Mapping[str, str], ...]


@cache
def table(name: str) -> Table:
    """The table in ``data/tables/<name>.csv``.

    The file starts with ``# key: value`` lines (source, edition, basis, verified).
    """
    text = files(__package__).joinpath("data", "tables", f"{name}.csv").read_text("utf-8")
    lines = text.splitlines()
    head = dict(line[2:].split(": ", 1) for line in lines if line.startswith("# "))
    rows = tuple(csv.DictReader(line for line in lines if not line.startswith("#")))
    return Table(head["source"], head["edition"], head["basis"], rows)


@cache
def document(name: str) -> Mapping[str, Any]:
    """The body of rules in ``data/<name>.toml``."""
    text = files(__package__).joinpath("data", f"{name}.toml").read_text("utf-8")
    return tomllib.loads(text)


@cache
def documents() -> tuple[str, ...]:
    """Names of all bodies of rules in ``data``, sorted; none of them is read."""
    names = (entry.name for entry in files(__package__).joinpath("data").iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in names if name.endswith(".toml")))


@cache
def tables() -> frozenset[str]:
    """Names of all tables; none of them is read."""
    names = (entry.name for entry in files(__package__).joinpath("data", "tables").iterdir())
    return frozenset(n.removesuffix(".csv") for n in names if n.endswith(".csv"))


def is_verified(row: Mapping[str, str]) -> bool:
    """Whether a row's figure was seen in a published copy (else it is from memory)."""
    return row["verified"] == "yes"
