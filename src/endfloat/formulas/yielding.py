"""Torque, then angle, past the yield of the bolt."""
