"""Refeeding stays under every block of limits.csv, whatever is asked."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.evidence.lookup import limits_for
from baskwell.science.case.model import Animal, Case, Days, Faeces, Meal, Weight
from baskwell.science.feeding import passages, refeeding_plan
from baskwell.science.feeding.refeeding import energy_of

EVIDENCE = load_evidence()
LIMITS = EVIDENCE.limits


@pytest.mark.parametrize(
    ("limit_id", "kg", "kcal"),
    [
        ("refeed_start_low", 0.357, 0.25 * 4.62),  # W24 of worked_examples.csv: 10 x 0.357^0.75 = 4.62
        ("refeed_start_high", 1.0, 5.0),  # W22: 10 kcal/day at 1 kg
        ("refeed_week1_block", 0.4, 0.4 * 16.095),  # W01: 32 x 0.4^0.75 = 16.095
    ],
)
def test_energy_of_a_row(limit_id: str, kg: float, kcal: float) -> None:
    """Expected: worked_examples.csv, row beside each, times the row's share."""
    assert energy_of(LIMITS[limit_id], kg) == pytest.approx(kcal, rel=2e-3)


def test_the_first_week_by_hand() -> None:
    """1 kg tortoise, 1 kcal/mL: 2.5 kcal twice, then five even steps to 10; feeds of at most 10 mL (1 %)."""
    plan = refeeding_plan(1000.0, 1.0, EVIDENCE, "testudo_graeca")

    assert [day.low_kcal for day in plan.days] == pytest.approx([2.5, 2.5, 4.0, 5.5, 7.0, 8.5, 10.0])
    assert [day.feeds for day in plan.days] == [1] * 7
    assert plan.days[-1].ml_per_feed == pytest.approx(10.0)
    assert "veterinarian" in plan.sentences[0]


def test_a_box_turtle_has_its_own_daily_volume() -> None:
    """Rows box_turtle.assisted.1-2 (EBT_TUBE): 0.5 % a day on days 1-3, then 2 %."""
    plan = refeeding_plan(400.0, 0.1, EVIDENCE, "terrapene_carolina")  # thin food: volume binds

    volumes = [day.feeds * day.ml_per_feed for day in plan.days]
    assert volumes[:3] == pytest.approx([2.0, 2.0, 2.0])
    assert volumes[3:] == pytest.approx([8.0, 8.0, 8.0, 8.0])


def test_a_snake_gets_one_small_feed() -> None:
    """Row tube_first_snake: 2 % of mass; once a day at the most."""
    plan = refeeding_plan(1000.0, 0.1, EVIDENCE, "python_regius")

    assert {day.feeds for day in plan.days} == {1}
    assert max(day.ml_per_feed for day in plan.days) == pytest.approx(20.0)


@pytest.mark.parametrize("mass", [None, 0.0, -5.0, float("inf"), float("nan")])
def test_no_mass_no_plan(mass: float | None) -> None:
    """Zero or missing mass: no plan, and the sentence says so."""
    plan = refeeding_plan(mass, 1.0, EVIDENCE, "testudo_graeca")

    assert plan.days == ()
    assert "No plan without the mass" in plan.sentences[0]


@settings(deadline=None)
@given(st.sampled_from(sorted(EVIDENCE.taxa)), st.floats(1, 200_000), st.floats(0.01, 10))
def test_never_more_than_any_block(taxon: str, grams: float, density: float) -> None:
    """No day passes the energy block, no feed a volume limit, and what is given keeps to the low line."""
    plan = refeeding_plan(grams, density, EVIDENCE, taxon)
    block = energy_of(LIMITS["refeed_week1_block"], grams / 1000)
    volumes = limits_for(EVIDENCE, taxon, "assisted_feeding")

    for day in plan.days:
        assert day.low_kcal <= day.high_kcal <= block * (1 + 1e-9)
        assert day.kcal_given <= day.low_kcal * (1 + 1e-9)
        for limit in volumes:
            assert day.ml_per_feed <= grams * (limit.value or 0.0) / 100 * (1 + 1e-9)
    starts = [day.low_kcal for day in plan.days]
    assert starts == sorted(starts)


def test_first_passage_counts_from_the_first_day_here() -> None:
    """By hand: weighed on the 1st, meal on the 2nd, faeces on the 5th and 9th; today the 10th."""
    case = Case(
        Animal("terrapene_ornata"),
        days=Days(
            weights=(Weight(dt.datetime(2026, 3, 1)),),
            meals=(Meal(dt.datetime(2026, 3, 2)),),
            faeces=(Faeces(dt.datetime(2026, 3, 9), 2, True), Faeces(dt.datetime(2026, 3, 5), 3)),
        ),
    )
    told = passages(case, dt.datetime(2026, 3, 10))

    assert (told.count, told.first_days, told.since_days, told.last_score) == (2, 4.0, 1.0, 2)
    assert any("undigested" in sentence for sentence in told.sentences)


def test_no_faeces_yet_are_watched_for_on_plain_flooring() -> None:
    """Common practice: the first faeces are watched for on plain flooring."""
    told = passages(Case(Animal("terrapene_ornata")), dt.datetime(2026, 3, 10))

    assert told.first_days is None
    assert "plain flooring" in told.sentences[0]
