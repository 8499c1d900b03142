"""The option that says in which database the jobs are."""

from __future__ import annotations

from typing import Annotated

import typer


def _database(address: str) -> str:
    if address and not address.startswith(("postgresql://", "postgres://")):
        raise typer.BadParameter("write it as postgresql://NAME@COMPUTER/DATABASE")
    return address


Database = Annotated[
    str,
    typer.Option(
        envvar="ENDFLOAT_DATABASE",
        callback=_database,
        help="The jobs are in this PostgreSQL database, postgresql://NAME@COMPUTER/DATABASE.",
    ),
]
