"""The jobs of a bench: one folder a job, its record and the description it was opened on."""

from __future__ import annotations

import re
from pathlib import Path

from endfloat.errors import OutsideError
from endfloat.store.photos_folder import PhotosFolder
from endfloat.store.sqlite import SqliteStore

RECORD = "job.sqlite"
PHOTOS = "photos"


class JobsFolder:
    """A folder of jobs. A key is a folder's name: small letters, digits and hyphens."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def names(self) -> list[str]:
        """The jobs that are there, by name."""
        if not self._path.is_dir():
            return []
        return sorted(each.parent.name for each in self._path.glob(f"*/{RECORD}"))

    def store(self, key: str) -> SqliteStore:
        """The record of a job; nothing is made before its first entry."""
        return SqliteStore(self._path / key / RECORD)

    def photos(self, key: str) -> PhotosFolder:
        """The photographs of a job, in a folder beside its record."""
        return PhotosFolder(self._path / key / PHOTOS)

    def keep(self, key: str, name: str, text: str) -> None:
        """Keep a file of a job beside its record, for a person to go on with."""
        try:
            (self._path / key / name).write_text(text, encoding="utf-8")
        except OSError as error:
            raise OutsideError(f"Cannot write {name} of {key}: {error.strerror}.") from error

    def read(self, key: str, name: str) -> bytes | None:
        """A file of a job; None when there is none."""
        path = self._path / key / name
        try:
            return path.read_bytes() if path.exists() else None
        except OSError as error:
            raise OutsideError(f"Cannot read {path}: {error.strerror}.") from error

    def where(self, key: str) -> str:
        """The folder of a job in words."""
        return str(self._path / key)


def key_of(name: str) -> str:
    """A key from an engine's name: "My pump 4" becomes "my-pump-4"."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "engine"
