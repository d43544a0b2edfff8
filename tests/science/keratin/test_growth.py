"""Regrowth by a conjugate update; the next check by a stated chance."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from baskwell.evidence import load_evidence
from baskwell.science.keratin.growth import (
    MONTH_DAYS,
    GrowthPrior,
    Measured,
    grow,
    next_check,
    prior_of,
)

EVIDENCE = load_evidence()
START = dt.date(2026, 1, 1)
PRIOR = GrowthPrior(0.6, 0.5, 2.0, 0.25)


def day(days: float) -> dt.date:
    """So many days after the start."""
    return START + dt.timedelta(days=days)


def test_two_measurements_by_hand() -> None:
    """Closed form: the difference d over t months is N(rate t, 2 s2), the rate N(m, v s2) before.

    Precision 1/v + t2/2, mean (m/v + t d/2) / precision, shape + 1/2, scale + (d - t m)2 / (2 (2 + t2 v)).
    """
    t, d = 60 / MONTH_DAYS, 1.8
    v = 0.5**2 / (0.25 / (2.0 - 1.0))
    precision = 1 / v + t**2 / 2

    found = grow([Measured(day(0), 10.0), Measured(day(60), 10.0 + d)], [], PRIOR)

    assert found.mean[0] == pytest.approx((0.6 / v + t * d / 2) / precision)
    assert found.spread[0, 0] == pytest.approx(1 / precision)
    assert found.shape == pytest.approx(2.5)
    assert found.scale == pytest.approx(0.25 + (d - t * 0.6) ** 2 / (2 * (2 + t**2 * v)))


def test_one_measurement_leaves_the_prior_of_the_rate() -> None:
    """A level alone says nothing of the rate."""
    found = grow([Measured(day(0), 10.0)], [], PRIOR)

    assert (found.mean[0], found.shape, found.scale, found.repeats) == pytest.approx((0.6, 2.0, 0.25, 0))


def test_with_a_flat_prior_it_is_least_squares() -> None:
    """Against scipy.stats.linregress: with a very wide prior the mean rate is the slope."""
    days, lengths = [0, 30, 75, 120], [10.0, 10.9, 11.4, 12.9]
    line = stats.linregress(np.array(days) / MONTH_DAYS, lengths)

    wide = GrowthPrior(0.0, 1e4, 2.0, 0.25)
    found = grow([Measured(day(d), x) for d, x in zip(days, lengths, strict=True)], [], wide)

    assert found.mean[0] == pytest.approx(line.slope, rel=1e-5)


def test_a_trim_resets_the_level_and_keeps_the_rate() -> None:
    """Cut by 4 mm: the rate is the same as without the cut, the level is lower by it."""
    days = (0, 30, 60, 61, 90, 120)
    whole = [Measured(day(d), 10 + d / 30) for d in days]
    cut = [Measured(m.at, m.length_mm - (4 if m.at >= day(61) else 0)) for m in whole]

    one, other = grow(whole, [day(61)], PRIOR), grow(cut, [day(61)], PRIOR)

    assert other.mean[0] == pytest.approx(one.mean[0])
    assert other.mean[1] == pytest.approx(one.mean[1] - 4)


@pytest.mark.slow
def test_simulated_rates_are_recovered() -> None:
    """Rates and errors drawn from the prior lie in the central 90 % nine times in ten."""
    rng = np.random.default_rng(11)
    days = np.array([0, 40, 80, 81, 130, 170])
    inside = 0
    for _ in range(400):
        variance = PRIOR.scale / rng.gamma(PRIOR.shape)
        rate = rng.normal(PRIOR.rate_mean, np.sqrt(PRIOR.rate_variance * variance))
        lengths = (
            100 + rate * days / MONTH_DAYS - 5 * (days >= 81) + rng.normal(0, np.sqrt(variance), days.size)
        )
        seen = [Measured(day(float(d)), float(x)) for d, x in zip(days, lengths, strict=True)]
        told = grow(seen, [day(81)], PRIOR).rate()
        inside += told.low <= rate <= told.high
    assert stats.binomtest(inside, 400, 0.9).pvalue > 0.001


def test_the_prior_is_wide_and_judged() -> None:
    """Expected: growth_beak_prior and growth_nail_prior of clinical/trims.csv, graded judgement."""
    for part, low, high in (("beak_upper", 0.1, 1.5), ("nail_front_left_1", 0.1, 2.0)):
        prior = prior_of(part, EVIDENCE, "testudo_graeca")
        assert prior.rate_sd == pytest.approx((high - low) / 3.29)
    assert EVIDENCE.trims["growth_beak_prior"].grade == "judgement"
    assert EVIDENCE.trims["growth_beak_tortoise"].value is None  # a gap stays a gap


def test_next_check_is_the_first_day_at_20_percent() -> None:
    """A day earlier the chance is under a fifth (methods: 20 %)."""
    seen = [Measured(day(30.0 * k), 10 + 0.5 * k) for k in range(6)]
    growth = grow(seen, [], PRIOR)
    check = next_check("nails", growth, 14.0, day(150), EVIDENCE, "testudo_graeca")

    assert growth.chance_over(14.0, check.day) >= 0.2
    assert growth.chance_over(14.0, check.day - dt.timedelta(days=1)) < 0.2
    assert day(150) < check.day < day(150 + 365)


def test_a_beak_that_hardly_grows_is_looked_at_after_a_year() -> None:
    """Common practice: the beak is looked at again after a year."""
    seen = [Measured(day(30.0 * k), 10.0) for k in range(12)]
    check = next_check("beak_upper", grow(seen, [], PRIOR), 30.0, day(330), EVIDENCE, "testudo_graeca")

    assert check.day == day(330 + 365)
    assert "common practice" in check.sentence


def test_without_repeats_its_own_growth_is_measured_after_eight_weeks() -> None:
    """Expected: interval_start of clinical/trims.csv; no published rate is claimed."""
    growth = grow([Measured(day(0), 10.0)], [], PRIOR)
    check = next_check("beak_upper", growth, 40.0, day(0), EVIDENCE, "testudo_graeca")

    assert check.day == day(56)
    assert "no rate is published" in check.sentence


@settings(deadline=None, max_examples=30)
@given(st.lists(st.floats(5, 30), min_size=1, max_size=8), st.floats(5, 40), st.floats(0, 10))
def test_a_higher_limit_is_never_checked_sooner(lengths: list[float], limit: float, more: float) -> None:
    """Whatever was measured."""
    seen = [Measured(day(20.0 * k), x) for k, x in enumerate(lengths)]
    growth, today = grow(seen, [], PRIOR), day(20.0 * len(lengths))
    near, far = (
        next_check("nails", growth, x, today, EVIDENCE, "testudo_graeca") for x in (limit, limit + more)
    )

    assert near.day <= far.day
    assert 0 <= near.chance_over <= 1


@pytest.mark.parametrize(
    ("seen", "trims", "words"),
    [
        ([], [], "Nothing was measured"),
        ([Measured(day(0), 9.0)], [day(3)], "since the last trim"),
        ([Measured(day(0), -1.0)], [], "over 0 mm"),
        ([Measured(day(0), float("nan"))], [], "over 0 mm"),
    ],
)
def test_what_cannot_be_fitted_is_said(seen: list[Measured], trims: list[dt.date], words: str) -> None:
    """A clear sentence instead of a number."""
    with pytest.raises(ValueError, match=words):
        grow(seen, trims, PRIOR)
