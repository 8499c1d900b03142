"""Kinds, typed text, shown text and estimates."""
