"""What is said when the framework itself refuses a request: a page like every other, never raw data."""

from __future__ import annotations

from collections.abc import Callable

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import Response
from starlette.exceptions import HTTPException

Stopped = Callable[[Request, str, int], Response]


def add_fault_pages(app: FastAPI, stopped: Stopped) -> None:
    """A stopped page for a form or address that cannot be read, for a page that is not there, and for the rest."""

    @app.exception_handler(RequestValidationError)
    def unreadable(request: Request, error: RequestValidationError) -> Response:
        return stopped(request, unreadable_words(error), 422)

    @app.exception_handler(HTTPException)
    def refused(request: Request, error: HTTPException) -> Response:
        response = stopped(request, refused_words(request.url.path, error.status_code), error.status_code)
        response.headers.update(error.headers or {})
        return response


def unreadable_words(error: RequestValidationError) -> str:
    """Which entries of a form or an address were not what the page sends."""
    names = dict.fromkeys(str(each["loc"][-1]).replace("_", " ") for each in error.errors())
    return (
        f"What was sent cannot be read: {', '.join(names)}. Nothing was written."
        " Open the page again and send its form from there."
    )


def refused_words(path: str, status: int) -> str:
    """Why a request was refused, as a person can use it."""
    if status == 404:
        return f"There is no page {path} here."
    if status == 405:
        return f"{path} takes no entries this way. Nothing was written. Open the page and send its form from there."
    return f"What was sent to {path} cannot be read. Nothing was written. Open the page again, then enter it again."
