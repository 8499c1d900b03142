"""Plain values to SVG text, for page and paper alike."""
