"""Every published value, at half a unit of its last printed digit; what cannot be computed is excused by name."""

import math
import tomllib
from collections import Counter
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import GTC
import numpy as np
import pytest

from endfloat.cards import CARDS, WORD, Card
from endfloat.quantities.estimates import ErrorSource, Estimate, correlation, propagate
from endfloat.quantities.units import UNITS
from published.computations import (
    COMPUTE,
    end_gauge_inputs,
    end_gauge_lengths,
    end_gauge_model,
    impedance_of,
    si,
)

HERE = Path(__file__).parent
SHEETS = {path.stem: tomllib.loads(path.read_text()) for path in sorted(HERE.glob("*.toml"))}
VALUES = [(sheet, row) for sheet, content in SHEETS.items() for row in content["value"]]


def half_unit(printed: str) -> Decimal:
    """Half a unit of the last printed digit."""
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return Decimal("0.5").scaleb(exponent)


def arguments_of(card: Card, inputs: dict[str, Any]) -> dict[str, Any]:
    """Typed inputs in SI: text with a unit, a list of such texts, or a word where the card asks for one."""
    words = {symbol.name for symbol in card.arguments if symbol.unit == WORD}
    return {
        name: text if name in words else np.array([si(each) for each in text]) if isinstance(text, list) else si(text)
        for name, text in inputs.items()
    }


@cache
def computed(sheet: str, position: int) -> tuple[float, float]:
    """The value, and the standard error that chance leaves in it."""
    row = SHEETS[sheet]["value"][position]
    if "formula" in row:
        unit = UNITS[row["unit"]]
        value = CARDS[row["formula"]].function(**arguments_of(CARDS[row["formula"]], row["inputs"]))
        value = getattr(value, row["result"]) if "result" in row else value
        value = np.ravel(value)[row.get("at", 0)]
        return (float(value) - float(unit.offset)) / float(unit.factor), 0.0
    given = row["inputs"] if isinstance(row["inputs"], dict) else SHEETS[sheet]["inputs"][row["inputs"]]
    name, *words = row["compute"].split(".")
    found = COMPUTE[name](given, *words)
    return found if isinstance(found, tuple) else (found, 0.0)


def misses(value: float, printed: str, chance: float = 0.0, within: float | None = None) -> bool:
    # A binary float of a value that ends in a 5 may fall on either side: a part in 1e12 is let pass.
    bound = (within or float(half_unit(printed))) * (1 + 1e-9) + 1e-12 * abs(value) + chance
    return abs(value - float(printed)) > bound


NUMBERED = [
    pytest.param(sheet, position, id=f"{sheet}: {row['row']}")
    for sheet, content in SHEETS.items()
    for position, row in enumerate(content["value"])
]


@pytest.mark.parametrize(("sheet", "position"), NUMBERED)
def test_the_program_gives_the_published_value(sheet: str, position: int) -> None:
    row: dict[str, Any] = SHEETS[sheet]["value"][position]
    value, error = computed(sheet, position)
    if row.get("exact"):
        assert Decimal(str(value)) == Decimal(row["printed"])
        return
    # Ours and theirs are both drawn: the errors add in squares.
    chance = 3 * math.sqrt(2) * error if "chance" in row else 0.0
    within = row.get("within")
    assert within is None or row["read_from"], "a wider bound says what was read: a chart, a rounded input"
    assert not misses(value, row.get("corrected", row["printed"]), chance, within), (value, row)
    if "corrected" in row:
        assert row["reason"], "a corrected value says why"
        assert misses(value, row["printed"]), "the printed value is right after all: drop the correction"


def test_chance_never_hides_more_than_the_printed_digit() -> None:
    drawn = [(sheet, number) for sheet, number in ((s, n) for s, c in SHEETS.items() for n in range(len(c["value"])))]
    errors = [
        (computed(sheet, number)[1], SHEETS[sheet]["value"][number])
        for sheet, number in drawn
        if "chance" in SHEETS[sheet]["value"][number]
    ]
    assert len(errors) == 3
    for error, row in errors:
        assert 0 < 3 * math.sqrt(2) * error < 4 * float(half_unit(row["printed"]))


def test_no_value_is_lost_and_every_excuse_has_a_reason() -> None:
    for sheet, content in SHEETS.items():
        assert (content["values"], content["excuses"]) == (len(content["value"]), len(content.get("excused", []))), (
            sheet
        )
    names = Counter((sheet, row["row"]) for sheet, row in VALUES)
    assert max(names.values()) == 1
    for sheet, content in SHEETS.items():
        assert content["source"], sheet
        assert content["seen"], sheet
        assert all(row["page"] and isinstance(row["printed"], str) for row in content["value"])
        assert all(len(row["reason"]) > 20 for row in content.get("excused", []))


def published(key: str) -> bool:
    """Whether a formula stands in a row, by its own key or among those that a computed row covers."""
    return any(row.get("formula") == key or key in row.get("covers", []) for _, row in VALUES)


@pytest.mark.parametrize("key", CARDS)
def test_a_formula_has_a_published_value_or_says_that_it_has_none(key: str) -> None:
    excuses = [note for note in CARDS[key].notes if note.startswith("No published value:")]
    assert published(key) or excuses, "add a row to tests/published, or a note `No published value: why`"


def test_half_a_unit_is_read_from_the_printed_text() -> None:
    assert half_unit("2.92") == Decimal("0.005")
    assert half_unit("0.0029") == Decimal("0.00005")
    assert half_unit("838") == Decimal("0.5")
    assert misses(2.9251, "2.92")
    assert not misses(2.9249, "2.92")


def test_the_end_gauge_agrees_with_an_independent_library() -> None:
    inputs = end_gauge_inputs(SHEETS["jcgm-100"]["inputs"]["end_gauge"])
    [ours] = propagate(end_gauge_model, {name: [estimate] for name, estimate in inputs.items()})
    theirs = end_gauge_model(
        **{
            name: sum((GTC.ureal(0, s.standard, s.freedom) for s in e.sources.values()), GTC.ureal(e.value, 0))
            for name, e in inputs.items()
        }
    )
    assert ours.value == pytest.approx(GTC.value(theirs))
    assert ours.standard_uncertainty == pytest.approx(GTC.uncertainty(theirs), rel=1e-6)
    assert ours.freedom_before_truncation == pytest.approx(GTC.dof(theirs), rel=1e-6)


def test_correlated_means_agree_with_an_independent_library() -> None:
    given = SHEETS["jcgm-100"]["inputs"]["impedance"]
    ours = impedance_of(given)
    volt, current, phase = GTC.type_a.multi_estimate_real(list(given.values()))
    resistance = 1000 * volt / current * GTC.cos(phase)
    reactance = 1000 * volt / current * GTC.sin(phase)
    assert ours["resistance"].standard_uncertainty == pytest.approx(GTC.uncertainty(resistance), rel=1e-5)
    assert ours["reactance"].standard_uncertainty == pytest.approx(GTC.uncertainty(reactance), rel=1e-5)
    assert correlation(ours["resistance"], ours["reactance"]) == pytest.approx(
        GTC.get_correlation(resistance, reactance), rel=1e-4
    )


def test_a_source_shared_by_two_sizes_agrees_with_an_independent_library() -> None:
    """One micrometer for both parts: it cancels in the clearance and doubles in the sum."""
    sizes = {
        "hole": [Estimate(86.05, {"micrometer": ErrorSource(2.89), "bore rest": ErrorSource(3.46)})],
        "shaft": [Estimate(85.96, {"micrometer": ErrorSource(2.89), "piston rest": ErrorSource(1.69)})],
    }
    [clearance] = propagate(lambda hole, shaft: hole - shaft, sizes)
    [total] = propagate(lambda hole, shaft: hole + shaft, sizes)
    shared = GTC.ureal(0, 2.89)
    hole = 86.05 + shared + GTC.ureal(0, 3.46)
    shaft = 85.96 + shared + GTC.ureal(0, 1.69)
    assert clearance.standard_uncertainty == pytest.approx(GTC.uncertainty(hole - shaft))
    assert total.standard_uncertainty == pytest.approx(GTC.uncertainty(hole + shaft))
    assert correlation(sizes["hole"][0], sizes["shaft"][0]) == pytest.approx(GTC.get_correlation(hole, shaft))


def test_draws_of_the_end_gauge_spread_wider_than_the_linear_sum() -> None:
    given = dict(SHEETS["jcgm-101"]["inputs"]["end_gauge_draws"], draws=50_000)
    linear = computed("jcgm-100", 1)[0]
    assert end_gauge_lengths(given).std() > linear + 3
