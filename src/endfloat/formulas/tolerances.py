"""ISO 286 limits and fits from its tables."""
