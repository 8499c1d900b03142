"""Torque to preload and back, scatter, and setting a wrench."""
