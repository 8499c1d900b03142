"""Photographs as files in one folder, each named by its fingerprint."""

from __future__ import annotations

import os
from pathlib import Path
from tempfile import NamedTemporaryFile

from endfloat.errors import OutsideError


class PhotosFolder:
    """A folder that is made with the first photograph. A file stands under its name whole or not at all."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def keep(self, name: str, content: bytes) -> None:
        """Keep one under its name, on disk when this returns."""
        try:
            self._path.mkdir(exist_ok=True)
            with NamedTemporaryFile(dir=self._path, delete=False) as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            Path(file.name).replace(self._path / name)
        except OSError as error:
            raise OutsideError(f"Cannot keep a photograph in {self._path}: {error.strerror}.") from error

    def read(self, name: str) -> bytes | None:
        """The one of that name; None when there is none."""
        path = self._path / name
        try:
            return path.read_bytes() if path.exists() else None
        except OSError as error:
            raise OutsideError(f"Cannot read {path}: {error.strerror}.") from error
