"""``baskwell dose FILE [AGENT]``: what it had, and whether and how a supplement may be given."""

import datetime as dt
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from baskwell.cli.door import debug_option
from baskwell.cli.look import style_for
from baskwell.cli.progress import Progress
from baskwell.cli.review import DRAWS, read_case_file
from baskwell.science.errors import KeeperError

if TYPE_CHECKING:
    import numpy as np

    from baskwell.science.case.model import Case
    from baskwell.science.dosing import DosePlan, Ledger
    from baskwell.science.history.diet_recall import DietRecall

FOUND_WRONG = 1
GIVEN = ("recipe", "recorded")


@dataclass(frozen=True)
class Question:
    """What is asked of one case file."""

    agent: str
    strength: str
    want: str | None
    every: int
    route: str
    ordered_by: str


@dataclass(frozen=True)
class Run:
    """What an answer is repeated with."""

    seed: int
    draws: int
    now: dt.datetime


@click.command(short_help="Tell whether and how a supplement may be given.")
@click.argument("file")
@click.argument("agent", required=False, default="")
@click.option("--strength", default="", metavar="TEXT", help='As printed: "8000 IU per capsule".')
@click.option("--want", metavar="TEXT", help='One dose as it is meant: "1 capsule", "500 IU".')
@click.option(
    "--every", type=click.IntRange(1, 365), default=7, show_default=True, help="Days between doses."
)
@click.option("--route", default="oral", show_default=True, help="oral, injection, sc, im, iv ...")
@click.option("--ordered-by", default="", metavar="NAME", help="The veterinarian who ordered it.")
@click.option(
    "--on", type=click.DateTime(["%Y-%m-%d"]), metavar="DAY", help="The day of the dose (default: now)."
)
@click.option("--json", "as_json", is_flag=True, help="Write JSON; keys are the field names of the result.")
@click.option("--full", is_flag=True, help="Tell every limit, source and line of the ledger.")
@click.option(
    "--seed", type=click.IntRange(0), default=1, show_default=True, help="Repeats an answer exactly."
)
@click.option(
    "--draws",
    type=click.IntRange(200, 100_000),
    default=DRAWS,
    show_default=True,
    help="Possible worlds drawn.",
)
@debug_option
def dose(  # noqa: PLR0913, PLR0917 - one argument an option
    file: str,
    agent: str,
    strength: str,
    want: str | None,
    every: int,
    route: str,
    ordered_by: str,
    on: dt.datetime | None,
    as_json: bool,
    full: bool,
    seed: int,
    draws: int,
) -> None:
    """Tell what the animal in FILE had of vitamins and calcium, and plan AGENT.

    FILE is a case file in TOML; '-' reads standard input. AGENT is a name such as vitamin_a; without it the
    ledger alone is told. Without --strength the product in the pantry of the file is taken. Exit code 1
    where something must not be given, is over a limit, or has to be asked.
    """
    run = Run(seed, draws, _moment(on))
    case = read_case_file(file)
    if not agent:
        _tell_ledger(_ledger(case, run), as_json, full)
        return
    plan = _plan(case, Question(agent, strength, want, every, route, ordered_by), run)
    _tell_plan(plan, as_json, full)


def _moment(on: dt.datetime | None) -> dt.datetime:
    """Now, or the end of the day named, so that all doses of that day lie before it."""
    return dt.datetime.now() if on is None else on.replace(hour=23, minute=59, second=59)


def _recalled(case: "Case", run: Run) -> "tuple[DietRecall | None, np.random.Generator]":
    """The diet of the case, and the generator for the rest."""
    import numpy as np

    from baskwell.cli.known import known_evidence
    from baskwell.science.history.diet_recall import recall_diet
    from baskwell.science.history.label import read_labels

    first, second, third = np.random.default_rng(run.seed).spawn(3)
    with Progress(sys.stderr) as progress:
        progress("what it is fed", 0.1)
        labels = read_labels(case, known_evidence(), first, run.draws)
        progress("what it is fed", 0.6)
        return recall_diet(case, known_evidence(), second, run.draws, labels), third


def _ledger(case: "Case", run: Run) -> "Ledger":
    from baskwell.cli.known import known_evidence
    from baskwell.science.dosing import ledger

    diet, rng = _recalled(case, run)
    return ledger(case, known_evidence(), diet=diet, rng=rng, n_draws=run.draws, now=run.now)


def _plan(case: "Case", question: Question, run: Run) -> "DosePlan":
    from baskwell.cli.known import known_evidence
    from baskwell.science.dosing import Giving, plan_dose
    from baskwell.science.dosing.substances import agent_named

    evidence = known_evidence()
    found = agent_named(question.agent, evidence)
    giving = Giving(question.route, question.ordered_by, question.every)
    strength = question.strength or _in_pantry(case, found.agent_id)
    diet, rng = _recalled(case, run)
    return plan_dose(
        case,
        evidence,
        found.agent_id,
        strength,
        question.want,
        diet=diet,
        rng=rng,
        n_draws=run.draws,
        now=run.now,
        giving=giving,
    )


def _in_pantry(case: "Case", agent_id: str) -> str:
    """The strength of the one product of an agent in the pantry; empty where there is none."""
    found = [product.strength for product in case.pantry.products if product.agent == agent_id]
    if len(found) > 1:
        raise KeeperError(
            f"The pantry holds {len(found)} products of {agent_id}: {', '.join(map(repr, found))}. "
            "Say which with --strength."
        )
    return found[0] if found else ""


def _tell_plan(plan: "DosePlan", as_json: bool, full: bool) -> None:
    from baskwell.paper.dose_text import plan_as_text

    _tell(plan, as_json, "" if as_json else plan_as_text(plan, style_for(sys.stdout), full=full))
    if plan.verdict not in GIVEN or plan.ledger.alarms:
        raise SystemExit(FOUND_WRONG)


def _tell_ledger(book: "Ledger", as_json: bool, full: bool) -> None:
    from baskwell.paper.dose_text import ledger_as_text
    from baskwell.science.dosing.asked import CAUTION

    _tell(book, as_json, "" if as_json else ledger_as_text(book, CAUTION, style_for(sys.stdout), full=full))
    if book.alarms:
        raise SystemExit(FOUND_WRONG)


def _tell(result: object, as_json: bool, text: str) -> None:
    if as_json:
        from baskwell.paper.review_json import as_json_text

        click.echo(as_json_text(result).encode(), nl=False)
        return
    click.echo(text, nl=False)
