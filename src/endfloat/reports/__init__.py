"""Papers that leave the bench."""
