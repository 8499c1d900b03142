"""endfloat start: open a job (the invented demonstration, unless told otherwise) and serve its pages."""

from __future__ import annotations

import socket
import webbrowser
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import engine_file, read_bytes, stop_with

EXAMPLE = Path(__file__).parent.parent / "examples" / "wrenhallow-90-8"


def start(
    engine: Annotated[Path, typer.Argument(help="A folder with engine.yaml; the demonstration by default.")] = EXAMPLE,
    job: Annotated[Path, typer.Option(help="The job's record; made when it is not there.")] = Path("jobs/job.sqlite"),
    port: Annotated[int, typer.Option(help="The port on this computer.")] = 8765,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Open no browser.")] = False,
) -> None:
    """Serve the pages of one job on this computer only."""
    import uvicorn

    from endfloat.errors import OutsideError
    from endfloat.store.sqlite import SqliteStore
    from endfloat.web.app import make_app
    from endfloat.workshop.open_job import open_job

    try:
        job.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutsideError(f"Cannot make the folder {job.parent}: {error.strerror}.") from error
    store = SqliteStore(job)
    if not store.entries():
        path = engine_file(engine)
        table = path.with_name("readings.csv")
        problems = open_job(
            store,
            now,
            engine=read_bytes(path),
            gauges=read_bytes(path.with_name("gauges.yaml")),
            readings=read_bytes(table) if table.exists() else None,
            by="as found",
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
    uvicorn.run(make_app(store, now), host="127.0.0.1", port=free, log_level="warning")


def now() -> str:
    """The time now, UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def free_port(wanted: int) -> int:
    """The wanted port, or the next free one within twenty."""
    for port in range(wanted, wanted + 20):
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) != 0:
                return port
    return wanted
