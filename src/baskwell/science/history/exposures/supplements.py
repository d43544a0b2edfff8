"""What the supplements told of say about a kind of agent."""

from dataclasses import dataclass

from baskwell.science.case.model import Supplement
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import highest
from baskwell.science.history.exposures.timing import share_at_most
from baskwell.science.history.exposures.words import chance_of, mentions


@dataclass(frozen=True)
class Given:
    """Probability that a kind of agent was given lately, and the most often that it was, in days a week."""

    chance: Draws
    days_per_week: Draws


def supplement(facts: Facts, means: str) -> Given | None:
    """What was given of one kind of agent; None where the history names no supplement that bears on it.

    A supplement stated with 0 days a week, or stopped months ago, was not given. Days not told are drawn
    from a judgement row.
    """
    rows = [row for row in facts.case.history.supplements if mentions(facts, "agent", row.agent, means)]
    if not rows:
        return None
    chances = [chance_of(facts, "agent", [row.agent], means) * _still_given(facts, row) for row in rows]
    days = [_days(facts, row) for row in rows]
    return Given(highest(*chances), highest(*days))


def no_supplement_told(facts: Facts) -> bool:
    """Whether the history names no supplement at all: nothing is known of them then."""
    return not facts.case.history.supplements


def _still_given(facts: Facts, row: Supplement) -> Draws:
    if row.days_per_week is not None and row.days_per_week.high == 0:
        return facts.constant(0.0)
    if row.stopped_months_ago is not None:
        return facts.constant(1.0) * share_at_most(
            row.stopped_months_ago, facts.judgement("supplement_lasts_months")
        )
    return facts.constant(1.0)


def _days(facts: Facts, row: Supplement) -> Draws:
    stated = row.days_per_week
    if stated is None:
        return facts.judgement("supplement_days_not_told")
    low, high = stated.low or 0.0, stated.high if stated.high is not None else 7.0
    return facts.between(f"days {low} to {high}", low, (low + high) / 2.0, high)
