"""The commands as a person runs them."""

import json
import subprocess
import sys
from pathlib import Path

import endfloat.examples

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"
PROGRAM = Path(sys.executable).with_name("endfloat")


def endfloat_command(*words: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run([PROGRAM, *map(str, words)], capture_output=True, text=True, check=False)


def test_judge_prints_the_agreed_fields_for_every_place() -> None:
    done = endfloat_command("judge", V8, "--json")
    assert done.returncode == 0
    rows = json.loads(done.stdout)
    assert set(rows[0]) == {
        "place", "characteristic", "use", "method", "value", "standard_uncertainty", "unit", "limits", "page",
        "verdict", "probability",
    }  # fmt: skip
    worn = next(row for row in rows if (row["characteristic"], row["place"]) == ("bore_wear", "7"))
    assert (worn["value"], worn["verdict"], worn["page"]) == (0.1, "out", 42)


def test_a_wrong_file_is_exit_1_and_a_missing_file_exit_3(tmp_path: Path) -> None:
    (tmp_path / "engine.yaml").write_text("name: x\n")
    wrong = endfloat_command("proofread", tmp_path)
    assert wrong.returncode == 1
    assert "places" in wrong.stderr
    missing = endfloat_command("judge", tmp_path / "nothing.yaml")
    assert missing.returncode == 3
    assert "nothing.yaml" in missing.stderr
    assert "Traceback" not in missing.stderr


def test_misuse_is_exit_2() -> None:
    assert endfloat_command("judge").returncode == 2


def test_an_empty_reading_sheet_has_a_row_for_each_reading_and_never_overwrites(tmp_path: Path) -> None:
    table = endfloat_command("sheet", V8).stdout.splitlines()
    filled = (V8 / "readings.csv").read_text().splitlines()
    assert {row.rsplit(",", 2)[0] for row in table} == {row.rsplit(",", 2)[0] for row in filled}
    paper = tmp_path / "sheet.pdf"
    assert endfloat_command("sheet", V8, "--to", paper).returncode == 0
    assert paper.read_bytes().startswith(b"%PDF")
    again = endfloat_command("sheet", V8, "--to", paper)
    assert again.returncode == 3
    assert "already" in again.stderr


def test_new_writes_a_description_that_reads_well_and_refuses_a_full_folder(tmp_path: Path) -> None:
    answers = ["name=Pump", "cylinders=2", "bore=60 mm", "mains=2", "main=30 mm", "pins=2", "pin=28 mm"]
    options = [word for answer in answers for word in ("--answer", answer)]
    made = endfloat_command("new", tmp_path / "pump", "--blanks", *options)
    assert made.returncode == 0, made.stderr
    assert "3 numbers still to look up" in endfloat_command("proofread", tmp_path / "pump").stdout
    again = endfloat_command("new", tmp_path / "pump", "--blanks", *options)
    assert again.returncode == 3
    assert "not empty" in again.stderr
    wrong = endfloat_command("new", tmp_path / "other", "--blanks", "--answer", "name=Pump")
    assert wrong.returncode == 1
    assert not (tmp_path / "other").exists()
    assert endfloat_command("new", tmp_path / "other", "--blanks", "--answer", "colour=red").returncode == 2


def test_decide_prints_the_agreed_fields() -> None:
    done = endfloat_command("decide", V8, "--json")
    assert done.returncode == 0
    plan = json.loads(done.stdout)
    assert set(plan) == {"status", "cost", "days", "work", "judged_again", "void"}
    assert set(plan["work"][0]) == {"decision", "option", "why"}
    assert plan["cost"] == {"low": 2675.0, "high": 2675.0}
    assert plan["void"]["cost"] == 301.0
    assert {"item": "flywheel-bolts", "times": 1, "for": "8 × flywheel bolt"} in plan["void"]["items"]
    assert plan["void"]["without_price"] == []
    assert set(plan["judged_again"]) == {"requirements", "smallest_margin"}


def test_decide_says_beside_the_price_what_removal_makes_void_and_what_has_no_price(tmp_path: Path) -> None:
    for name in ("engine.yaml", "gauges.yaml", "prices.yaml", "readings.csv"):
        (tmp_path / name).write_bytes((V8 / name).read_bytes())
    engine = tmp_path / "engine.yaml"
    text = engine.read_text()
    assert text.count("why: pressed once, buy: manifold-gaskets") == 1
    engine.write_text(text.replace("why: pressed once, buy: manifold-gaskets", "why: pressed once"))
    lines = endfloat_command("decide", tmp_path).stdout.splitlines()
    assert lines[1] == "And 277 crowns for parts that removal makes void; together 2,952 crowns."
    assert "Void by removal: eight flywheel bolts, 32 crowns, for 8 × flywheel bolt" in lines
    [nameless] = [line for line in lines if line.startswith("Void too")]
    assert nameless.startswith("Void too, and without a price: 2 × manifold gasket.")


def test_a_job_of_another_engine_or_a_damaged_one_is_a_sentence(tmp_path: Path) -> None:
    missing = endfloat_command("verify", tmp_path / "job.sqlite")
    assert missing.returncode == 3
    assert "endfloat start" in missing.stderr
    (tmp_path / "job.sqlite").write_bytes(b"junk" * 1000)
    damaged = endfloat_command("verify", tmp_path / "job.sqlite")
    assert damaged.returncode == 3
    assert "Traceback" not in damaged.stderr
    other = (V8 / "readings.csv").read_text().replace("bore_size", "liner_size")
    (tmp_path / "readings.csv").write_text(other)
    foreign = endfloat_command("judge", V8, "--readings", tmp_path / "readings.csv", "--gauges", V8 / "gauges.yaml")
    assert foreign.returncode == 1
    assert "another engine" in foreign.stderr


def test_proofreading_reads_the_gauges_and_prices_beside_the_engine(tmp_path: Path) -> None:
    for name in ("engine.yaml", "gauges.yaml", "prices.yaml"):
        (tmp_path / name).write_bytes((V8 / name).read_bytes())
    gauges = tmp_path / "gauges.yaml"
    gauges.write_text(gauges.read_text().replace("error: 0.0025 mm", "error: -0.0025 mm", 1))
    prices = tmp_path / "prices.yaml"
    prices.write_text(prices.read_text().replace("rebore:", "reborre:", 1))
    done = subprocess.run([PROGRAM, "proofread", tmp_path], capture_output=True, text=True, check=False)
    assert done.returncode == 1
    assert "`-0.0025 mm`" in done.stderr
    assert "nought or more" in done.stderr
    assert "reborre" in done.stderr


def test_a_folder_that_is_not_there_is_named_and_no_job_is_begun(tmp_path: Path) -> None:
    done = endfloat_command("start", tmp_path / "nope", "--jobs", tmp_path / "jobs", "--lay-out-only")
    assert done.returncode == 3
    assert f"There is no {tmp_path / 'nope'}. Name a folder with engine.yaml" in done.stderr
    assert not (tmp_path / "jobs").exists()
