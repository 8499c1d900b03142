"""Papers as PDF by typst: plain values in, bytes out; the same values give the same bytes."""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib.metadata import files
from pathlib import Path

import typst

from endfloat.drawings.joint import joint_drawing, picture_from

FONT_PACKAGE = "fontpkg-atkinson-hyperlegible"
LAYOUTS = Path(__file__).parent / "layouts"


def font_folder() -> str:
    """The folder of the one font, in its installed package."""
    found = next(file for file in files(FONT_PACKAGE) or [] if file.suffix == ".ttf")
    return str(Path(str(found.locate())).parent)


def make_paper(kind: str, values: Mapping[str, object]) -> bytes:
    """A paper of a kind (the name of a layout) as PDF."""
    return typst.compile(
        LAYOUTS / f"{kind}.typ",
        format="pdf",
        root=LAYOUTS,
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=[font_folder()]),
        sys_inputs={"values": json.dumps(_drawn(values), ensure_ascii=False)},
    )


def _drawn(values: Mapping[str, object]) -> dict[str, object]:
    """The same values with every joint's picture drawn."""
    joints = values.get("joints")
    if not isinstance(joints, list):
        return dict(values)
    drawn = [{**each, "drawing": joint_drawing(picture_from(each["picture"]))} for each in joints]
    return {**values, "joints": drawn}
