"""Keep a photograph of a place beside the record and bind it there by its fingerprint."""

from __future__ import annotations

import hashlib

from endfloat.job.state import refusal
from endfloat.job.strip_events import PhotoBound
from endfloat.job.strip_rules import LARGEST_PHOTO
from endfloat.problems import Problem
from endfloat.workshop.bare_picture import bare_picture
from endfloat.workshop.ports import Clock, Photos, Store
from endfloat.workshop.record import load
from endfloat.workshop.strip import record

# Signatures: JPEG by ITU-T T.81 (start of image, then a marker), PNG by ISO/IEC 15948.
SIGNATURES = {b"\xff\xd8\xff": "image/jpeg", b"\x89PNG\r\n\x1a\n": "image/png"}
ENDINGS = {"image/jpeg": "jpg", "image/png": "png"}


def media_of(content: bytes) -> str:
    """What a picture is by its first bytes; blank when it is neither JPEG nor PNG."""
    return next((media for start, media in SIGNATURES.items() if content.startswith(start)), "")


def photo_name(sha256: str, media: str) -> str:
    """The name of a photograph's file."""
    return f"{sha256}.{ENDINGS[media]}"


def bind_photo(
    store: Store, clock: Clock, photos: Photos | None, *, key: str, removal: str, content: bytes, by: str
) -> Problem | None:
    """Keep the picture, then record it: an entry never names a picture that is not on disk.

    What the rules refuse is not kept, nor what the camera wrote beside the picture.
    """
    remedy = "Choose one that the camera made, or type a reason why there is none."
    expected = f"a JPEG or PNG picture of at most {LARGEST_PHOTO // 1_000_000} MB"
    if photos is None:
        return Problem("no_photos", removal, "nowhere to keep pictures", "a folder of jobs", "Type a reason instead.")
    if not content:
        return Problem("no_photo", removal, "no picture chosen", expected, remedy)
    if len(content) > LARGEST_PHOTO:
        return Problem("photo_too_large", removal, f"{len(content):,} bytes", expected, remedy)
    media, bare = media_of(content), bare_picture(content)
    if not media or bare is None:
        return Problem("not_a_photo", removal, "another sort of file", expected, remedy)
    sha256 = hashlib.sha256(bare).hexdigest()
    event = PhotoBound(key, removal, sha256, media, len(bare), by, "")
    state = load(store)[0]
    refused = refusal(state, event)
    if refused and key not in {each.key for each in state.strip}:
        return refused
    photos.keep(photo_name(sha256, media), bare)
    return record(store, clock, event)


def bound_photo(photos: Photos | None, event: PhotoBound) -> bytes | None:
    """The picture of an entry, when it is there and still is the one that was bound."""
    content = photos.read(photo_name(event.sha256, event.media)) if photos else None
    return content if content is not None and hashlib.sha256(content).hexdigest() == event.sha256 else None
