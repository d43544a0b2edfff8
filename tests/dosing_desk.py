"""Invented animals for the dosing tests, and one way to ask for ledger and plan."""

import datetime as dt

import numpy as np

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Days, DietItem, DoseGiven, History, Light, Supplement
from baskwell.science.case.span import Span
from baskwell.science.dosing import DosePlan, Giving, Ledger, ledger, plan_dose
from baskwell.science.history.diet_recall import DietRecall, recall_diet

EVIDENCE = load_evidence()
NOW = dt.datetime(2026, 3, 16, 9)
N = 400
WORMS = ("earthworm_nightcrawler", "dandelion_greens")


def animal_case(
    taxon: str = "terrapene_ornata",
    mass_g: float | None = 400.0,
    foods: tuple[str, ...] = WORMS,
    *,
    supplements: tuple[Supplement, ...] = (),
    doses: tuple[DoseGiven, ...] = (),
    lights: tuple[Light, ...] = (),
) -> Case:
    """An invented animal with its diet."""
    mass = Span.exactly(mass_g) if mass_g is not None else None
    history = History(diet=tuple(DietItem(food) for food in foods), supplements=supplements, lights=lights)
    return Case(Animal(taxon, name="Fern", mass_g=mass), history, days=Days(doses=doses))


def diet_of(case: Case) -> DietRecall | None:
    """The diet of a case as recalled."""
    return recall_diet(case, EVIDENCE, np.random.default_rng(1), N, {})


def book_of(case: Case) -> Ledger:
    """The ledger of a case."""
    rng = np.random.default_rng(2)
    return ledger(case, EVIDENCE, diet=diet_of(case), rng=rng, n_draws=N, now=NOW)


def plan_of(
    case: Case, agent: str, strength: str, wanted: str | None = None, giving: Giving | None = None
) -> DosePlan:
    """The plan for an agent."""
    rng = np.random.default_rng(2)
    return plan_dose(
        case,
        EVIDENCE,
        agent,
        strength,
        wanted,
        diet=diet_of(case),
        rng=rng,
        n_draws=N,
        now=NOW,
        giving=giving,
    )


def dose(
    agent: str, days_ago: float, iu: float | None = None, route: str = "oral", by: str = ""
) -> DoseGiven:
    """A dose given so many days before now."""
    amount = Span.exactly(iu) if iu is not None else None
    return DoseGiven(NOW - dt.timedelta(days=days_ago), agent, route, amount, None, by)


def passed(book: Ledger) -> list[str]:
    """The limits that a ledger says are passed, or may be."""
    return [c.evidence_id for a in book.accounts for c in a.checks if c.standing in ("over", "may be over")]
