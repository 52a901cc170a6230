"""wattproof schema: the JSON Schema of a plan or of a settings file."""

from __future__ import annotations

from typing import Annotated

import typer

from wattproof.cli.choices import SchemaSubject


def schema(
    of: Annotated[
        SchemaSubject, typer.Option(help="The kind of file that the schema is of.")
    ] = SchemaSubject.plan,
) -> None:
    """Print the JSON Schema of a plan or of a settings file, for editors and other programs.

    Exit status: 0, or 2 where the call is unusable.
    """
    from wattproof.cli.output import write_document
    from wattproof.plan.schema import plan_schema, schema_text

    if of is SchemaSubject.settings:
        from wattproof.settings.schema import settings_schema

        write_document(schema_text(settings_schema()))
        return
    write_document(schema_text(plan_schema()))
