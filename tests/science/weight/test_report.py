"""What mass tells of a case: level, trend, alarms, water, and what is missing."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import (
    Animal,
    Case,
    Days,
    Exam,
    History,
    SignSeen,
    Weight,
    WinterRest,
)
from baskwell.science.case.span import Span
from baskwell.science.weight import WeightReport, weigh_up
from baskwell.science.weight.alarms import OVER
from strategies import cases

EVIDENCE = load_evidence()
START = dt.datetime(2026, 3, 1, 9)


def report(
    masses: dict[float, float], taxon: str = "terrapene_carolina", now: float | None = None
) -> WeightReport:
    """Weighings by day from the start; ``now`` the last of them if not said."""
    weights = tuple(Weight(START + dt.timedelta(days=day), Span.exactly(g)) for day, g in masses.items())
    case = Case(Animal(taxon), days=Days(weights=weights))
    return weigh_up(case, EVIDENCE, START + dt.timedelta(days=max(masses) if now is None else now))


def levels(told: WeightReport) -> dict[str, str]:
    """Urgency by row."""
    return {flag.key: flag.level for flag in reversed(told.flags)}


def test_steady_mass_raises_nothing() -> None:
    """Weekly weighings within half a percent: no flag, a trend about zero."""
    told = report({0: 400, 7: 401, 14: 399, 21: 400})

    assert told.trend is not None
    assert told.flags == ()
    assert told.trend.pct_per_week.low < 0 < told.trend.pct_per_week.high
    assert told.trend.level_g.median == pytest.approx(400, rel=0.01)


def test_a_fast_loss_is_for_the_veterinarian_now() -> None:
    """Row alarm_week: above 5 % in 7 days; here 12 % with a weighing a day."""
    told = report({day: 400 * (1 - 0.12 * day / 7) for day in range(8)})

    assert levels(told)["alarm_week"] == "vet now"
    assert told.next_weighing == told.now


def test_the_same_loss_over_months_is_no_alarm() -> None:
    """12 % in 168 days is what a fasting ball python loses (M03 of energy.csv: 18.3 % in 168 days)."""
    told = report({7.0 * week: 1500 * (1 - 0.12 * week / 24) for week in range(25)}, "python_regius")

    assert "vet now" not in levels(told).values()


def test_small_animals_have_their_own_line() -> None:
    """Row alarm_small holds under 100 g: a gecko of 50 g, not a turtle of 400 g."""
    gecko = report({0: 50, 7: 48}, "eublepharis_macularius")
    turtle = report({0: 400, 7: 384})

    assert "alarm_small" in {check.evidence_id for check in gecko.checks}
    assert "alarm_small" not in {check.evidence_id for check in turtle.checks}


def test_a_wild_last_weighing_hardly_counts_but_must_be_repeated() -> None:
    """38 g for 380 g: the level stays, and as it might be true it is weighed again the same day."""
    told = report({0: 400, 3: 399, 7: 400, 14: 398, 21: 38})

    assert told.trend is not None
    assert told.trend.level_g.median == pytest.approx(399, rel=0.02)
    assert levels(told)["last_weighing_doubtful"] == "within days"
    assert told.next_weighing == told.now


def test_a_true_drop_is_believed_once_it_is_weighed_again() -> None:
    """400 g for weeks, then 330 g three times: the third time it is an alarm, not a slip."""
    told = report({0: 400, 7: 401, 14: 399, 21: 330, 22: 331, 23: 329, 24: 330})

    assert told.trend is not None
    assert told.trend.level_g.median == pytest.approx(330, rel=0.03)
    assert levels(told)["alarm_month"] == "vet now"


def test_chances_of_loss_fall_with_the_limit_and_agree_with_the_interval() -> None:
    """P(loss > median) is one half, and P(loss > x) falls in x."""
    told = report({0: 400, 7: 392, 14: 385})
    assert told.trend is not None
    end, start = told.trend.last.at, told.trend.weighings[0].at
    middle = told.trend.loss(start, end).median

    assert told.trend.chance_of_loss(middle, start, end) == pytest.approx(0.5, abs=1e-6)
    assert told.trend.chance_of_loss(1, start, end) > told.trend.chance_of_loss(5, start, end)
    assert told.trend.chance_of_loss(told.trend.loss(start, end).low, start, end) == pytest.approx(0.95)


def test_the_forecast_widens_with_time() -> None:
    """Farther ahead is known less well."""
    told = report({0: 400, 7: 392, 14: 385})
    assert told.trend is not None
    near, far = told.trend.forecast(7), told.trend.forecast(28)

    assert far.high / far.low > near.high / near.low
    assert told.forecast_g is not None


def test_weighings_that_cannot_be_used_are_named() -> None:
    """No time, no mass, after now: each a sentence, the rest is used; order does not matter."""
    weights = (
        Weight(START + dt.timedelta(days=7), Span.exactly(398.0)),
        Weight(None, Span.exactly(390.0)),
        Weight(START, Span(None, 400.0)),
        Weight(START + dt.timedelta(days=99), Span.exactly(400.0)),
        Weight(START, Span.exactly(400.0)),
    )
    told = weigh_up(
        Case(Animal("terrapene_carolina"), days=Days(weights=weights)),
        EVIDENCE,
        START + dt.timedelta(days=8),
    )

    assert told.trend is not None
    assert [one.grams for one in told.trend.weighings] == [400.0, 398.0]
    assert len([gap for gap in told.gaps if "left out" in gap]) == 3


def test_the_mass_at_the_examination_counts_once() -> None:
    """The stated mass is a weighing of its day unless that day has one."""
    exam = Exam(date=START.date())
    alone = Case(Animal("terrapene_carolina", mass_g=Span.exactly(395.0)), exam=exam)
    with_one = Case(alone.animal, exam=exam, days=Days(weights=(Weight(START, Span.exactly(395.0)),)))
    now = START + dt.timedelta(days=1)

    for case in (alone, with_one):
        told = weigh_up(case, EVIDENCE, now)
        assert told.trend is not None
        assert len(told.trend.weighings) == 1
        assert "no trend can be told" in told.gaps[0]


def test_an_old_weighing_asks_for_a_new_one() -> None:
    """Weekly is common practice (quarantine.csv, row weigh)."""
    told = report({0: 400, 7: 400}, now=30)

    assert any("23 days old" in gap for gap in told.gaps)


def test_signs_of_dehydration_caution_about_mass() -> None:
    """Rows dehyd_2 (8 %, a mammal scale) and dehyd_evidence (JHMS2024)."""
    exam = Exam(signs=(SignSeen("sunken_eyes", severity=2), SignSeen("dehydrated", severity=1)))
    told = weigh_up(Case(Animal("trachemys_scripta"), exam=exam), EVIDENCE, START)

    assert "about 8 %" in told.water[0]
    assert "mammals" in told.water[0]
    assert "not how wet the mouth is" in told.water[-1]


def test_a_sign_of_dehydration_not_scored_counts_as_severe() -> None:
    """Unknown is never taken as fine."""
    exam = Exam(signs=(SignSeen("sunken_eyes"),))
    told = weigh_up(Case(Animal("trachemys_scripta"), exam=exam), EVIDENCE, START)

    assert "10 % or more" in told.water[0]


@pytest.mark.parametrize(
    ("before", "after", "weeks", "level"),
    [(1000, 990, 52 / 12, None), (716, 699, 6, "within days"), (1000, 905, 20, "vet now")],
)
def test_loss_over_winter_rest(before: float, after: float, weeks: float, level: str | None) -> None:
    """Rows hib_1 (10 g a month of 1000 g allowed, RVC_HIB), hib_2 (TORTTABLE), hib_total (above 8 %)."""
    rest = WinterRest(
        True, Span.exactly(weeks), mass_before_g=Span.exactly(before), mass_after_g=Span.exactly(after)
    )
    case = Case(Animal("testudo_graeca"), history=History(winter_rest=(rest,)))

    found = [flag.level for flag in weigh_up(case, EVIDENCE, START).flags]

    assert found == ([level] if level else [])


def test_a_python_has_no_line_for_winter_rest() -> None:
    """The lines are of hibernating tortoises."""
    rest = WinterRest(True, Span.exactly(6), mass_before_g=Span.exactly(716), mass_after_g=Span.exactly(600))
    case = Case(Animal("python_regius"), history=History(winter_rest=(rest,)))

    assert weigh_up(case, EVIDENCE, START).flags == ()


@settings(deadline=None)
@given(
    st.lists(st.tuples(st.floats(0, 60), st.floats(300, 500)), min_size=2, max_size=8),
    st.floats(0.01, 100),
)
def test_a_constant_factor_changes_no_percentage(told: list[tuple[float, float]], factor: float) -> None:
    """A scale that reads a constant factor too high changes no loss, no slope, no chance."""
    one = report(dict(told), "iguana_iguana")
    other = report({day: g * factor for day, g in told}, "iguana_iguana")
    assert one.trend is not None
    assert other.trend is not None

    assert other.trend.pct_per_week.median == pytest.approx(one.trend.pct_per_week.median, abs=1e-4)
    by_id = {(check.evidence_id, check.limit_pct): check for check in other.checks}
    for check in one.checks:
        same = by_id.get((check.evidence_id, check.limit_pct))
        if same is not None:
            assert same.chance == pytest.approx(check.chance, abs=1e-3)


@settings(deadline=None)
@given(st.floats(0.5, 30), st.integers(2, 10))
def test_steady_fast_loss_is_always_flagged(pct_per_week: float, weighings: int) -> None:
    """Whatever the number of weekly weighings: 20 % a week is never passed over, 0.5 % never vet now."""
    told = report({7.0 * k: 400 * (1 - pct_per_week / 100) ** k for k in range(weighings)})

    chance = next(c.chance for c in told.checks if c.evidence_id == "alarm_week")
    if pct_per_week > 20:
        assert told.flags
    if pct_per_week < 1:
        assert chance < OVER


@pytest.mark.slow
@settings(deadline=None)
@given(cases(EVIDENCE))
def test_any_case_is_answered(case: Case) -> None:
    """Whatever is in the file: a report, no error, chances between 0 and 1."""
    told = weigh_up(case, EVIDENCE, dt.datetime(2026, 12, 31))

    assert all(0 <= check.chance <= 1 for check in told.checks)
    assert told.trend is not None or told.gaps
