"""wattproof schema: the JSON Schema of a plan."""

from __future__ import annotations


def schema() -> None:
    """Print the JSON Schema of a plan, for editors and other programs."""
    from wattproof.cli.output import write_document
    from wattproof.plan.schema import schema_text

    write_document(schema_text())
