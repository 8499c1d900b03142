"""Valve lash and the choice of shims."""
