"""One file per command; heavy imports are lazy."""
