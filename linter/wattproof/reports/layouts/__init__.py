"""Layouts of a plan, compared."""
