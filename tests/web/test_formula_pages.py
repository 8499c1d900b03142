"""The handbook of formulas in a browser, without a script."""

import html

import pytest
from fastapi.testclient import TestClient
from workbench import HandClock, opened_job, pages_over

from endfloat.cards import CARDS
from endfloat.web.words import formula_drawn


@pytest.fixture
def page() -> TestClient:
    clock = HandClock()
    return TestClient(pages_over(opened_job(clock), clock))


def test_every_formula_is_listed_and_its_page_shows_what_it_needs_and_its_source(page: TestClient) -> None:
    listed = page.get("/formulas").text
    for key, card in CARDS.items():
        assert f'href="/formulas/{key}"' in listed
        shown = html.unescape(page.get(f"/formulas/{key}").text)
        assert card.source in shown
        assert all(f'name="{symbol.name}"' in shown for symbol in card.arguments)


def test_numbers_typed_give_the_result_in_the_unit_of_the_workshop(page: TestClient) -> None:
    typed = {"bore": "86 mm", "stroke": "3.3858267717 in"}
    assert "499.6 cm³" in page.get("/formulas/compression.swept_volume", params=typed).text


def test_wrong_numbers_are_told_together_and_stay_in_their_boxes(page: TestClient) -> None:
    answer = page.get("/formulas/compression.swept_volume", params={"bore": "86", "stroke": "-5 mm"})
    assert answer.status_code == 422
    assert "Type the unit after the number" in answer.text
    assert 'value="-5 mm"' in answer.text
    negative = page.get("/formulas/compression.swept_volume", params={"bore": "86 mm", "stroke": "-5 mm"})
    assert "stroke is -0.005 m; expected above 0 m" in html.unescape(negative.text)
    assert page.get("/formulas/nothing.here").status_code == 404


def test_a_formula_is_set_as_mathematics_and_every_one_can_be(page: TestClient) -> None:
    assert "<math" in page.get("/formulas/drive_wheels.chain_elongation").text
    assert "<mfrac>" in page.get("/formulas/yielding.angle_turned").text
    for card in CARDS.values():
        for tex in (card.math, *(symbol.sign for symbol in (*card.arguments, *card.results))):
            assert not tex or formula_drawn(tex).startswith("<math")
            # A command that the setter does not know would stand there as letters.
            assert "\\" not in formula_drawn(tex or "x")
