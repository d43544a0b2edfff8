"""The sentences that text and page share: each says one part of a review, and computes nothing new."""

import math
from collections.abc import Iterable

from baskwell.paper.words import (
    about_in_twenty,
    capital,
    count,
    in_twenty,
    join_words,
    say,
    say_band,
    say_got,
    say_outside,
    say_range,
    step_of,
    twentieths,
    uncapital,
)
from baskwell.science.causes.ranking import Cause, Fault, JointSet, Question, Ranking, Reason
from baskwell.science.draws import Summary
from baskwell.science.history.finding import Finding, Verdict, Wanted
from baskwell.science.history.label import IngredientShare, NutrientReading
from baskwell.science.review import Review
from baskwell.science.telling import SignLine

VERDICTS: tuple[Verdict, ...] = ("does not fit", "doubtful", "fits", "not known")
SEVERITIES = {0: "barely", 1: "mild", 2: "moderate", 3: "severe"}
TOP_CAUSES = 5
TOP_REASONS = 4
REASONS_BY_PLACE = ((3, 2), (2, 1), (1, 1))
"""Reasons for and against that are told in short, for the first cause, the second, and the rest."""
LEAST_FAULT = 0.05
LEAST_PRESENT = 0.25
"""A fault is told in short where it explains this much of one sign and was there with this chance."""
REMAINDER = "other_or_none"
NARROW = 6
"""Dots: an interval up to this wide is told by its ends alone, a wider one by its best estimate too."""
ODDS_KEY = "(× 3) means: this makes the cause three times as likely (in odds); (÷ 3), a third as likely."


def findings_by_verdict(review: Review) -> list[tuple[Verdict, list[Finding]]]:
    """The findings under the four words, worst first; words without findings are left out."""
    grouped = [(verdict, [f for f in review.findings if f.verdict == verdict]) for verdict in VERDICTS]
    return [(verdict, found) for verdict, found in grouped if found]


def split_for_page(
    verdict: Verdict, findings: list[Finding]
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """Findings to be read at once, and those to be folded away: what fits or has no range."""
    if verdict == "fits":
        return (), tuple(findings)
    if verdict != "not known":
        return tuple(findings), ()
    return tuple(f for f in findings if f.got is None), tuple(f for f in findings if f.got is not None)


def fold_words(verdict: Verdict, findings: tuple[Finding, ...]) -> str:
    """What stands on a fold: the names of what is in it."""
    names = join_words(names_of(findings))
    return (
        capital(names)
        if verdict == "fits"
        else f"Reckoned, but nothing is published to hold it against: {names}"
    )


def unit_words(unit: str) -> str:
    """A unit behind a number: nothing for a bare ratio."""
    return "" if unit in ("", "1", "ratio") else f" {unit}"


def is_measured(finding: Finding) -> bool:
    """Whether there is a figure to compare, or a range to hold it against; else its sentence says all."""
    return finding.got is not None or _limited(finding.wanted)


def is_limited(finding: Finding) -> bool:
    """Whether a range is wanted at all."""
    return _limited(finding.wanted)


def _limited(wanted: Wanted | None) -> bool:
    return wanted is not None and (wanted.low is not None or wanted.high is not None)


def names_of(findings: Iterable[Finding]) -> tuple[str, ...]:
    """The names of findings as they stand in a sentence, each once."""
    return tuple(dict.fromkeys(uncapital(finding.name) for finding in findings))


def wanted_range(finding: Finding) -> str:
    """The wanted range without its unit."""
    if finding.wanted is None or not _limited(finding.wanted):
        return "nothing published"
    return say_range(finding.wanted.low, finding.wanted.high)


def wanted_words(finding: Finding) -> str:
    """The wanted range with its unit."""
    return wanted_range(finding) + (unit_words(finding.unit) if _limited(finding.wanted) else "")


def got_words(finding: Finding) -> str:
    """What was got: median and 90 % interval with the unit."""
    return "not known" if finding.got is None else say_got(finding.got) + unit_words(finding.unit)


def chance_words(finding: Finding) -> str:
    """On which side it lay, and how likely that is."""
    return "" if finding.chances is None else say_outside(finding.chances)


def sign_words(sign: SignLine) -> str:
    """One sign: its name and how bad it is."""
    if sign.severity is None:
        return f"{sign.name}, not scored"
    return f"{sign.name}, {SEVERITIES.get(sign.severity, str(sign.severity))}"


def urgency_words(review: Review, sign: SignLine) -> str:
    """What the red flags say of one sign, in a few words."""
    level = next((flag.level for flag in review.flags if flag.key == sign.sign_id), "")
    return {"vet now": "see a vet now", "within days": "a vet within days"}.get(level, level)


def sign_detail(sign: SignLine) -> str:
    """What was seen in words, the scored criterion first."""
    return "; ".join(part for part in (sign.criterion, sign.detail) if part)


def counted_as_well(review: Review) -> tuple[str, ...]:
    """Ids of signs that the ranking counts although nobody wrote them as signs: they follow from the rest."""
    written = {sign.sign_id for sign in review.signs}
    return tuple(sign for sign in review.ranking.signs_present if sign not in written)


def probability_words(cause: Cause) -> str:
    """The posterior in words: its interval, and where that is wide the best estimate before it."""
    low, best, high = (
        twentieths(p) for p in (cause.posterior.low, cause.posterior.median, cause.posterior.high)
    )
    if high - low <= NARROW:
        return about_in_twenty(cause.posterior)
    return (
        f"about {in_twenty(cause.posterior.median)} ({low} to {high})"
        if 0 < best < 20
        else in_twenty(cause.posterior.median) + f" ({low} to {high})"
    )


def explains_words(cause: Cause, signs: int) -> str:
    """How much of what is seen the cause explains, as a number of signs.

    The number is the expected number of present signs that would vanish if it alone were cured.
    """
    if signs == 0:
        return "there is no sign to explain"
    seen = "the one sign counted" if signs == 1 else f"the {signs} signs counted"
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


def listed_causes(ranking: Ranking) -> tuple[Cause, ...]:
    """The causes without the remainder, which is told in a sentence of its own."""
    return tuple(cause for cause in ranking.causes if cause.condition_id != REMAINDER)


def placed_causes(ranking: Ranking) -> tuple[tuple[int, Cause], ...]:
    """The causes worth reading with their place: the first few, and any as probable as even."""
    listed = enumerate(listed_causes(ranking), start=1)
    return tuple((n, cause) for n, cause in listed if n <= TOP_CAUSES or cause.posterior.median >= 0.5)


def rest_words(ranking: Ranking) -> str:
    """What was weighed beyond the listed causes."""
    left = len(listed_causes(ranking)) - len(placed_causes(ranking))
    parts = (
        [f"{count(left, 'more cause')} {'was' if left == 1 else 'were'} weighed and explain less"]
        if left
        else []
    )
    parts.append(f"something else, or nothing of this list: {about_in_twenty(ranking.remainder)}")
    return "; ".join(parts)


def settling(cause: Cause) -> tuple[str, ...]:
    """What would settle a cause, without empty marks."""
    return tuple(what for what in cause.settled_by if what.strip(" -"))


def places(ranking: Ranking) -> dict[str, int]:
    """The place of every listed cause in the explaining order, by id, from 1."""
    return {cause.condition_id: place for place, cause in enumerate(listed_causes(ranking), start=1)}


def moved_words(place: int, before: int | None) -> str:
    """Where a cause stood before the tests, if elsewhere."""
    return "" if before is None or before == place else f"was number {before}"


def was_words(cause: Cause, before: float | None) -> str:
    """The probability before the last answer, where it was another row of dots."""
    if before is None or twentieths(before) == twentieths(cause.posterior.median):
        return ""
    return f"; was about {twentieths(before)}"


def answers_by_effect(question: Question) -> tuple[tuple[str, str], ...]:
    """The answers of a question, those of one effect together.

    >>> answers = (("no", "a"), ("mild", "b"), ("severe", "b"))
    >>> question = Question("k", "sign", "?", "", 1.0, 0.5, 1.0, 1.0, answers)
    >>> answers_by_effect(question)
    (('no', 'a'), ('mild or severe', 'b'))
    """
    effects = dict.fromkeys(effect for _, effect in question.answers)
    return tuple(
        (join_words(tuple(answer for answer, does in question.answers if does == effect), last="or"), effect)
        for effect in effects
    )


def from_tests(reasons: tuple[Reason, ...]) -> tuple[Reason, ...]:
    """The reasons that rest on a test result."""
    return tuple(reason for reason in reasons if reason.kind == "test")


def share_words(part: IngredientShare) -> str:
    """The share of one ingredient in a feed, in per cent as fed.

    >>> share_words(IngredientShare("wheat", "wheat_ground", Summary(0.42, 0.3, 0.6), ""))
    '42 % (30 to 60)'
    """
    got = Summary(100.0 * part.share.median, 100.0 * part.share.low, 100.0 * part.share.high)
    step = step_of(got)
    if step is None:
        return f"{say(got.median)} %"
    return f"{say(got.median, step)} % ({say(got.low, step)} to {say(got.high, step)})"


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


def faults_told(ranking: Ranking, full: bool = False) -> tuple[Fault, ...]:
    """The husbandry faults that explain something of what is seen; in short, those likely there."""
    telling = [fault for fault in ranking.faults if fault.explains >= LEAST_FAULT]
    return tuple(f for f in telling if full or f.state == "unknown" or f.probability >= LEAST_PRESENT)


def fault_words(fault: Fault) -> str:
    """One fault: was it there, and how much of what is seen it accounts for."""
    there = (
        "not known whether it was there"
        if fault.state == "unknown"
        else f"was there: {in_twenty(fault.probability)}"
    )
    return f"{there}; accounts for {say(fault.explains, 0.1)} of the signs"


def absent_words(names: tuple[str, ...], not_examined: int) -> str:
    """Signs looked for and not found, by name, and how many nobody looked for."""
    looked = (
        f"Looked for and not there: {join_words(names)}" if names else "No sign was looked for and missed"
    )
    return f"{looked}. {count(not_examined, 'sign')} not examined."


def versions_words(review: Review) -> str:
    """What is needed to repeat the review."""
    return (
        f"Seed {review.seed}, {review.n_draws:,} draws, baskwell {review.code_version}, "
        f"evidence {review.evidence_version}; posterior {review.ranking.method}."
    )
