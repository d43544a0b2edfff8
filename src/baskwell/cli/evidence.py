"""``baskwell evidence``: check the tables, and show who says a value."""

import sys

import click

from baskwell.cli.door import Unusable, debug_option
from baskwell.cli.look import style_for
from baskwell.paper.plain import Page

FOUND_WRONG = 1


@click.group(short_help="Check the evidence, or show who says a value.")
@debug_option
def evidence() -> None:
    """Look into the evidence: tables with units, grades and sources."""


@evidence.command()
@debug_option
def check() -> None:
    """Check every table: schema, units, ranges, ids, sources, low <= mode <= high.

    Exit code 1 where anything is wrong.
    """
    from baskwell.evidence.check import check_evidence
    from baskwell.paper.words import count

    problems = [str(problem) for problem in check_evidence()]
    page = Page(style_for(sys.stdout))
    for problem in problems:
        page.item("-", problem, indent=0)
    page.say(
        f"{count(len(problems), 'problem')} found in the evidence."
        if problems
        else "The evidence is in order."
    )
    click.echo(page.text(), nl=False)
    if problems:
        raise SystemExit(FOUND_WRONG)


@evidence.command()
@click.argument("key", metavar="ID")
@debug_option
def show(key: str) -> None:
    """Show the value ID with its unit, grade, and who says so."""
    from baskwell.cli.known import known_evidence
    from baskwell.evidence.errors import UnknownKey
    from baskwell.evidence.show import show_value

    try:
        told = show_value(known_evidence(), key)
    except UnknownKey as error:
        raise Unusable(str(error)) from error
    style = style_for(sys.stdout)
    click.echo("\n".join(style.told(line) for line in told.splitlines()))
