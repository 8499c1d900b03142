"""Chains, belts and gears that drive the cams."""
