"""The tutorial is true: every file is written, every command run, and every line of output found in its place."""

import os
import re
import subprocess
import sys
from pathlib import Path

PAGE = Path(__file__).parents[2] / "docs" / "tutorial" / "first-engine.md"
BLOCK = re.compile(r"^```(\w+)(?: (\w+)=(\S+))?\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def in_order(wanted: list[str], output: str) -> str | None:
    """The first wanted line that the output lacks, looked for in order; spaces count as one."""
    rest = " ".join(output.split())
    for line in wanted:
        at = rest.find(" ".join(line.split()))
        if at < 0:
            return line
        rest = rest[at:]
    return None


def test_everything_in_the_tutorial_happens_as_told(tmp_path: Path) -> None:
    environment = {
        **os.environ,
        "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}",
        "COLUMNS": "200",
    }
    output, ran, compared = "", 0, 0
    for sort, key, value, text in BLOCK.findall(PAGE.read_text()):
        if key == "file":
            (tmp_path / value).parent.mkdir(exist_ok=True)
            (tmp_path / value).write_text(text)
        elif sort == "sh":
            done = subprocess.run(
                ["sh", "-ec", text], cwd=tmp_path, env=environment, capture_output=True, text=True, check=False
            )
            output = done.stdout + done.stderr
            assert done.returncode == int(value or 0), f"{text}{output}"
            ran += 1
        elif sort == "text":
            missing = in_order(text.splitlines(), output)
            assert missing is None, f"`{missing}` is not in:\n{output}"
            compared += 1
    assert (ran, compared) == (7, 7)
    assert (tmp_path / "build-record.pdf").read_bytes().startswith(b"%PDF")
