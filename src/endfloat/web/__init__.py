"""Server-rendered pages; every form works without a script."""
