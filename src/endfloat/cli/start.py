"""endfloat start: open a job (the invented demonstration, unless told otherwise) and serve its pages."""

from __future__ import annotations

import socket
import webbrowser
from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import engine_file, read_bytes, stop_with

FROM_FILE = "readings file"
EXAMPLE = Path(__file__).parent.parent / "examples" / "wrenhallow-90-8"


def start(
    engine: Annotated[Path, typer.Argument(help="A folder with engine.yaml; the demonstration by default.")] = EXAMPLE,
    job: Annotated[Path, typer.Option(help="The job's record; made when it is not there.")] = Path("jobs/job.sqlite"),
    port: Annotated[int, typer.Option(help="The port on this computer.")] = 8765,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Open no browser.")] = False,
) -> None:
    """Serve the pages of one job on this computer only."""
    import uvicorn

    from endfloat.wiring import make_pages, now, open_store
    from endfloat.workshop.open_job import open_job

    store = open_store(job)
    if not store.entries():
        path = engine_file(engine)
        problems = open_job(
            store,
            now,
            engine=read_bytes(path),
            gauges=read_bytes(path.with_name("gauges.yaml")),
            by=FROM_FILE,
            **{name: read_bytes(file) for name, file in beside(path).items() if file.exists()},
        )
        if problems:
            stop_with(problems, as_json=False)
        typer.echo(f"Opened a job on {path.parent.name}; its record is {job}.")
    free = free_port(port)
    if free != port:
        typer.echo(f"Port {port} is taken by another program. Using {free}.")
    address = f"http://127.0.0.1:{free}"
    typer.echo(f"Open: {address}   (Ctrl+C stops; nothing is lost)")
    if not no_browser and not webbrowser.open(address):
        typer.echo("No browser opened. Type the address above into one.")
    pages, worker = make_pages(store)
    try:
        uvicorn.run(pages, host="127.0.0.1", port=free, log_level="warning")
    finally:
        worker.close()


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
