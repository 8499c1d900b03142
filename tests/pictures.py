"""Small pictures for tests, as plain as a camera never sends them."""

import io

from PIL import Image


def small_picture(sort: str) -> bytes:
    """A whole JPEG or PNG with nothing beside the picture."""
    file = io.BytesIO()
    Image.new("RGB", (8, 6), (90, 60, 30)).save(file, sort)
    return file.getvalue()
