"""A photograph without what the camera wrote beside it: where it was taken, on what day, with which camera."""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterator

# JPEG: markers of ITU-T T.81, table B.1. PNG: chunks of ISO/IEC 15948, and eXIf of its third edition.
PNG_START = b"\x89PNG\r\n\x1a\n"
JPEG_START, END_OF_IMAGE, START_OF_SCAN, COMMENT = b"\xff\xd8", 0xD9, 0xDA, 0xFE
EXIF_SEGMENT, APPLICATION, EXTENSIONS = 0xE1, range(0xE0, 0xF0), range(0xF0, 0xFE)
ALONE = {0x01, *range(0xD0, 0xD8)}
FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
EXIF = b"Exif\x00\x00"
# A marker within the lines of a picture: neither a stuffed byte nor a restart.
AFTER_LINES = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]", re.DOTALL)
DRAWN = {b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"cICP", b"sBIT", b"pHYs"}
UPRIGHT, ORIENTATION, SHORT = 1, 0x0112, 3


def bare_picture(content: bytes) -> bytes | None:
    """The same picture with its colours and the way up, and nothing else; None when it is no whole JPEG or PNG.

    The lines of the picture are copied as they are: nothing is drawn anew, so that nothing of a crack gets lost.
    """
    try:
        if content.startswith(PNG_START):
            return _bare_png(list(_chunks(content)))
        if content.startswith(JPEG_START):
            return _bare_jpeg(list(_segments(content)))
    except (struct.error, IndexError):
        return None
    return None


def _segments(content: bytes) -> Iterator[tuple[int, bytes, bytes]]:
    """The segments of a JPEG to its end: marker, what it holds, and the lines that follow a scan."""
    at = len(JPEG_START)
    while True:
        if content[at] != 0xFF:
            return
        while content[at] == 0xFF:
            at += 1
        marker, at = content[at], at + 1
        if marker == END_OF_IMAGE:
            yield marker, b"", b""
            return
        if marker in ALONE:
            continue
        (length,) = struct.unpack_from(">H", content, at)
        held, at = content[at + 2 : at + length], at + length
        lines = b""
        if marker == START_OF_SCAN:
            after = AFTER_LINES.search(content, at)
            if after is None:
                return
            lines, at = content[at : after.start()], after.start()
        yield marker, held, lines


def _bare_jpeg(segments: list[tuple[int, bytes, bytes]]) -> bytes | None:
    found = {marker for marker, _, _ in segments}
    if not {START_OF_SCAN, END_OF_IMAGE} <= found or not FRAMES & found:
        return None
    exif = (held[len(EXIF) :] for marker, held, _ in segments if marker == EXIF_SEGMENT and held.startswith(EXIF))
    way_up = orientation(next(exif, b""))
    kept = [] if way_up == UPRIGHT else [(EXIF_SEGMENT, EXIF + _exif_of(way_up), b"")]
    for marker, held, lines in segments:
        drawn = _drawn(marker, held)
        if drawn is not None:
            kept.append((marker, drawn, lines))
    return JPEG_START + b"".join(_segment(marker, held, lines) for marker, held, lines in kept)


def _drawn(marker: int, held: bytes) -> bytes | None:
    """What of a segment draws the picture: tables, frames and scans whole, and of the rest only what gives colours."""
    if marker == 0xE0:
        # The picture in small may show what was cut away since.
        return held[:12] + b"\x00\x00" if held.startswith(b"JFIF\x00") and len(held) >= 14 else None
    if marker == 0xE2:
        return held if held.startswith(b"ICC_PROFILE\x00") else None
    if marker == 0xEE:
        return held if held.startswith(b"Adobe") else None
    return None if marker in APPLICATION or marker in EXTENSIONS or marker == COMMENT else held


def _segment(marker: int, held: bytes, lines: bytes) -> bytes:
    if marker == END_OF_IMAGE:
        return b"\xff\xd9"
    return struct.pack(">BBH", 0xFF, marker, len(held) + 2) + held + lines


def _chunks(content: bytes) -> Iterator[tuple[bytes, bytes, bytes]]:
    """The chunks of a PNG to its end: name, what it holds, and the whole of it."""
    at, name = len(PNG_START), b""
    while name != b"IEND":
        length, name = struct.unpack_from(">I4s", content, at)
        end = at + 12 + length
        if end > len(content):
            return
        yield name, content[at + 8 : end - 4], content[at:end]
        at = end


def _bare_png(chunks: list[tuple[bytes, bytes, bytes]]) -> bytes | None:
    names = [name for name, _, _ in chunks]
    if names[0] != b"IHDR" or names[-1] != b"IEND" or b"IDAT" not in names:
        return None
    way_up = orientation(next((held for name, held, _ in chunks if name == b"eXIf"), b""))
    kept = [whole for name, _, whole in chunks if name in DRAWN]
    if way_up != UPRIGHT:
        kept.insert(1, _chunk(b"eXIf", _exif_of(way_up)))
    return PNG_START + b"".join(kept)


def _chunk(name: bytes, held: bytes) -> bytes:
    return struct.pack(">I", len(held)) + name + held + struct.pack(">I", zlib.crc32(name + held))


def orientation(exif: bytes) -> int:
    """The way up that an Exif block states, 1 to 8 as in CIPA DC-008; upright when it states none."""
    order = {b"II": "<", b"MM": ">"}.get(exif[:2])
    if order is None or len(exif) < 8:
        return UPRIGHT
    (at,) = struct.unpack_from(order + "I", exif, 4)
    if at + 2 > len(exif):
        return UPRIGHT
    (count,) = struct.unpack_from(order + "H", exif, at)
    for n in range(count):
        entry = exif[at + 2 + 12 * n : at + 14 + 12 * n]
        if len(entry) < 12:
            break
        tag, sort, _, value = struct.unpack(order + "HHIH", entry[:10])
        if (tag, sort) == (ORIENTATION, SHORT) and value in range(1, 9):
            return int(value)
    return UPRIGHT


def _exif_of(way_up: int) -> bytes:
    """An Exif block that states the way up and nothing else."""
    return struct.pack(">2sHIHHHIHHI", b"MM", 42, 8, 1, ORIENTATION, SHORT, 1, way_up, 0, 0)
