"""Lift curves, events and phase of cams."""
