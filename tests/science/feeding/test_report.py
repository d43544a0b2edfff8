"""What feeding tells of a whole case: the fast is read from meals, weighings and the examination."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given, settings

from baskwell.evidence import load_evidence
from baskwell.science.case.model import (
    Animal,
    Case,
    Days,
    Exam,
    History,
    Meal,
    SignSeen,
    Weight,
    WinterRest,
)
from baskwell.science.case.span import Span
from baskwell.science.feeding.report import FeedingReport, feeding_report
from strategies import cases

EVIDENCE = load_evidence()
START = dt.datetime(2026, 3, 1, 9)
VALUE = {"kale": 1.0, "strawberry": 0.3}


def meal(day: float, left: float, control: float | None = 5.0) -> Meal:
    """Ten grams of kale on a day."""
    loss = None if control is None else Span.exactly(control)
    at = START + dt.timedelta(days=day)
    return Meal(at, "kale", "chopped", Span.exactly(10.0), Span.exactly(left), loss)


def report(case: Case, day: float) -> FeedingReport:
    """The report on a day."""
    return feeding_report(
        case, EVIDENCE, VALUE, np.random.default_rng(1), 1000, START + dt.timedelta(days=day)
    )


def turtle(*meals: Meal, masses: dict[float, float] | None = None) -> Case:
    """An adult box turtle with meals and weighings."""
    weights = tuple(
        Weight(START + dt.timedelta(days=day), Span.exactly(g)) for day, g in (masses or {}).items()
    )
    return Case(Animal("terrapene_ornata", age_class="adult"), days=Days(weights=weights, meals=meals))


def test_the_fast_counts_from_the_last_offer_surely_taken() -> None:
    """Eaten on day 0, refused on days 2 and 4: on day 16 sixteen days, so the veterinarian (14-21 days)."""
    told = report(turtle(meal(0, 2.0), meal(2, 9.5), meal(4, 9.5)), 16)

    assert told.fast.days == Span(16.0, 16.0)
    assert told.fast.refused == 2
    assert told.escalation.answer == "vet"


def test_an_offer_that_may_have_been_taken_does_not_end_the_fast() -> None:
    """Without a control dish 7.3 of 10 g left may be drying: the high end still counts from day 0."""
    told = report(turtle(meal(0, 2.0), meal(10, 7.3, None)), 16)

    assert told.fast.days == Span(6.0, 16.0)
    assert told.escalation.answer == "vet"


def test_a_fast_told_at_the_examination_goes_on() -> None:
    """Ten days without food at the examination, five days ago: fifteen now."""
    exam = Exam(date=START.date(), signs=(SignSeen("anorexia", 2, Span.exactly(10.0)),))
    told = report(Case(Animal("terrapene_ornata", age_class="adult"), exam=exam), 5)

    assert told.fast.days == Span(15.0, 15.0)


def test_loss_counts_from_the_start_of_the_fast() -> None:
    """12 % lost over the fast: row all.escalation.1 (10 %)."""
    masses = {float(day): 400 * (1 - 0.012 * day) for day in range(11)}
    told = report(turtle(meal(0, 2.0), meal(2, 9.5), masses=masses), 10)

    assert told.fast.loss_pct is not None
    assert told.fast.loss_pct.median == pytest.approx(12, abs=1.5)
    assert told.escalation.answer == "assisted feeding"


def test_a_tortoise_that_does_not_eat_a_week_after_waking_is_for_the_veterinarian() -> None:
    """Row hib_wake (RVC_HIB): not eaten by 7 days after waking."""
    rest = WinterRest(True, ended_weeks_before=Span.exactly(1))
    exam = Exam(date=START.date(), signs=(SignSeen("anorexia", 2, Span.exactly(100.0)),))
    case = Case(Animal("testudo_graeca", age_class="adult"), history=History(winter_rest=(rest,)), exam=exam)
    told = report(case, 0.5)

    assert told.fast.after_winter_rest
    assert told.escalation.answer == "vet"
    assert "hib_wake" in told.escalation.evidence_ids


def test_nothing_on_food_asks() -> None:
    """No meal, no sign: the days are not known."""
    told = report(turtle(), 3)

    assert told.fast.days is None
    assert "When did it last eat" in told.escalation.asks[0]


def test_refused_food_is_offered_less_than_taken_food() -> None:
    """Kale refused ten times: strawberry, of a third of its value, becomes the better offer."""
    told = report(turtle(*(meal(float(day), 9.5) for day in range(10))), 11)

    best = {one.food: one.best for one in told.offers}
    assert best["strawberry"] > best["kale"]


@pytest.mark.slow
@settings(deadline=None)
@given(cases(EVIDENCE))
def test_any_case_is_answered(case: Case) -> None:
    """Whatever is in the file: a report, no error."""
    told = feeding_report(case, EVIDENCE, VALUE, np.random.default_rng(1), 200, dt.datetime(2026, 12, 31))

    assert told.escalation.answer in ("keep on", "offer differently", "assisted feeding", "vet")
