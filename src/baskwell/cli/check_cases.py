"""``baskwell check-cases FOLDER``: how often the true cause of published cases is found."""

import click

from baskwell.cli.door import debug_option


@click.command("check-cases", short_help="Compare rankings with published cases.")
@click.argument("folder", type=click.Path(exists=True, file_okay=False))
@click.option("--json", "as_json", is_flag=True, help="Write JSON.")
@debug_option
def check_cases(folder: str, as_json: bool) -> None:
    """Rank the cases in FOLDER/toml and compare with FOLDER/answers.csv."""
