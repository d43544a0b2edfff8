"""Days without food and mass loss against the limits of the kind: offer differently, assist, or vet."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from baskwell.evidence import Evidence
from baskwell.evidence.covers import cover_reaches, covers
from baskwell.evidence.rows.feeding import EscalationRule
from baskwell.science.case.span import Span
from baskwell.science.draws import Summary

Answer = Literal["keep on", "offer differently", "assisted feeding", "vet"]
RANK: tuple[Answer, ...] = ("keep on", "offer differently", "assisted feeding", "vet")
MEASURES = {
    "days": "days without food",
    "mass loss": "% of mass lost",
    "refused offers": "offers refused in a row",
}


@dataclass(frozen=True, slots=True)
class Fast:
    """What is known of a fast; None = not known.

    ``days`` without a taken offer, ``loss_pct`` of mass since it began, ``refused`` offers in a row (of
    weekly offers), ``age_class`` as in the case file.
    """

    days: Span | None
    loss_pct: Summary | None
    refused: int | None
    age_class: str | None
    after_winter_rest: bool = False


@dataclass(frozen=True, slots=True)
class Escalation:
    """What to do now.

    ``reasons`` name the rows that say so; ``asks`` what is not known; ``try_first`` how else to offer;
    ``cautions`` when a fast may be in order.
    """

    answer: Answer
    reasons: tuple[str, ...]
    evidence_ids: tuple[str, ...]
    asks: tuple[str, ...]
    try_first: tuple[str, ...]
    cautions: tuple[str, ...]


def escalate(fast: Fast, evidence: Evidence, taxon_id: str) -> Escalation:
    """The most urgent answer that any limit calls for. Where age is not known the stricter limit counts.

    Under the low limit, or after a refused offer: offer differently. From the low limit on: what the row
    says (veterinarian, or assisted feeding, which begins with a veterinarian).

    >>> from baskwell.evidence import load_evidence
    >>> fast = Fast(Span.exactly(4.0), Summary(1.0, 0.0, 2.0), None, "adult")
    >>> escalate(fast, load_evidence(), "iguana_iguana").answer
    'vet'
    """
    rules = tuple(_rules(fast, evidence, taxon_id))
    found = [told for rule in rules for told in _answers(rule, fast)]
    found += _after_waking(fast, evidence, taxon_id)
    if fast.refused:
        found.append(("offer differently", "last_offers", f"{fast.refused} offers refused in a row."))
    answers: list[Answer] = [one[0] for one in found]
    answer = max(answers, key=RANK.index, default=RANK[1])
    strongest = [(rule_id, words) for given, rule_id, words in found if given == answer]
    return Escalation(
        answer=answer,
        reasons=tuple(words for _, words in strongest),
        evidence_ids=tuple(rule_id for rule_id, _ in strongest),
        asks=tuple(_asks(fast, rules, evidence, taxon_id)),
        try_first=_rows(evidence, taxon_id, ("precondition", "appetite")),
        cautions=_rows(evidence, taxon_id, ("normal fasting",)),
    )


def _rules(fast: Fast, evidence: Evidence, taxon_id: str) -> Iterator[EscalationRule]:
    for rule in evidence.feeding.escalation_rules:
        of_age = not rule.age_classes or fast.age_class is None or fast.age_class in rule.age_classes
        of_time = fast.after_winter_rest or not rule.after_winter_rest
        if of_age and of_time and cover_reaches(evidence, rule.covers, taxon_id):
            yield rule


def _answers(rule: EscalationRule, fast: Fast) -> Iterator[tuple[Answer, str, str]]:
    """An open upper end counts as reaching any limit; of a range the high end counts."""
    got = _got(rule, fast)
    if got is None:
        return
    limit = f"{rule.low:g}" if rule.low == rule.high else f"{rule.low:g} to {rule.high:g}"
    words = f"{_told(rule, got)}; the limit is {limit} {rule.unit} ({rule.row_id}, {rule.source})."
    if got >= rule.low:
        yield rule.answer, rule.rule_id, words
    elif rule.measure == "mass loss" or got <= 0:
        yield "keep on", rule.rule_id, words
    else:
        yield "offer differently", rule.rule_id, words


def _after_waking(fast: Fast, evidence: Evidence, taxon_id: str) -> Iterator[tuple[Answer, str, str]]:
    """Row ``hib_wake``: a tortoise that has not eaten so many days after its winter rest."""
    row = evidence.body_condition["hib_wake"]
    limit = row.high_limit
    if not fast.after_winter_rest or fast.days is None or limit is None:
        return
    if covers(evidence, row.taxon, taxon_id) and (fast.days.high is None or fast.days.high >= limit):
        yield "vet", row.item_id, f"{limit:g} days or more since waking: {row.meaning} ({row.source})."


def _got(rule: EscalationRule, fast: Fast) -> float | None:
    if rule.measure == "mass loss":
        return None if fast.loss_pct is None else fast.loss_pct.median
    if rule.measure == "refused offers":
        return None if fast.refused is None else float(fast.refused)
    if fast.days is None:
        return None
    return float("inf") if fast.days.high is None else fast.days.high


def _told(rule: EscalationRule, got: float) -> str:
    many = "many" if got == float("inf") else f"{got:.3g}"
    return f"{many} {MEASURES[rule.measure]}"


def _asks(fast: Fast, rules: tuple[EscalationRule, ...], evidence: Evidence, taxon_id: str) -> Iterator[str]:
    if fast.days is None:
        yield "When did it last eat by itself? Until that is known, count from the day it came."
    if fast.loss_pct is None:
        yield "Mass loss is not known: weigh now and weekly, for mass decides more than days."
    elif _may_be_over(fast.loss_pct, rules):
        yield "Mass loss may already be over a limit: weigh again today, same scale, before feeding."
    if fast.age_class is None and any(rule.age_classes for rule in rules):
        yield "Its age is not known, so the limit for young animals counts."
    if not any(rule.measure == "days" for rule in rules):
        name = evidence.taxa[taxon_id].scientific_name
        yield f"No limit in days is published for {name} of this age: go by mass, ask a veterinarian early."


def _may_be_over(loss_pct: Summary, rules: tuple[EscalationRule, ...]) -> bool:
    limits = (rule.low for rule in rules if rule.measure == "mass loss")
    return any(loss_pct.median < limit <= loss_pct.high for limit in limits)


def _rows(evidence: Evidence, taxon_id: str, kinds: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(
        f"{row.step_or_threshold}: {row.action} ({row.row_id}, {row.source_id})."
        for row in evidence.weaning
        if row.kind in kinds and covers(evidence, row.taxon, taxon_id)
    )
