"""Published values of chains that take more than one formula."""

from typing import Any

from endfloat.formulas.two_wheels import chain_centre_distance
from endfloat.quantities.typed_text import Typed, read_typed


def sagging_chain(given: dict[str, Any]) -> float:
    """Distance of the axes in mm at which a chain hangs through, shortened by a share."""
    typed = {name: read_typed(text, kind=None, place="") for name, text in given.items() if name != "sag"}
    taut = chain_centre_distance(**{name: each.si for name, each in typed.items() if isinstance(each, Typed)})
    return float(taut) * 1000 * (1 - given["sag"])
