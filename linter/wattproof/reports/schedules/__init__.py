"""Schedules of conductors, devices, parts and labels, in each format."""
