"""Which device a request comes from: a browser keeps a name that says nothing of its person."""

from __future__ import annotations

import secrets

from fastapi import Request
from fastapi.responses import Response

COOKIE = "endfloat-device"
YEARS = 10 * 365 * 86400


def device_of(request: Request) -> str:
    """The name of the device; empty while it has none."""
    return request.cookies.get(COOKIE, "")


def named(request: Request, response: Response) -> Response:
    """The answer, with a name for a device that has none yet."""
    if not device_of(request):
        response.set_cookie(COOKIE, secrets.token_hex(8), httponly=True, samesite="strict", max_age=YEARS)
    return response
