"""Viscosity of oils."""
