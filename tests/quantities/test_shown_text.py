"""What is shown is rounded once, the uncertainty never down."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.quantities.estimates import ErrorSource, Estimate
from endfloat.quantities.shown_text import shown_estimate, shown_in_full, shown_number
from endfloat.quantities.units import UNITS


@pytest.mark.parametrize(
    ("value", "u", "unit", "text"),
    [
        (0.0861, 3.8e-6, "mm", "86.100 ± 0.008 mm"),
        (0.0861, 0.6e-6, "mm", "86.1000 ± 0.0012 mm"),
        (-0.00002, 2.4e-6, "mm", "−0.020 ± 0.005 mm"),
        (10.04, 0.012, "", "10.04 ± 0.03"),
        (0.0861, 0.0, "mm", "86.100 mm"),
        (2.6772 * 0.0254, 0.0, "in", "2.6772 in"),
        (-0.000001, 0.01e-3, "mm", "0.00 ± 0.02 mm"),
    ],
)
def test_digits_follow_the_uncertainty(value: float, u: float, unit: str, text: str) -> None:
    assert shown_estimate(Estimate(value, {"a": ErrorSource(u)}), UNITS[unit]) == text


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (0.08e-3, "mm", "0.080"),
        (0.0125e-3, "mm", "0.0125"),
        (0.0015 * 0.0254, "in", "0.0015"),
        (0.0005 * 0.0254, "in", "0.0005"),
        (-0.16e-3, "mm", "−0.160"),
        (0.0, "mm", "0.000"),
        (0.001 / 3, "mm", "0.333333"),
    ],
)
def test_a_limit_keeps_every_decimal_of_the_book(value: float, unit: str, text: str) -> None:
    assert shown_in_full(value, UNITS[unit]) == text


def test_what_rounds_to_nought_has_no_minus() -> None:
    assert shown_number(-0.0000001, UNITS["mm"]) == "0.000"
    assert shown_number(-0.001, UNITS["mm"]) == "−1.000"


@given(st.floats(0.01, 1), st.floats(1e-7, 1e-3))
def test_the_shown_uncertainty_is_never_smaller_than_the_true_one(value: float, u: float) -> None:
    shown = shown_estimate(Estimate(value, {"a": ErrorSource(u)}), UNITS["mm"])
    assert float(shown.split("±")[1].removesuffix("mm")) >= 2 * u * 1000 * (1 - 1e-6)


@pytest.mark.parametrize(
    ("typed", "unit", "text"),
    [
        ("0.0004", "in", "0.0004"),
        ("0.00025", "in", "0.00025"),
        ("0.0150", "in", "0.0150"),
        ("0.5", "thou", "0.5"),
        ("86.1", "mm", "86.100"),
        ("9.5", "", "9.50"),
        ("-0.00125", "in", "−0.00125"),
    ],
)
def test_a_limit_of_the_book_keeps_every_decimal_it_has(typed: str, unit: str, text: str) -> None:
    assert shown_in_full(float(typed) * float(UNITS[unit].factor), UNITS[unit]) == text


def test_an_inch_is_read_to_a_ten_thousandth_where_a_millimetre_is_read_to_a_thousandth() -> None:
    assert shown_number(0.0042 * 0.0254, UNITS["in"]) == "0.0042"
    assert shown_number(0.0042 * 0.0254, UNITS["mm"]) == "0.107"
