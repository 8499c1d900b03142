"""The build order: checking one, finding the best, proving that none exists, and what may be done now."""
