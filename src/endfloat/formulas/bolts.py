"""Strength and stiffness of bolts and of what they clamp."""
