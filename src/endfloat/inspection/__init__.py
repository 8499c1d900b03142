"""Gauges, readings, estimates and the one judge."""
