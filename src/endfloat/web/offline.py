"""What the script at the bench asks for beside the pages."""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI
from fastapi.responses import FileResponse, Response

WORKER = Path(__file__).parent / "static" / "bench-worker.js"


def serve_bench(app: FastAPI) -> None:
    """The worker that keeps pages, at the root because it may keep no page above its own folder; and a sign of life."""

    @app.get("/bench-worker.js")
    def worker() -> Response:
        return FileResponse(WORKER, media_type="text/javascript", headers={"Cache-Control": "no-cache"})

    @app.get("/alive")
    def alive() -> Response:
        return Response("yes", media_type="text/plain", headers={"Cache-Control": "no-store"})
