"""A photograph is kept without what the camera wrote beside it: the same picture the same way up, no place."""

import io
import struct

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageOps, PngImagePlugin

from cast import V8
from endfloat.store.memory import MemoryPhotos, MemoryStore
from endfloat.workshop.bare_picture import bare_picture, orientation
from endfloat.workshop.bind_photo import bind_photo, bound_photo
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load
from endfloat.workshop.strip import strip_of

GPS, GPS_LATITUDE, GPS_LATITUDE_REF, MAKE, SERIAL, WAY_UP = 0x8825, 2, 1, 0x010F, 0xA431, 0x0112
COLOURS = b"a profile of colours"


def drawn() -> Image.Image:
    """A picture that looks different each way up."""
    picture = Image.new("RGB", (40, 24))
    for x in range(40):
        for y in range(24):
            picture.putpixel((x, y), (6 * x, 10 * y, 200 if x < 9 and y < 7 else 0))
    return picture


def exif(way_up: int = 6) -> Image.Exif:
    """What a telephone writes: where it stood, who made it, its number, the way up."""
    written = Image.Exif()
    written[MAKE], written[SERIAL], written[WAY_UP] = "Testmaker", "SERIAL-4711", way_up
    written.get_ifd(GPS).update({GPS_LATITUDE_REF: "N", GPS_LATITUDE: (47.0, 22.0, 11.5)})
    return written


def jpeg(way_up: int = 6, **more: object) -> bytes:
    """A JPEG as a telephone sends it, its notes in every place that they can stand."""
    file = io.BytesIO()
    drawn().save(file, "JPEG", exif=exif(way_up), comment=b"SECRET comment", icc_profile=COLOURS, **more)
    xmp = b"http://ns.adobe.com/xap/1.0/\x00<x>SECRET place</x>"
    second = b"Photoshop 3.0\x00SECRET words"
    added = b"".join(struct.pack(">BBH", 0xFF, m, len(d) + 2) + d for m, d in ((0xE1, xmp), (0xED, second)))
    raw = file.getvalue()
    return raw[:2] + added + raw[2:] + b"\xff\xd8SECRET second picture behind the first"


def png(way_up: int = 6) -> bytes:
    file, words = io.BytesIO(), PngImagePlugin.PngInfo()
    words.add_text("Author", "SECRET name")
    words.add_itxt("XML:com.adobe.xmp", "SECRET place")
    words.add_text("Comment", "SECRET words", zip=True)
    drawn().save(file, "PNG", exif=exif(way_up), pnginfo=words, icc_profile=COLOURS)
    return file.getvalue() + b"SECRET behind the end"


def opened(raw: bytes) -> Image.Image:
    return Image.open(io.BytesIO(raw))


def upright(raw: bytes) -> bytes:
    """The picture as it is seen, pixel by pixel."""
    return ImageOps.exif_transpose(opened(raw)).tobytes()


@pytest.mark.parametrize("sent", [jpeg(), jpeg(progressive=True), png()], ids=["jpeg", "in passes", "png"])
def test_no_place_no_camera_and_no_words_are_left_and_the_picture_is_the_same(sent: bytes) -> None:
    assert opened(sent).getexif().get_ifd(GPS), "the test has a place to lose"
    bare = bare_picture(sent)
    assert bare is not None
    kept = opened(bare)
    assert dict(kept.getexif()) == {WAY_UP: 6}
    assert not kept.getexif().get_ifd(GPS)
    for secret in (b"SECRET", b"Testmaker", b"SERIAL", b"xap", b"Photoshop", b"zTXt", b"iTXt"):
        assert secret not in bare
    assert kept.tobytes() == opened(sent).tobytes()
    assert upright(bare) == upright(sent)
    assert kept.info["icc_profile"] == COLOURS, "without it the colours would shift"


@pytest.mark.parametrize("way_up", range(1, 9))
@pytest.mark.parametrize("make", [jpeg, png])
def test_every_way_up_is_kept_and_an_upright_picture_needs_no_note(make, way_up: int) -> None:
    bare = bare_picture(make(way_up))
    assert bare is not None
    assert dict(opened(bare).getexif()) == ({} if way_up == 1 else {WAY_UP: way_up})
    assert upright(bare) == upright(make(way_up))
    assert bare_picture(bare) == bare, "what is bare stays as it is"


def test_the_small_picture_in_the_heading_goes_too() -> None:
    raw = jpeg()
    at = raw.index(b"JFIF\x00")
    (length,) = struct.unpack_from(">H", raw, at - 2)
    thumb = raw[: at - 2] + struct.pack(">H", length + 3) + raw[at : at + 12] + b"\x01\x01SEC" + raw[at + 14 :]
    bare = bare_picture(thumb)
    assert bare is not None
    assert b"SEC" not in bare
    assert upright(bare) == upright(raw)


@pytest.mark.parametrize("make", [jpeg, png])
def test_a_picture_cut_short_is_no_picture(make) -> None:
    whole = bare_picture(make())
    assert whole is not None
    assert {bare_picture(whole[:length]) for length in range(0, len(whole) - 2)} == {None}


@given(st.binary(max_size=80), st.sampled_from([b"", b"\xff\xd8", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"]))
def test_bytes_that_are_no_picture_never_make_it_stumble(raw: bytes, start: bytes) -> None:
    assert bare_picture(start + raw) is None


@given(st.binary(max_size=60), st.sampled_from([b"II*\x00\x08\x00\x00\x00", b"MM\x00*\x00\x00\x00\x08", b""]))
def test_notes_that_are_damaged_leave_the_picture_as_it_lies(raw: bytes, start: bytes) -> None:
    assert orientation(start + raw) in range(1, 9)


def test_what_is_stored_and_fingerprinted_is_the_bare_picture() -> None:
    store, photos = MemoryStore(), MemoryPhotos()
    files = {name: (V8 / f"{name}.yaml").read_bytes() for name in ("engine", "gauges", "prices")}
    assert open_job(store, clock, by="Ana", readings=(V8 / "readings.csv").read_bytes(), **files) == []
    for _ in range(2):
        told = bind_photo(store, clock, photos, key="p", removal="manifold", content=jpeg(), by="Ana")
        assert told is None, "the same sent twice is harmless"
    event = strip_of(load(store)[0]).stands.of("manifold").photo
    assert bound_photo(photos, event) == bare_picture(jpeg())
    assert event.size == len(bare_picture(jpeg()) or b"")
    refused = bind_photo(
        store, clock, photos, key="q", removal="sump", content=b"\xff\xd8\xff\xe0" + bytes(99), by="Ana"
    )
    assert refused is not None
    assert (refused.code, refused.found) == ("not_a_photo", "another sort of file")
    assert len(photos.names) == 1


def clock() -> str:
    return "2026-05-03T10:00:00Z"
