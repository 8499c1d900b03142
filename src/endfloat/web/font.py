"""The one font, served from its installed package."""

from __future__ import annotations

from importlib.metadata import files
from pathlib import Path

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles

FONT_PACKAGE = "fontpkg-atkinson-hyperlegible"


def font_folder() -> Path:
    """The folder of the font's files."""
    found = next(file for file in files(FONT_PACKAGE) or [] if file.suffix == ".ttf")
    return Path(str(found.locate())).parent


def serve_font(app: FastAPI) -> None:
    """Its files under /font."""
    app.mount("/font", StaticFiles(directory=font_folder()), name="font")
