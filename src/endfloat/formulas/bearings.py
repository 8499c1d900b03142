"""The journal bearing in its oil film, and oil pressure against clearance."""
