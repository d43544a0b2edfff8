"""The command ``baskwell`` and its list of subcommands."""

import click

from baskwell import __version__
from baskwell.cli.ask import ask
from baskwell.cli.check_cases import check_cases
from baskwell.cli.door import Door, debug_option
from baskwell.cli.dose import dose
from baskwell.cli.evidence import evidence
from baskwell.cli.known import own_option
from baskwell.cli.label import label
from baskwell.cli.review import review


@click.group(
    cls=Door,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    epilog="Exit codes: 0 done, 1 something was found wrong, 2 wrong use or an unreadable file, "
    "70 a fault of the program, 130 stopped by Ctrl-C.",
)
@click.version_option(__version__, prog_name="baskwell")
@own_option
@debug_option
def main() -> None:
    """Find which wrong thing made a surrendered reptile sick.

    Everything here supports a keeper's judgement; diagnosis and prescription belong to a licensed
    veterinarian.
    """


for command in (review, ask, label, dose, evidence, check_cases):
    main.add_command(command)
