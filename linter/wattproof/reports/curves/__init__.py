"""Curves of arrays as text, table and picture."""
