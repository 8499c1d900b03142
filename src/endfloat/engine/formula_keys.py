"""The formulas a description may name, by key."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any

from endfloat.formulas import fits

FORMULAS: dict[str, Callable[..., Any]] = {"fits.diametral_clearance": fits.diametral_clearance}


def arguments_of(key: str) -> list[str]:
    """The argument names of a formula, in its own order."""
    return list(inspect.signature(FORMULAS[key]).parameters)
