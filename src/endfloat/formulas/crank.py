"""Crank and piston: position, speed, acceleration, dead centres, firing order."""
