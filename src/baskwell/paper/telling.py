"""The sentences that text and page share: each says one part of a review, and computes nothing new."""

import math

from baskwell.paper.words import (
    about_in_twenty,
    count,
    in_twenty,
    join_words,
    say,
    say_band,
    say_got,
    say_outside,
    say_range,
    twentieths,
)
from baskwell.science.causes.ranking import Cause, Fault, JointSet, Ranking, Reason
from baskwell.science.history.finding import Finding, Verdict, Wanted
from baskwell.science.history.label import IngredientShare, NutrientReading
from baskwell.science.review import Review
from baskwell.science.telling import SignLine

VERDICTS: tuple[Verdict, ...] = ("does not fit", "doubtful", "fits", "not known")
SEVERITIES = {0: "barely", 1: "mild", 2: "moderate", 3: "severe"}
TOP_CAUSES = 6
TOP_REASONS = 4
LEAST_FAULT = 0.02
"""Of one sign: a fault that explains less of what is seen is not listed."""
ODDS_KEY = "(× 3) means: this makes the cause three times as likely (in odds); (÷ 3), a third as likely."


def findings_by_verdict(review: Review) -> list[tuple[Verdict, list[Finding]]]:
    """The findings under the four words, worst first; words without findings are left out."""
    grouped = [(verdict, [f for f in review.findings if f.verdict == verdict]) for verdict in VERDICTS]
    return [(verdict, found) for verdict, found in grouped if found]


def unit_words(unit: str) -> str:
    """A unit behind a number: nothing for a bare ratio."""
    return "" if unit in ("", "1", "ratio") else f" {unit}"


def wanted_range(finding: Finding) -> str:
    """The wanted range without its unit."""
    return (
        "no range is known" if finding.wanted is None else say_range(finding.wanted.low, finding.wanted.high)
    )


def wanted_words(finding: Finding) -> str:
    """The wanted range with its unit."""
    return wanted_range(finding) + (unit_words(finding.unit) if finding.wanted is not None else "")


def got_words(finding: Finding) -> str:
    """What was got: median and 90 % interval with the unit."""
    return "not known" if finding.got is None else say_got(finding.got) + unit_words(finding.unit)


def chance_words(finding: Finding) -> str:
    """On which side it lay, and how likely that is."""
    return "" if finding.chances is None else say_outside(finding.chances)


def source_words(wanted: Wanted) -> str:
    """Who says what is wanted, and how well founded that is."""
    grade = f" (grade: {wanted.grade})" if wanted.grade else ""
    return f"{wanted.said_by}{grade}"


def sign_words(sign: SignLine) -> str:
    """One sign: its name and how bad it is."""
    if sign.severity is None:
        return f"{sign.name}, not scored"
    return f"{sign.name}, {SEVERITIES.get(sign.severity, str(sign.severity))}"


def sign_detail(sign: SignLine) -> str:
    """What was seen in words, the scored criterion first."""
    return "; ".join(part for part in (sign.criterion, sign.detail) if part)


def probability_words(cause: Cause) -> str:
    """The posterior in words."""
    return about_in_twenty(cause.posterior)


def explains_words(cause: Cause, signs: int) -> str:
    """How much of what is seen the cause explains, as a number of signs.

    The number is the expected number of present signs that would vanish if it alone were cured.
    """
    if signs == 0:
        return "there is no sign to explain"
    seen = "the one sign seen" if signs == 1 else f"the {signs} signs seen"
    if cause.explains.median <= 0.05:
        return f"explains next to nothing of {seen}"
    low, high = say(cause.explains.low, 0.1), say(cause.explains.high, 0.1)
    spread = f" ({low} to {high})" if low != high else ""
    return f"explains about {say(cause.explains.median, 0.1)}{spread} of {seen}"


def first_words(cause: Cause) -> str:
    """How often the cause leads the explaining order, over the possible worlds."""
    dots = twentieths(cause.chance_first)
    if dots in (0, 20):
        return "hardly ever first" if dots == 0 else "first in nearly all possible worlds"
    return f"first in {dots} of 20 possible worlds"


def odds_words(reason: Reason) -> str:
    """What a reason does to the odds, as a factor."""
    if not math.isfinite(reason.log_odds):
        return "settles it" if reason.log_odds > 0 else "rules it out"
    factor = math.exp(min(abs(reason.log_odds), 20.0))
    told = say(factor, 0.1) if factor < 9.95 else say(factor, 1.0 if factor < 100 else 100.0)
    return f"{'×' if reason.log_odds >= 0 else '÷'} {told}"


def top_causes(ranking: Ranking) -> tuple[Cause, ...]:
    """The causes worth reading, in the explaining order: the first few, and any as probable as even."""
    return tuple(c for i, c in enumerate(ranking.causes) if i < TOP_CAUSES or c.posterior.median >= 0.5)


def rest_words(ranking: Ranking) -> str:
    """What was weighed beyond the listed causes."""
    left = len(ranking.causes) - len(top_causes(ranking))
    parts = (
        [f"{count(left, 'more cause')} {'was' if left == 1 else 'were'} weighed and explain less"]
        if left
        else []
    )
    parts.append(f"something else, or nothing of this list: {about_in_twenty(ranking.remainder)}")
    return "; ".join(parts)


def from_tests(reasons: tuple[Reason, ...]) -> tuple[Reason, ...]:
    """The reasons that rest on a test result."""
    return tuple(reason for reason in reasons if reason.kind == "test")


def share_words(part: IngredientShare) -> str:
    """The share of one ingredient in a feed, in per cent as fed.

    >>> from baskwell.science.draws import Summary
    >>> share_words(IngredientShare("wheat", "wheat_ground", Summary(0.42, 0.3, 0.6), ""))
    '42 % (30 to 60)'
    """
    low, median, high = (
        say(100.0 * value, 1.0) for value in (part.share.low, part.share.median, part.share.high)
    )
    return f"{median} %" if low == high else f"{median} % ({low} to {high})"


def band_words(nutrient: NutrientReading) -> str:
    """What is possible at all for a nutrient of a feed, and the remark on it."""
    low = nutrient.lowest if nutrient.lowest_any_batch is None else nutrient.lowest_any_batch
    high = nutrient.highest if nutrient.highest_any_batch is None else nutrient.highest_any_batch
    bounded = low is not None or high is not None
    band = f"possible: {say_band(low, high)}" if bounded else ""
    return "; ".join(part for part in (band, nutrient.note) if part)


def joint_words(joint: JointSet) -> str:
    """A set of causes that may be true together, and how likely exactly that set is."""
    names = join_words(joint.names) if joint.names else "none of the listed causes"
    alone = " alone" if len(joint.names) == 1 else ""
    return f"{names}{alone}: {in_twenty(joint.probability)}"


def faults_told(ranking: Ranking) -> tuple[Fault, ...]:
    """The husbandry faults that explain something of what is seen."""
    return tuple(fault for fault in ranking.faults if fault.explains >= LEAST_FAULT)


def fault_words(fault: Fault) -> str:
    """One fault: was it there, and how much of what is seen it accounts for."""
    there = (
        "not known whether it was there"
        if fault.state == "unknown"
        else f"was there: {in_twenty(fault.probability)}"
    )
    return f"{there}; accounts for {say(fault.explains, 0.1)} of the signs"


def absent_words(ranking: Ranking, names: dict[str, str] | None = None) -> str:
    """Signs looked for and not found, and how many nobody looked for."""
    absent = tuple((names or {}).get(sign, sign.replace("_", " ")) for sign in ranking.signs_absent)
    looked = (
        f"Looked for and not there: {join_words(absent)}" if absent else "No sign was looked for and missed"
    )
    return f"{looked}. {count(ranking.signs_not_examined, 'sign')} not examined."


def versions_words(review: Review) -> str:
    """What is needed to repeat the review."""
    return (
        f"Seed {review.seed}, {review.n_draws:,} draws, baskwell {review.code_version}, "
        f"evidence {review.evidence_version}; posterior {review.ranking.method}."
    )
