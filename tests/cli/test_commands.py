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
