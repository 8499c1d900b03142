"""Thread geometry, metric and inch."""
