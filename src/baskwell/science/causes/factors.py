"""What moves the odds of a condition before any sign is looked at: exposures, age and sex, course.

Every factor multiplies the odds of one condition; each is kept with its reason so that the page can say
what spoke for and against.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.covers import cover_reaches, covers
from baskwell.evidence.rows.causes import OnsetClass
from baskwell.evidence.rows.clinical import ExposureEffect
from baskwell.science.case.model import Case, SignSeen
from baskwell.science.causes.network import Network
from baskwell.science.causes.ranking import ReasonKind
from baskwell.science.draws import Draws, pert
from baskwell.science.history.belief import Exposure


@dataclass(frozen=True)
class Factor:
    """One multiplier of the odds of one target (a condition, or a sign's background rate)."""

    target: str
    kind: ReasonKind
    key: str
    text: str
    said_by: str
    multiplier: Draws = field(repr=False, compare=False)

    @property
    def log_odds(self) -> float:
        """Log of the mean multiplier; minus infinity where it excludes."""
        mean = float(self.multiplier.mean())
        return float(np.log(mean)) if mean > 0 else -np.inf


def exposure_factors(
    exposures: Sequence[Exposure],
    evidence: Evidence,
    taxon_id: str,
    priors: Mapping[str, float],
    rng: np.random.Generator,
) -> tuple[Factor, ...]:
    """Odds factors of known exposures; an unknown exposure has none.

    ``priors`` gives the share of presented animals so exposed. The baseline odds of a condition average
    over exposed and unexposed animals, so an exposed one gets ``LR / (1 + q (LR - 1))`` and an unexposed
    one ``1 / (1 + q (LR - 1))``: knowing that a cause was absent counts as well.
    """
    effects = effects_on(evidence, taxon_id)
    known = [e for e in exposures if e.state == "known"]
    return tuple(
        _exposure_factor(exposure, effect, priors[exposure.exposure_id], rng)
        for exposure in known
        for effect in effects.get(exposure.exposure_id, ())
    )


def effects_on(evidence: Evidence, taxon_id: str) -> dict[str, list[ExposureEffect]]:
    """Effects of each exposure on a taxon; of several rows for one target the most specific."""
    best: dict[tuple[str, str], ExposureEffect] = {}
    for row in evidence.exposure_effects:
        if row.target_kind == "outcome" or not covers(evidence, row.taxon, taxon_id):
            continue
        key = (row.exposure_id, row.target_id)
        if key not in best or _breadth(evidence, row) < _breadth(evidence, best[key]):
            best[key] = row
    grouped: dict[str, list[ExposureEffect]] = {}
    for row in best.values():
        grouped.setdefault(row.exposure_id, []).append(row)
    return grouped


def _breadth(evidence: Evidence, row: ExposureEffect) -> float:
    return evidence.taxon_groups[row.taxon].n_taxa


def _exposure_factor(
    exposure: Exposure, effect: ExposureEffect, prior: float, rng: np.random.Generator
) -> Factor:
    p = exposure.probability
    ratio = _ratio(effect, rng, p.size)
    multiplier = (p * ratio + 1.0 - p) / (prior * ratio + 1.0 - prior)
    return Factor(
        effect.target_id, "exposure", exposure.exposure_id, exposure.because, effect.source, multiplier
    )


def _ratio(effect: ExposureEffect, rng: np.random.Generator, n_draws: int) -> Draws:
    if effect.low is None or effect.high is None:
        return np.full(n_draws, effect.mode)
    return np.exp(pert(rng, np.log(effect.low), np.log(effect.mode), np.log(effect.high), n_draws))


def animal_factors(
    case: Case, evidence: Evidence, rng: np.random.Generator, n_draws: int
) -> Iterator[Factor]:
    """Odds factors of taxon, age class, sex and reproductive state (``animal_fit.csv``)."""
    stated = {
        "age_class": age_class(case, evidence),
        "sex": case.animal.sex or "unknown",
        "reproductive": case.animal.reproductive,
    }
    for row in evidence.causes.animal_fit:
        if row.attribute == "taxon":
            fits = cover_reaches(evidence, row.value, case.animal.taxon)
        else:
            fits = row.value == stated[row.attribute]
        if fits:
            word = "" if row.attribute == "taxon" else f" {row.value}"
            text = f"{row.attribute.replace('_', ' ')}{word}: {row.why}"
            draws = pert(rng, row.low, row.mode, row.high, n_draws)
            yield Factor(row.condition_id, "animal", row.attribute, text, row.source, draws)


def age_class(case: Case, evidence: Evidence) -> str | None:
    """The age class: as stated, else from age against the years to adult length; None where unknown.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal
    >>> from baskwell.science.case.span import Span
    >>> age_class(Case(Animal("pogona_vitticeps", age_years=Span.exactly(0.4))), load_evidence())
    'juvenile'
    """
    if case.animal.age_class is not None or case.animal.age_years is None:
        return case.animal.age_class
    taxon = evidence.taxa[case.animal.taxon]
    grown = taxon.years_to_adult_length_low
    if grown is None:
        return None
    age = case.animal.age_years.middle
    return (
        "hatchling"
        if age < 0.1
        else "juvenile"
        if age < 0.6 * grown
        else "subadult"
        if age < grown
        else "adult"
    )


def course_factors(
    case: Case,
    present: Mapping[str, SignSeen],
    network: Network,
    evidence: Evidence,
    rng: np.random.Generator,
    n_draws: int,
) -> Iterator[Factor]:
    """Odds factors of how the story began and how long it has lasted."""
    classes = {row.onset_class: row for row in evidence.causes.onset_classes}
    onset_of = {row.condition_id: classes[row.onset_class] for row in evidence.causes.condition_onset}
    onset = _onset(case, present.values())
    floor = evidence.causes.choice("long_course_floor")
    for condition in network.condition_ids:
        kind = onset_of[condition]
        if onset and kind.onset_class != "any":
            yield _onset_factor(condition, kind, onset, rng, n_draws)
        days = _days(case, present, network, condition, evidence.causes.choice("link_counts_as_brought"))
        length = (kind.longest_days_low, kind.longest_days_mode, kind.longest_days_high)
        if days and all(length):
            yield _length_factor(
                condition, np.array(length, dtype=float), days, kind.source, floor, rng, n_draws
            )


def _onset(case: Case, signs: Iterable[SignSeen]) -> str | None:
    """The onset of the complaint: as stated, else of the most severe sign that has one."""
    told = [sign for sign in signs if sign.onset]
    worst = max(told, key=lambda sign: sign.severity or 0, default=None)
    return case.exam.onset or (worst.onset if worst else None)


def _days(
    case: Case, present: Mapping[str, SignSeen], network: Network, condition: str, brought: float
) -> float:
    """How long the longest sign that the condition brings has been there, in days; 0 where not told."""
    row = network.link_mean[network.condition_ids.index(condition)]
    columns = network.sign_index(present)
    told = [
        sign.since_days.middle
        for sign, column in zip(present.values(), columns, strict=True)
        if sign.since_days is not None and row[column] >= brought
    ]
    overall = case.exam.since_days.middle if case.exam.since_days else 0.0
    return max(told, default=overall)


def _onset_factor(
    condition: str, kind: OnsetClass, onset: str, rng: np.random.Generator, n_draws: int
) -> Factor:
    sudden = onset == "sudden"
    low, mode, high = (
        (kind.sudden_low, kind.sudden_mode, kind.sudden_high)
        if sudden
        else (kind.gradual_low, kind.gradual_mode, kind.gradual_high)
    )
    text = f"it began {'suddenly' if sudden else 'gradually'}"
    return Factor(condition, "course", "onset", text, kind.source, pert(rng, low, mode, high, n_draws))


def _length_factor(
    condition: str,
    length: Draws,
    days: float,
    said_by: str,
    floor: float,
    rng: np.random.Generator,
    n_draws: int,
) -> Factor:
    """No effect up to the longest usual course (low, most likely, high), then falling to the floor."""
    low, mode, high = np.log(length)
    longest = np.exp(pert(rng, low, mode, high, n_draws))
    multiplier = np.clip(np.exp(1.0 - days / longest), floor, 1.0)
    return Factor(condition, "course", "length", f"signs for about {days:.0f} days", said_by, multiplier)


def combine(factors: Iterable[Factor], target: str, overlap: float, n_draws: int) -> Draws:
    """The joint multiplier on one target, shape ``(n_draws,)``.

    Exposures overlap: ordered by size, each further one counts with ``overlap`` times the power of the
    one before. All others are taken as separate facts.
    """
    mine = [f for f in factors if f.target == target]
    total = np.ones(n_draws)
    for factor in mine:
        if factor.kind != "exposure":
            total = total * factor.multiplier
    for raising in (True, False):
        group = [f for f in mine if f.kind == "exposure" and (f.log_odds > 0) == raising]
        for k, factor in enumerate(sorted(group, key=lambda f: -abs(f.log_odds))):
            total = total * factor.multiplier ** (overlap**k)
    return total
