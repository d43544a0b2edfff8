"""What a veterinarian or the source judged right or wrong, without saying how."""

from typing import Literal

from baskwell.science.draws import Draws
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion

Verdict = Literal["good", "poor"]
WEIGHED = {"uv_index_at_back", "basking_surface_c", "warm_side_c", "night_c", "relative_humidity_pct"}
"""Findings whose draws already lean towards what was judged."""


def is_weighed(opinion: Opinion) -> bool:
    """Whether an opinion rests on findings that hold the verdict already: it must not count twice."""
    return not WEIGHED.isdisjoint(opinion.finding_ids)


def verdict(facts: Facts, exposure_id: str) -> tuple[Verdict, str] | None:
    """The verdict on the most specific topic that bears on an exposure, with that topic; None without one.

    A topic judged both good and poor says nothing, and neither does a wider one then.
    """
    good, poor = facts.case.history.judged_good, facts.case.history.judged_poor
    for topic in facts.evidence.exposure_priors[exposure_id].topics:
        if topic in good and topic in poor:
            return None
        if topic in good:
            return "good", topic
        if topic in poor:
            return "poor", topic
    return None


def odds_factor(facts: Facts, found: Verdict) -> Draws:
    """By how much a verdict multiplies the odds: "good" lowers them, "poor" raises them mildly."""
    return facts.judgement(f"judged_{found}_odds")
