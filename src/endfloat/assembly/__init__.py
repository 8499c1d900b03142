"""Putting together: the build order, checked, found or shown impossible, and joints as they are tightened."""
