"""The evidence that a command works with: the shipped tables, and a folder of one's own beside them."""

from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from collections.abc import Callable

    from baskwell.evidence import Evidence

_OWN = "baskwell.own"
F = TypeVar("F", bound="Callable[..., Any]")


def own_option(command: F) -> F:
    """Give the group ``--own FOLDER``: species, foods and labels that this house has added."""
    return click.option(
        "--own",
        envvar="BASKWELL_OWN",
        metavar="FOLDER",
        type=click.Path(exists=True, file_okay=False),
        callback=_remember,
        expose_value=False,
        help="Folder with species, foods and labels of your own (also BASKWELL_OWN).",
    )(command)


def _remember(context: click.Context, _: click.Parameter, folder: str | None) -> None:
    context.find_root().meta[_OWN] = folder


def known_evidence() -> "Evidence":
    """The evidence with the tables of ``--own``; one that does not pass the checks is told in sentences."""
    context = click.get_current_context(silent=True)
    return _load(context.find_root().meta.get(_OWN) if context else None)


@cache
def _load(folder: str | None) -> "Evidence":
    from baskwell.cli.door import Unusable
    from baskwell.evidence import load_evidence
    from baskwell.evidence.errors import OwnTablesError

    try:
        return load_evidence(folder)
    except OwnTablesError as error:
        raise Unusable(str(error)) from error
