"""One file per page, each with a function that adds its routes."""
