"""The graph of imports has no circle: late imports and those for types alone count as well."""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SOURCES = (ROOT / "linter", ROOT / "rules")


def modules() -> dict[str, Path]:
    """Every module of ours by its dotted name."""
    found = {}
    for source in SOURCES:
        for path in source.rglob("*.py"):
            parts = path.relative_to(source).with_suffix("").parts
            found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imported(path: Path, known: dict[str, Path]) -> Iterator[str]:
    """The modules that a file imports anywhere in it, by the name that it imports them under."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name in known)
        elif isinstance(node, ast.ImportFrom) and node.module in known:
            inner = [f"{node.module}.{alias.name}" for alias in node.names]
            yield from (name for name in inner if name in known)
            if any(name not in known for name in inner):
                yield node.module


def circles(graph: dict[str, set[str]]) -> list[list[str]]:
    """Groups of modules each of which leads to all others of its group (Tarjan 1972)."""
    order: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    found: list[list[str]] = []

    def visit(name: str) -> None:
        order[name] = low[name] = len(order)
        stack.append(name)
        for other in sorted(graph[name]):
            if other not in order:
                visit(other)
                low[name] = min(low[name], low[other])
            elif other in stack:
                low[name] = min(low[name], order[other])
        if low[name] == order[name]:
            at = stack.index(name)
            group = stack[at:]
            del stack[at:]
            if len(group) > 1 or name in graph[name]:
                found.append(sorted(group))

    for name in sorted(graph):
        if name not in order:
            visit(name)
    return found


def test_no_module_leads_back_to_itself() -> None:
    known = modules()
    graph = {name: set(imported(path, known)) - {name} for name, path in known.items()}
    assert circles(graph) == []


def test_a_circle_is_seen() -> None:
    assert circles({"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"a"}}) == [["a", "b", "c"]]


def test_only_the_index_of_the_study_is_above_its_sections() -> None:
    known = modules()
    sections = [n for n in known if n.startswith("wattproof.study.")]
    assert {n for n in sections if "wattproof.study" in imported(known[n], known)} == set()
