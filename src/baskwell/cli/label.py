"""``baskwell label FILE``: what is in that pellet, from its ingredient order and guarantees."""

import sys
from pathlib import Path

import click

from baskwell.cli.door import debug_option
from baskwell.cli.files import STREAM, read_bytes
from baskwell.cli.look import style_for
from baskwell.cli.progress import Progress


@click.command(short_help="Tell what is in a feed, from its label.")
@click.argument("file")
@click.option("--json", "as_json", is_flag=True, help="Write JSON (keys: docs/review-json.md).")
@click.option(
    "--seed", type=click.IntRange(0), default=1, show_default=True, help="Repeats a reading exactly."
)
@debug_option
def label(file: str, as_json: bool, seed: int) -> None:
    """Read the label in FILE: likely shares of each ingredient, and what the feed gives.

    FILE holds the label as printed, ingredients in order and guarantees; '-' reads standard input.
    """
    text = read_bytes(file).decode("utf-8", "replace")
    import numpy as np

    from baskwell.cli.known import known_evidence
    from baskwell.science.history.label import read_label
    from baskwell.science.history.label.text import parse_label_text

    name = "label" if file == STREAM else Path(file).stem
    with Progress(sys.stderr) as progress:
        progress("reading the label", 0.0)
        reading = read_label(name, parse_label_text(text), known_evidence(), np.random.default_rng(seed))
    if as_json:
        from baskwell.paper.review_json import as_json_text

        click.echo(as_json_text(reading).encode(), nl=False)
        return
    from baskwell.paper.review_text import label_as_text

    click.echo(label_as_text(reading, style_for(sys.stdout)), nl=False)
