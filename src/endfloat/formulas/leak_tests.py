"""Leak-down, compression, blow-by and liquid in a cylinder."""
