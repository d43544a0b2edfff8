"""Quality of life over time: arithmetic, alerts, forecast, record; a referral and never more."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.welfare import Course, Decision, Scoring, missing_in, scored, talks, welfare_course

EVIDENCE = load_evidence()
ITEMS = [item.item_id for item in EVIDENCE.welfare.welfare_items]
START = dt.datetime(2026, 3, 1, 9)
ENDING = ("euthan", "put down", "put to sleep", "kill", "end its life", "end of life", "humane end")


def scoring(day: float, score: int, by: str = "A", states: tuple[str, ...] = (), **other: int) -> Scoring:
    """All items at one score but for those named."""
    scores = {**dict.fromkeys(ITEMS, score), **other}
    return Scoring(START + dt.timedelta(days=day), by, scores, states)


def course(*scorings: Scoring, day: float) -> Course:
    """The course on a day."""
    return welfare_course(scorings, EVIDENCE, START + dt.timedelta(days=day))


def levels(told: Course) -> dict[str, str]:
    """Urgency by key."""
    return {flag.key: flag.level for flag in told.flags}


def test_the_score_is_the_sum_over_24() -> None:
    """Working checklist of the evidence: 12 items of 0 to 2, score = sum / 24."""
    assert len(ITEMS) == 12
    assert scored(scoring(0, 2, eats=0, mass=1), EVIDENCE).share == pytest.approx(21 / 24)


def test_items_left_out_are_a_range_not_fine() -> None:
    """Ten items at 2, two left out: 20 to 24 of 24, by what was scored 1."""
    scores = dict.fromkeys(ITEMS[:10], 2)
    told = scored(Scoring(START, "A", scores), EVIDENCE)

    assert (told.low, told.high, told.share) == pytest.approx((20 / 24, 1.0, 1.0))
    assert told.unscored == tuple(ITEMS[10:])


@pytest.mark.parametrize("scores", [{"eats": 3}, {"eats": -1}, {"tail": 1}])
def test_wrong_scores_are_refused_in_a_sentence(scores: dict[str, int]) -> None:
    """The error says what to write."""
    with pytest.raises(ValueError, match="write"):
        scored(Scoring(START, "A", scores), EVIDENCE)


def test_under_half_twice_running_refers_within_a_day() -> None:
    """Alert of the working checklist: under 0.5 twice running."""
    once = course(scoring(0, 2), scoring(7, 1, eats=0), day=7)
    twice = course(scoring(0, 1, mass=0), scoring(7, 1, mass=0), day=7)

    assert "low_score" not in levels(once)
    assert levels(twice)["low_score"] == "vet now"


def test_an_acute_item_at_zero_for_three_days_refers_within_a_day() -> None:
    """Alert of the working checklist: eating, breathing or pain at 0 for 3 days."""
    assert levels(course(scoring(0, 2, pain=0), day=2)) == {"pain": "watch"}
    assert levels(course(scoring(0, 2, pain=0), day=3)) == {"pain": "vet now"}
    assert levels(course(scoring(0, 2, pain=0), scoring(2, 2), day=4)) == {}
    assert levels(course(scoring(0, 2, reacts=0), day=9)) == {}


def test_a_winter_rest_is_told_beside_not_eating() -> None:
    """Winter rest, shed, eggs and a recent meal change eating: told, and still asked about."""
    told = course(scoring(0, 2, states=("winter rest",), eats=0), day=4)

    assert levels(told) == {"eats": "within days"}
    assert "winter rest" in told.flags[0].sentence


def test_unscored_items_that_could_pull_it_under_half_are_asked_for() -> None:
    """Eleven of 24 sure points: may be under half."""
    scores = {**dict.fromkeys(ITEMS[:5], 2), ITEMS[5]: 1}
    told = welfare_course(
        [Scoring(START, "A", scores), Scoring(START + dt.timedelta(days=7), "A", scores)],
        EVIDENCE,
        START + dt.timedelta(days=7),
    )

    assert levels(told)["low_score"] == "within days"


def test_a_falling_course_is_forecast_to_fall() -> None:
    """24, 21, 18, 15 of 24 a week apart: about -1/8 a week, and the forecast lies below the level."""
    scores = [{**dict.fromkeys(ITEMS, 2), **dict.fromkeys(ITEMS[: 3 * k], 1)} for k in range(4)]
    falling = [Scoring(START + dt.timedelta(weeks=k), "A", one) for k, one in enumerate(scores)]
    told = course(*falling, day=21)

    assert told.per_week is not None
    assert told.forecast is not None
    assert told.level is not None
    assert told.per_week.median == pytest.approx(-0.125, abs=0.04)
    assert told.forecast.median < told.level.median
    assert told.forecast.high - told.forecast.low > told.level.high - told.level.low


def test_two_people_far_apart_look_together() -> None:
    """24 and 12 of 24 on one day."""
    told = course(scoring(0, 2), scoring(0, 1, by="B"), day=0)

    assert any("apart" in ask for ask in told.asks)


def test_a_record_is_complete_or_says_what_is_missing() -> None:
    """Who, why, by which rule, when again; the veterinarian's own decision needs the name."""
    whole = Decision(
        START, "go on", "it eats again", ("A", "B"), "", "under half twice: ask", dt.date(2026, 3, 8)
    )
    bare = Decision(START, "go on", "", (), "", "", None)

    assert missing_in(whole) == ()
    assert len(missing_in(bare)) == 4


def test_an_unknown_prompt_is_refused() -> None:
    """The error lists what may be written."""
    with pytest.raises(ValueError, match="pain_not_controlled"):
        talks(["old"], EVIDENCE)


def test_prompts_refer_to_a_veterinarian() -> None:
    """Every prompt ends in a talk, never in an advice to end a life."""
    for flag in talks([row.prompt_id for row in EVIDENCE.welfare.welfare_prompts], EVIDENCE):
        assert "talk with the veterinarian" in flag.sentence
        assert not any(word in flag.sentence.lower() for word in ENDING)


SCORES = st.dictionaries(st.sampled_from(ITEMS), st.integers(0, 2))


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(0, 60), SCORES), max_size=6))
def test_any_scorings_are_answered_without_a_word_on_ending(
    told: list[tuple[float, dict[str, int]]],
) -> None:
    """Whatever was scored: shares between 0 and 1, referrals only."""
    scorings = [Scoring(START + dt.timedelta(days=day), "A", scores) for day, scores in told]
    found = course(*scorings, day=60)

    for summary in (found.level, found.forecast):
        assert summary is None or 0 <= summary.low <= summary.median <= summary.high <= 1
    words = " ".join([*(flag.sentence for flag in found.flags), *found.asks]).lower()
    assert not any(word in words for word in ENDING)


@settings(deadline=None)
@given(SCORES, st.sampled_from(ITEMS))
def test_scoring_an_item_never_widens_the_range(scores: dict[str, int], item: str) -> None:
    """More known is never less known."""
    before = scored(Scoring(START, "A", scores), EVIDENCE)
    after = scored(Scoring(START, "A", {**scores, item: scores.get(item, 1)}), EVIDENCE)

    assert after.high - after.low <= before.high - before.low + 1e-12
