"""Formulas from the command line: typed numbers in, one number with its source out."""

import json

import pytest
from typer.testing import CliRunner, Result

from endfloat.cards import CARDS
from endfloat.cli.main import app


def formula(*words: str) -> Result:
    return CliRunner().invoke(app, ["formula", *words])


def test_a_formula_runs_on_typed_numbers_and_names_its_source() -> None:
    done = formula("run", "fits.diametral_clearance", "hole=86,01 mm", "shaft=3.3842519685 in")
    assert done.exit_code == 0
    assert "Clearance: 0.050 mm" in done.stdout
    assert "ISO 286-1:2010" in done.stdout


def test_the_result_as_data_is_not_rounded_for_show() -> None:
    parts = {"chamber": "48 cc", "chamber_area": "45 cm²", "skim": "0.2 mm", "gasket_bore": "87 mm", "gasket": "1.2 mm"}
    words = [f"{key}={text}" for key, text in parts.items()]
    done = formula(
        "run", "compression.ratio", "bore=86 mm", "stroke=86 mm", "deck=0.3 mm", "pockets=4 cc", *words, "--json"
    )
    row = json.loads(done.stdout)
    assert (row["formula"], row["unit"]) == ("compression.ratio", "")
    assert row["result"] == pytest.approx(9.329, abs=0.0005)
    assert row["result"] != round(row["result"], 3)


def test_a_list_is_typed_with_semicolons() -> None:
    done = formula("run", "sizes.spread", "readings=86,05 mm; 86.01 mm; 86.03 mm")
    assert "0.040 mm" in done.stdout


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["hole=86.01 mm"], 'Add shaft="1 mm"'),
        (["hole=86.01", "shaft=86 mm"], "Type the unit after the number"),
        (["hole=86.01 bar", "shaft=86 mm"], "measures pressure, not length"),
        (["hole=86 mm", "shift=86 mm"], "Did you mean shaft?"),
        (["hole=86 mm", "hole=86 mm", "shaft=86 mm"], "each argument once"),
        (["86 mm", "shaft=86 mm"], "expected key=value"),
        (["hole=86 mm; 87 mm", "shaft=86 mm"], "one number"),
        ([], 'Add hole="1 mm"'),
    ],
)
def test_wrong_or_missing_arguments_list_what_is_needed_with_units(words: list[str], told: str) -> None:
    done = formula("run", "fits.diametral_clearance", *words)
    assert done.exit_code == 1
    assert told in done.stderr
    assert 'shaft="1 mm"  diameter of the shaft' in done.stderr


def test_all_wrong_arguments_are_told_together_as_data() -> None:
    done = formula("run", "fits.diametral_clearance", "hole=86", "shift=1 mm", "--json")
    codes = [problem["code"] for problem in json.loads(done.stdout)["problems"]]
    assert codes == ["missing_unit", "unknown_argument", "missing_argument"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["fits.diametral_clearence"], "Did you mean fits.diametral_clearance?"),
        (
            ["flatness.minimum_zone", "heights=1 mm; 2 mm", "along=1 mm; 2 mm", "across=1 mm; 2 mm"],
            "at least 4 points",
        ),
        (["skims.intake_face_cut", "skim=1 mm", "other_skim=1 mm", "half_angle=45 °", "face_elevation=0 °"], "above 0"),
        (["volumes.layer_volume", f"area={'9' * 200} m²", f"height={'9' * 200} m"], "finite"),
    ],
)
def test_what_has_no_answer_says_why(words: list[str], told: str) -> None:
    done = formula("run", *words)
    assert done.exit_code == 1
    assert told in done.stderr


def test_every_formula_is_listed_and_shown_with_units_source_and_example() -> None:
    listed = formula("list")
    assert [line.split()[0] for line in listed.stdout.splitlines()] == list(CARDS)
    assert [row["key"] for row in json.loads(formula("list", "--json").stdout)] == list(CARDS)
    shown = formula("show", "fits.shell_clearance")
    for words in ('wall="1 mm"  wall thickness of one shell', "oil clearance on diameter, in mm", "ISO 286-1", ">>>"):
        assert words in shown.stdout
    assert json.loads(formula("show", "skims.manifold_drop", "--json").stdout)["arguments"][2] == {
        "name": "half_angle",
        "text": "half the angle between the banks",
        "kind": "angle",
        "unit": "°",
    }
