"""``baskwell review FILE``: what happened to this animal, as text, JSON or one page."""

import datetime as dt
import sys
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from baskwell.cli.door import debug_option
from baskwell.cli.files import STREAM, read_bytes, write_text
from baskwell.cli.look import style_for
from baskwell.cli.progress import Progress
from baskwell.science.errors import KeeperError

if TYPE_CHECKING:
    from baskwell.science.case.model import Case
    from baskwell.science.history.climate_log import ClimateLog
    from baskwell.science.review import Review

DRAWS = 4000


@dataclass(frozen=True)
class Run:
    """What a review is repeated with, and whether test results are counted."""

    seed: int = 1
    draws: int = DRAWS
    tests: bool = True


def review_file(name: str, run: Run) -> "Review":
    """Read a case file and review it; doubtful entries are told on stderr."""
    case = read_case_file(name)
    return review_of(case, run, climate=_climate_log(case, name))


def read_case_file(name: str) -> "Case":
    """Read a case file, ``-`` for standard input; KeeperError with every problem found."""
    data = read_bytes(name)
    from baskwell.cli.known import known_evidence
    from baskwell.science.case.reader import read_case

    reading = read_case(data, known_evidence(), today=dt.date.today())
    for warning in reading.warnings:
        warn(warning.sentence)
    return reading.case


def review_of(case: "Case", run: Run, climate: "ClimateLog | None" = None) -> "Review":
    """Review a case, with progress on stderr where it takes over a second."""
    from baskwell.cli.known import known_evidence
    from baskwell.science.review import review_case

    told = case if run.tests else replace(case, exam=replace(case.exam, tests=()))
    with Progress(sys.stderr) as progress:
        return review_case(
            told, known_evidence(), seed=run.seed, n_draws=run.draws, climate=climate, progress=progress
        )


def warn(sentence: str) -> None:
    """Say something on stderr that does not stop the work."""
    click.echo(style_for(sys.stderr).told(f"Note: {sentence}"), err=True)


def _climate_log(case: "Case", name: str) -> "ClimateLog | None":
    stated = case.history.surroundings.climate_log if case.history.surroundings else ""
    if not stated:
        return None
    from baskwell.science.history.climate_log import read_climate_log

    try:
        return read_climate_log(read_bytes(_beside(name, stated)), stated)
    except KeeperError as error:
        warn(f"{error} The review goes on without this climate log.")
        return None


def _beside(name: str, stated: str) -> str:
    """The path of a file beside the case file; a case file from elsewhere may reach no other folder."""
    if Path(stated).name != stated:
        raise KeeperError(f"climate_log = {stated!r} must be the name of a file beside the case file.")
    folder = Path() if name == STREAM else Path(name).parent
    return str(folder / stated)


@click.command(short_help="Tell what happened to one animal, and why.")
@click.argument("file")
@click.option("--json", "as_json", is_flag=True, help="Write JSON (keys: docs/review-json.md).")
@click.option("--html", metavar="FILE", help="Write one self-contained page; '-' is standard output.")
@click.option(
    "--seed", type=click.IntRange(0), default=1, show_default=True, help="Repeats a review exactly."
)
@click.option(
    "--draws",
    type=click.IntRange(200, 100_000),
    default=DRAWS,
    show_default=True,
    help="Possible worlds drawn.",
)
@click.option("--tests/--no-tests", default=True, help="Count test results in a second pass (default: yes).")
@click.option("--full", is_flag=True, help="Tell every finding, reason and source in the text.")
@debug_option
def review(
    file: str, as_json: bool, html: str | None, seed: int, draws: int, tests: bool, full: bool
) -> None:
    """Review the case in FILE: what it lived in, why it is as it is, what to ask.

    FILE is a case file in TOML; '-' reads standard input.
    """
    result = review_file(file, Run(seed, draws, tests))
    if html:
        _write_page(html, result)
    if as_json:
        from baskwell.paper.review_json import review_as_json

        click.echo(review_as_json(result).encode(), nl=False)
    if not (html or as_json):
        from baskwell.cli.known import known_evidence
        from baskwell.paper.review_text import review_as_text

        click.echo(review_as_text(result, style_for(sys.stdout), known_evidence(), full=full), nl=False)


def _write_page(html: str, result: "Review") -> None:
    from baskwell.cli.known import known_evidence
    from baskwell.paper.review_html import review_as_html

    write_text(html, review_as_html(result, known_evidence()))
    if html != STREAM:
        click.echo(f"Wrote {html}", err=True)
