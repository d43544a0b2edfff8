"""Escalation by days and mass loss: the rows of weaning.csv, and the stricter answer where unsure."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.span import Span
from baskwell.science.draws import Summary
from baskwell.science.feeding import Escalation, Fast, escalate
from baskwell.science.feeding.escalation import RANK

EVIDENCE = load_evidence()


def answer(
    taxon: str,
    days: float | None,
    loss: float | None = 0.0,
    age: str | None = "adult",
    refused: int | None = None,
) -> Escalation:
    """The answer for a fast of some days with a loss known to one percent."""
    span = None if days is None else Span.exactly(days)
    lost = None if loss is None else Summary(loss, loss - 1, loss + 1)
    return escalate(Fast(span, lost, refused, age), EVIDENCE, taxon)


@pytest.mark.parametrize(
    ("taxon", "age", "days", "expected"),
    [
        ("terrapene_ornata", "adult", 13, "offer differently"),  # box_turtle.escalation.1: 14-21 days
        ("terrapene_ornata", "adult", 14, "vet"),
        ("terrapene_ornata", "juvenile", 5, "vet"),  # its note: juvenile 5-7 days
        ("iguana_iguana", "adult", 2, "offer differently"),  # green_iguana.escalation.1: 3-5 days
        ("iguana_iguana", "adult", 3, "vet"),
        ("pogona_vitticeps", "adult", 6, "offer differently"),  # bearded_dragon.escalation.1: 7-14 days
        ("pogona_vitticeps", "juvenile", 2, "vet"),  # its note: juvenile 2-3 days
        ("furcifer_pardalis", "adult", 3, "vet"),  # veiled_chameleon.escalation.1, "same for panther"
        ("python_regius", "adult", 60, "keep on"),  # by mass, not days (ENVIRO_BP, MCCUE07)
        ("python_regius", "juvenile", 7, "vet"),  # ball_python.escalation.1
    ],
)
def test_days_without_food(taxon: str, age: str, days: float, expected: str) -> None:
    """Expected: the row of weaning.csv named beside each."""
    assert answer(taxon, days, age=age).answer == expected


@pytest.mark.parametrize(
    ("taxon", "loss", "expected"),
    [
        ("trachemys_scripta", 9.0, "keep on"),
        ("trachemys_scripta", 10.0, "assisted feeding"),  # all.escalation.1 (LAF_HOWTO)
        ("trachemys_scripta", 20.0, "vet"),  # all.escalation.3 (KAPLAN_BMR)
        ("python_regius", 10.0, "vet"),  # ball_python.escalation.2
        ("pantherophis_guttatus", 10.0, "vet"),  # corn_snake.escalation.1
    ],
)
def test_mass_loss(taxon: str, loss: float, expected: str) -> None:
    """Expected: the row of weaning.csv named beside each."""
    assert answer(taxon, None, loss).answer == expected


def test_a_corn_snake_hatchling_is_assisted_after_three_refused_meals() -> None:
    """Row corn_snake_hatchling.escalation.1: 3-5 consecutive weekly offers."""
    assert answer("pantherophis_guttatus", 21, age="hatchling", refused=2).answer == "offer differently"
    assert answer("pantherophis_guttatus", 21, age="hatchling", refused=3).answer == "assisted feeding"


def test_a_refused_offer_is_offered_differently_even_without_a_limit_in_days() -> None:
    """A slider has no row in days: one refused offer is still no reason to go on as before."""
    assert answer("trachemys_scripta", 3, refused=0).answer == "keep on"
    assert answer("trachemys_scripta", 3, refused=1).answer == "offer differently"


def test_an_unknown_age_takes_the_limit_of_the_young() -> None:
    """Unknown is never taken as fine."""
    told = answer("terrapene_ornata", 5, age=None)

    assert told.answer == "vet"
    assert any("age is not known" in ask for ask in told.asks)


def test_nothing_known_asks_for_everything() -> None:
    """Neither days nor mass: offer differently, and ask for both."""
    told = answer("terrapene_ornata", None, None)

    assert told.answer == "offer differently"
    assert len(told.asks) == 2
    assert any("check temperatures first" in one for one in told.try_first)


def test_an_open_end_counts_as_long() -> None:
    """More than five days, end unknown, reaches any limit."""
    fast = Fast(Span(5.0, None), None, None, "adult")

    assert escalate(fast, EVIDENCE, "terrapene_ornata").answer == "vet"


def test_kinds_without_a_limit_in_days_are_told_so() -> None:
    """No row speaks of sliders: silence is said."""
    assert any("No limit in days" in ask for ask in answer("trachemys_scripta", 10).asks)


def test_a_loss_that_may_be_over_asks_to_weigh_again() -> None:
    """9.5 % known to one percent may be 10 %."""
    assert any("weigh again today" in ask for ask in answer("trachemys_scripta", 3, 9.5).asks)


def test_rules_hold_the_figures_of_their_rows() -> None:
    """escalation_rules.csv repeats weaning.csv but for figures that stand in a note."""
    rows = {row.row_id: row for row in EVIDENCE.weaning}
    for rule in EVIDENCE.feeding.escalation_rules:
        row = rows[rule.row_id]
        if rule.from_note:
            assert f"{rule.low:g}-{rule.high:g} days" in row.note
        else:
            assert (rule.low, rule.high, rule.unit) == (row.value_low, row.value_high, row.unit)


@settings(deadline=None)
@given(
    st.sampled_from(sorted(EVIDENCE.taxa)),
    st.floats(0, 60),
    st.floats(0, 60),
    st.floats(0, 30),
    st.floats(0, 30),
)
def test_longer_and_thinner_is_never_less_urgent(
    taxon: str, days: float, more_days: float, loss: float, more_loss: float
) -> None:
    """The answer rises with days and with loss."""
    one = answer(taxon, days, loss, None).answer
    other = answer(taxon, days + more_days, loss + more_loss, None).answer

    assert RANK.index(other) >= RANK.index(one)
