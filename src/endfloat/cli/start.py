"""endfloat start: open a job (the invented demonstration, unless told otherwise) and serve its pages."""

from __future__ import annotations

import socket
import time
import webbrowser
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from endfloat.cli.database import Database
from endfloat.cli.files import engine_file, read_bytes, stop_with
from endfloat.errors import OutsideError

if TYPE_CHECKING:
    from endfloat.workshop.ports import Jobs

FROM_FILE = "readings file"
EXAMPLE = Path(__file__).parent.parent / "examples" / "wrenhallow-90-8"


def start(
    engine: Annotated[Path, typer.Argument(help="A folder with engine.yaml; the demonstration by default.")] = EXAMPLE,
    jobs: Annotated[Path, typer.Option(help="The folder of jobs; made when it is not there.")] = Path("jobs"),
    database: Database = "",
    port: Annotated[int, typer.Option(help="The port on this computer.")] = 8765,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Open no browser.")] = False,
    lay_out_only: Annotated[bool, typer.Option("--lay-out-only", help="Open the job and stop: serve nothing.")] = False,
) -> None:
    """Serve the pages of a bench on this computer only."""
    from endfloat.wiring import jobs_at

    if not engine.exists():
        raise OutsideError(f"There is no {engine}. Name a folder with engine.yaml, or the file.")
    with jobs_at(jobs, database) as bench:
        if lay_out_only:
            lay_out(bench, engine_file(engine).parent)
            return
        lay_out(bench, EXAMPLE)
        key = "" if engine == EXAMPLE else lay_out(bench, engine_file(engine).parent)
        _serve(bench, key, port, no_browser=no_browser)


def _serve(bench: Jobs, key: str, port: int, *, no_browser: bool) -> None:
    import uvicorn

    from endfloat.wiring import make_bench

    free = free_port(port)
    if free != port:
        typer.echo(f"Port {port} is taken by another program. Using {free}.")
    address = f"http://127.0.0.1:{free}" + (f"/engines/{key}" if key else "")
    typer.echo(f"Open: {address}   (Ctrl+C stops; nothing is lost)")
    if not no_browser and not webbrowser.open(address):
        typer.echo("No browser opened. Type the address above into one.")
    pages, worker = make_bench(bench, demo=EXAMPLE.name)
    try:
        uvicorn.run(pages, host="127.0.0.1", port=free, log_level="warning")
    finally:
        worker.close()


def lay_out(bench: Jobs, folder: Path) -> str:
    """Open a job on the files of a folder, unless it is open; its key."""
    from endfloat.store.jobs_folder import key_of
    from endfloat.wiring import now
    from endfloat.workshop.open_job import open_job

    key = key_of(folder.resolve().name)
    store = bench.store(key)
    if store.entries():
        return key
    path = folder / "engine.yaml"
    begun = time.monotonic()
    problems = open_job(
        store,
        now,
        engine=read_bytes(path),
        gauges=read_bytes(path.with_name("gauges.yaml")),
        by=FROM_FILE,
        **{name: read_bytes(file) for name, file in beside(path).items() if file.exists()},
    )
    if problems and store.entries():
        # Another bench on the same jobs was first.
        return key
    if problems:
        stop_with(problems, as_json=False)
    for name in ("engine.yaml", "gauges.yaml", "prices.yaml"):
        if path.with_name(name).exists():
            bench.keep(key, name, path.with_name(name).read_text(encoding="utf-8-sig"))
    typer.echo(f"Laid out a job on {folder.name} in {bench.where(key)}: {time.monotonic() - begun:.1f} s")
    return key


def beside(path: Path) -> dict[str, Path]:
    """The files that may lie beside a description."""
    names = {"readings": "readings.csv", "prices": "prices.yaml", "slip": "slip.csv"}
    return {name: path.with_name(file) for name, file in names.items()}


def free_port(wanted: int) -> int:
    """The wanted port, or the next free one within twenty."""
    for port in range(wanted, wanted + 20):
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) != 0:
                return port
    return wanted
