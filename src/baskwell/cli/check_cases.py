"""``baskwell check-cases FOLDER``: how often the true cause of published cases is found."""

import csv
import datetime as dt
import io
import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from baskwell.cli.door import debug_option
from baskwell.cli.files import read_bytes
from baskwell.cli.look import style_for
from baskwell.cli.progress import Progress
from baskwell.science.errors import KeeperError

if TYPE_CHECKING:
    from baskwell.evidence import Evidence
    from baskwell.science.causes.case_check import Answer, CaseScore

DRAWS = 500
RANKED_SETS = ("headline", "thin")
COLUMNS = ("case_id", "set", "true_condition_ids", "accept_ids", "husbandry_fault", "vet_now")


@click.command("check-cases", short_help="Compare rankings with published cases.")
@click.argument("folder")
@click.option("--json", "as_json", is_flag=True, help="Write JSON.")
@click.option("--seed", type=click.IntRange(0), default=1, show_default=True, help="Repeats a check exactly.")
@debug_option
def check_cases(folder: str, as_json: bool, seed: int) -> None:
    """Rank the cases in FOLDER/toml and compare with the key in FOLDER/answers.csv.

    Reports how often the true cause is first, among three, among five, by both orders, with and without
    test results; which urgent animals are flagged; which husbandry fault comes first.
    """
    answers = read_answers(Path(folder) / "answers.csv")
    from baskwell.science.causes.case_check import summarise_scores

    report = summarise_scores(list(_scores(Path(folder), answers, seed)))
    if as_json:
        from baskwell.paper.review_json import plain

        click.echo(json.dumps(plain(report), indent=2).encode())
    else:
        click.echo(told(report), nl=False)


def read_answers(path: Path) -> "tuple[Answer, ...]":
    """The key: one answer a case; only the sets that may be ranked.

    Raises KeeperError where the file is missing or a column is.
    """
    from baskwell.science.causes.case_check import Answer

    reader = csv.DictReader(io.StringIO(read_bytes(str(path)).decode("utf-8", "replace")))
    missing = [name for name in COLUMNS if name not in (reader.fieldnames or ())]
    if missing:
        raise KeeperError(f"{path} has no column {', '.join(missing)}. Its columns are {', '.join(COLUMNS)}.")
    rows = [row for row in reader if row["set"] in RANKED_SETS]
    return tuple(
        Answer(
            row["case_id"],
            row["set"],
            _ids(row["true_condition_ids"]),
            _ids(row["accept_ids"]),
            _ids(row["husbandry_fault"]),
            row["vet_now"],
        )
        for row in rows
        if _ids(row["true_condition_ids"])
    )


def _ids(cell: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in cell.replace(",", ";").split(";") if part.strip())


def _scores(folder: Path, answers: "tuple[Answer, ...]", seed: int) -> "Iterator[CaseScore]":
    from baskwell.cli.known import known_evidence

    evidence = known_evidence()
    with Progress(sys.stderr) as progress:
        for done, answer in enumerate(answers):
            progress(f"case {done + 1} of {len(answers)}", done / len(answers))
            yield _score(folder / "toml" / f"{answer.case_id}.toml", answer, evidence, seed)


def _score(path: Path, answer: "Answer", evidence: "Evidence", seed: int) -> "CaseScore":
    import numpy as np

    from baskwell.science.case.reader import parse_case
    from baskwell.science.causes.case_check import score_case
    from baskwell.science.causes.rank import add_tests, rank_causes, set_up
    from baskwell.science.history.care import reconstruct_care

    case = parse_case(read_bytes(str(path)), evidence, today=dt.date.today())
    rng = np.random.default_rng(seed)
    exposures = reconstruct_care(case, evidence, rng, DRAWS).exposures
    without = set_up(case, evidence, exposures, rng, DRAWS)
    with_tests = add_tests(without, rng, DRAWS)
    faults = [fault.exposure_id for fault in rank_causes(without, rng, DRAWS).faults]
    return score_case(answer, without, with_tests, faults)


def told(report: Mapping[str, Any]) -> str:
    """The report as lines of text."""
    style = style_for(sys.stdout)
    lines = [f"{'set':<22}{'n':>5}{'top 1':>8}{'top 3':>8}{'top 5':>8}{'log gain':>10}"]
    for name in ("headline", "thin", "headline_with_tests", "thin_with_tests"):
        lines += _tally_lines(name, report.get(name, {"n": 0}))
    urgent, faults = report["vet_now"], report["faults"]
    lines += [
        "",
        f"see a vet now: {urgent['urgent_flagged']} of {urgent['n_urgent']} urgent animals flagged, "
        f"{urgent['calm_flagged']} of {urgent['n_calm']} others",
        f"husbandry fault: first in {faults['first']}, among three in {faults['in_first_three']} "
        f"of {faults['n']}",
    ]
    return "\n".join(style.told(line) for line in lines) + "\n"


def _tally_lines(name: str, tally: Mapping[str, Any]) -> Iterator[str]:
    label = name.replace("_", " ")
    if not tally["n"]:
        yield f"{label:<22}{0:>5}"
        return
    yield f"{label:<22}{tally['n']:>5}{_percents(tally)}{tally['mean_log_gain']:>10.2f}"
    yield f"{'  by probability':<27}{_percents(tally['by_posterior'])}"


def _percents(tally: Mapping[str, Any]) -> str:
    return "".join(f"{100 * tally[f'top{k}']:>6.0f} %" for k in (1, 3, 5))
