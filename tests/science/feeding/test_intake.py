"""Measured intake: offered less left less drying, never more or less than can be."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Days, Meal
from baskwell.science.case.span import Span
from baskwell.science.feeding import Intake, measured_intake

EVIDENCE = load_evidence()
NOW = dt.datetime(2026, 3, 20)
AT = dt.datetime(2026, 3, 14, 10)


def measure(*meals: Meal) -> tuple[tuple[Intake, ...], tuple[str, ...]]:
    """What is measured of some meals."""
    case = Case(Animal("terrapene_carolina"), days=Days(meals=meals))
    return measured_intake(case, EVIDENCE, np.random.default_rng(1), 2000, NOW)


def meal(offered: float, left: float, control: float | None, at: dt.datetime | None = AT) -> Meal:
    """One offer in g with the loss of the control dish in %."""
    loss = None if control is None else Span.exactly(control)
    return Meal(at, "kale", "chopped", Span.exactly(offered), Span.exactly(left), loss)


@pytest.mark.parametrize(
    ("offered", "left", "control", "eaten"),
    [
        (6.0, 5.1, 4.0, 6 - 5.1 / 0.96),  # by hand: 0.6875 g
        (10.0, 9.0, 10.0, 0.0),  # all that is missing dried away
        (10.0, 0.0, 30.0, 10.0),  # nothing left: drying cannot hide anything
        (10.0, 10.0, 0.0, 0.0),
        (10.0, 9.5, 20.0, 0.0),  # dried less than the control: not below zero
    ],
)
def test_intake_by_hand(offered: float, left: float, control: float, eaten: float) -> None:
    """Arithmetic: offered - left / (1 - lost share), held between 0 and offered."""
    (one,), _ = measure(meal(offered, left, control))

    assert one.eaten_g.median == pytest.approx(eaten, abs=1e-9)
    assert one.control_known


def test_without_a_control_dish_intake_is_wider_and_said_so() -> None:
    """Unknown drying is bracketed, never taken as none."""
    (known,), _ = measure(meal(10, 6, 8.0))
    (unknown,), gaps = measure(meal(10, 6, None))

    assert unknown.eaten_g.high - unknown.eaten_g.low > known.eaten_g.high - known.eaten_g.low
    assert unknown.eaten_g.low < known.eaten_g.median < 4.0
    assert "no control dish" in gaps[0]


def test_what_cannot_be_measured_is_named() -> None:
    """Missing, impossible and future offers are each a sentence."""
    found, gaps = measure(
        Meal(AT, "kale"),
        meal(5, 7, 0),
        meal(0, 0, 0),
        meal(5, 4, 0, NOW + dt.timedelta(days=1)),
        meal(5, 4, 0),
    )

    assert len(found) == 1
    assert len(gaps) == 4


@settings(deadline=None)
@given(st.floats(0.1, 100), st.floats(0, 1), st.none() | st.floats(0, 100))
def test_intake_lies_between_nothing_and_everything(
    offered: float, left_share: float, control: float | None
) -> None:
    """Whatever the dish says: 0 <= eaten <= offered less left."""
    (one,), _ = measure(meal(offered, offered * left_share, control))

    assert one.eaten_g.low >= 0
    assert one.eaten_g.high <= offered * (1 - left_share) + 1e-9 * offered
    assert bool(((one.share >= 0) & (one.share <= 1)).all())
