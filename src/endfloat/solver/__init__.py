"""Solvers that answer neutral rows; they know no engine."""
