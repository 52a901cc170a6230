"""The JSON Schema of a settings file, built from its models.

It names no rules, since which there are depends on what is installed.
"""

from __future__ import annotations

from typing import Any

from wattproof.plan.schema import document_schema
from wattproof.settings.file import KIND, SettingsFile


def settings_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) of a settings file, the same at every call."""
    off = {"properties": {"off": {"enum": [True, "true"]}}, "required": ["off"]}
    together = {"RuleSettings": {"if": off, "then": {"required": ["reason"]}}}
    return document_schema(SettingsFile, KIND, "Wattproof settings", together)
