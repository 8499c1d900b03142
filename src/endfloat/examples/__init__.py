"""Invented engines, shipped with the program."""
