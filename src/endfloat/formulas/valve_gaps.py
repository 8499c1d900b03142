"""Gaps from valve to piston and from valve to valve over the whole cycle."""
