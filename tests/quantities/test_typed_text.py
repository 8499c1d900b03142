"""What a person types stays as typed, and what cannot be read gets a clear answer."""

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import UNITS, Kind


def length(text: str, **options: str) -> Typed | Problem:
    return read_typed(text, kind=Kind.LENGTH, place="left 3, bore", **options)


@pytest.mark.parametrize(
    ("text", "decimal", "resolution"),
    [
        ("54.980 mm", "54.980", "0.001"),
        ("54.98 mm", "54.98", "0.01"),
        ("86,0485mm", "86.0485", "0.0001"),
        ("−0.02 mm", "-0.02", "0.01"),
        ("+3 thou", "3", "1"),
        (".5 mm", "0.5", "0.1"),
    ],
)
def test_the_typed_digits_are_kept_with_their_resolution(text: str, decimal: str, resolution: str) -> None:
    typed = length(text)
    assert isinstance(typed, Typed)
    assert (str(typed.decimal), typed.resolution) == (decimal, Decimal(resolution))


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("", "empty", "not measured"),
        ("86,04 86,05", "two_numbers", "Type one"),
        ("86.05", "missing_unit", "unit"),
        ("86.05 mmm", "unknown_unit", "mm"),
        ("86.05 N·m", "wrong_unit", "torque, not length"),
        ("3 mil", "unclear_unit", "thou or milli"),
        ("eighty-six", "not_a_number", "digits"),
        ("1.2.3 mm", "two_numbers", "Type one"),
    ],
)
def test_what_cannot_be_read_says_where_what_and_what_to_do(text: str, code: str, words: str) -> None:
    problem = length(text)
    assert isinstance(problem, Problem)
    assert (problem.code, problem.place) == (code, "left 3, bore")
    assert words in problem.text()


def test_a_bare_number_takes_the_unit_that_the_page_shows() -> None:
    typed = length("86.05", default_unit="mm")
    assert isinstance(typed, Typed)
    assert typed.text == "86.05 mm"


@given(st.decimals(min_value=-1000, max_value=1000, places=4))
def test_a_typed_decimal_survives_whatever_its_digits(number: Decimal) -> None:
    typed = length(f"{number} mm")
    assert isinstance(typed, Typed)
    assert typed.decimal == number
    assert typed.exact_si == number / 1000


# Independent library: pint's registry (its own spellings).
PINT_SPELLINGS = {
    "mm": "mm",
    "thou": "thou",
    "in": "inch",
    "µm": "micrometer",
    "N·m": "N*m",
    "lbf·ft": "lbf*ft",
    "lbf·in": "lbf*inch",
    "kgf·m": "kgf*m",
    "kN": "kN",
    "bar": "bar",
    "MPa": "MPa",
    "psi": "psi",
    "cm³": "cm**3",
    "cm²": "cm**2",
    "°": "degree",
    "g": "g",
    "min": "minute",
    "h": "hour",
}
REGISTRY = pint.UnitRegistry(system="SI")


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"), [("32", "0"), ("50 °F", "10"), ("68,0 degF", "20"), ("−40 F", "−40"), ("212 °F", "100")]
)
def test_a_degree_fahrenheit_is_exactly_the_degree_celsius_that_it_meets(fahrenheit: str, celsius: str) -> None:
    read = [
        read_typed(text, kind=Kind.TEMPERATURE, place="", default_unit=unit)
        for text, unit in ((fahrenheit, "°F"), (celsius, "°C"))
    ]
    assert all(isinstance(each, Typed) for each in read)
    assert read[0].exact_si == read[1].exact_si
    assert read[0].si == pytest.approx(REGISTRY.Quantity(float(read[0].decimal), "degF").to("kelvin").magnitude)


@pytest.mark.parametrize(("shown", "spelling"), PINT_SPELLINGS.items())
def test_factors_agree_with_an_independent_library(shown: str, spelling: str) -> None:
    assert float(UNITS[shown].factor) == pytest.approx(REGISTRY(spelling).to_base_units().magnitude, rel=1e-12)
