"""The verdict marks, rendered in one bit as a bad printer would."""

import io
import itertools

import pytest
import typst
from PIL import Image, ImageChops

from endfloat.drawings.marks import BESIDE_POSTS, Limits, mark
from endfloat.inspection.verdicts import Verdict

PAGE = "#set page(width: 32pt, height: 16pt, margin: 0pt)\n#image(bytes(sys.inputs.svg), width: 32pt)"
PIXELS = 32 * 16


def one_bit(svg: str) -> Image.Image:
    """32 px wide, black or white."""
    black = svg.replace("currentColor", "#000000").replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ')
    png = typst.compile(PAGE.encode(), format="png", ppi=72, sys_inputs={"svg": black})
    return Image.open(io.BytesIO(png)).convert("L").point(lambda level: 255 if level > 127 else 0).convert("1")


def different_pixels(one: Image.Image, other: Image.Image) -> int:
    return ImageChops.logical_xor(one, other).histogram()[255]


def test_the_twelve_marks_differ_in_one_bit_at_32_px_by_at_least_5_percent_of_pixels() -> None:
    pictures = {code: one_bit(mark(code, "")) for code in BESIDE_POSTS}
    assert len(pictures) == 12
    near = {
        (one, other): different_pixels(pictures[one], pictures[other])
        for one, other in itertools.combinations(pictures, 2)
    }
    assert {pair: count for pair, count in near.items() if count < 0.05 * PIXELS} == {}


def test_every_verdict_but_the_plain_answers_has_a_mark() -> None:
    assert {verdict.code for verdict in Verdict} - set(BESIDE_POSTS) == {"does_not_apply", "check_zero"}
    assert mark("does_not_apply", "Does not apply") == ""


def test_a_one_sided_limit_draws_its_one_post_and_a_low_one_is_the_mirror() -> None:
    high, low = mark("good", "", Limits(low=False)), mark("good", "", Limits(high=False))
    assert "M34 3V21" in high
    assert "M14 3V21" not in high
    assert (
        ImageChops.logical_xor(one_bit(high).transpose(Image.Transpose.FLIP_LEFT_RIGHT), one_bit(low)).getbbox() is None
    )


@pytest.mark.parametrize("name", ["Good 0.05 mm", 'a "quoted" <name>'])
def test_a_mark_has_an_accessible_name_and_no_name_makes_it_decoration(name: str) -> None:
    assert 'role="img" aria-label="' in mark("good", name)
    assert "<name>" not in mark("good", name)
    assert 'aria-hidden="true"' in mark("good", "")
