"""What it was really fed: from the words of a history to nutrients, shares and findings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from baskwell.evidence.catalogue import Evidence
from baskwell.science.case.model import Case, DietItem, Supplement
from baskwell.science.composition import compose
from baskwell.science.composition_index import CompositionIndex
from baskwell.science.draws import Draws
from baskwell.science.history.diet_recall.findings import Judge, contributions_of
from baskwell.science.history.diet_recall.lines import (
    COMPLETE_FEED,
    foods_named,
    is_readable,
    name_of,
    plate_of,
    short,
)
from baskwell.science.history.diet_recall.mixture import G_PER_KG, Mixture, eaten_a_day, mix
from baskwell.science.history.diet_recall.plate import NUTRIENTS, Larder, Plate
from baskwell.science.history.diet_recall.portions import yearly_shares
from baskwell.science.history.diet_recall.priors import Priors
from baskwell.science.history.diet_recall.quantities import QUANTITIES, carotene_used_by, measure, measured
from baskwell.science.history.diet_recall.result import DietRecall, RecalledItem, whole_prey_only
from baskwell.science.history.diet_recall.sentences import listed
from baskwell.science.history.diet_recall.shares import group_shares, share_findings
from baskwell.science.history.diet_recall.supplements import (
    add_supplements,
    as_supplement,
    foods_of,
    is_powder,
)
from baskwell.science.history.diet_recall.wanted import Eater
from baskwell.science.history.label import LabelReading


@dataclass(frozen=True)
class _Told:
    """The lines of a history sorted: food of now, food of an earlier time, supplements."""

    foods: tuple[DietItem, ...]
    earlier: tuple[DietItem, ...]
    supplements: tuple[Supplement, ...]


def recall_diet(
    case: Case,
    evidence: Evidence,
    rng: np.random.Generator,
    n_draws: int,
    labels: Mapping[str, LabelReading],
    index: CompositionIndex | None = None,
) -> DietRecall | None:
    """Recall the diet of a case in ``n_draws`` possible worlds; None where no food is told of at all.

    ``labels`` are the label readings of the case by id (``read_labels``); ``index`` saves building the food
    arrays twice in one review. The result does not depend on how large the portions were, nor on the units
    they were told in.

    >>> from baskwell.evidence.loader import load_evidence
    >>> from baskwell.science.case.model import Amount, Animal, History
    >>> lines = (DietItem("cat_food_dry", Amount(word="mostly")), DietItem("apple", Amount(word="sometimes")))
    >>> case = Case(Animal("terrapene_carolina"), History(diet=lines))
    >>> diet = recall_diet(case, load_evidence(), np.random.default_rng(1), 500, {})
    >>> diet.item_names() if diet else ()
    ('Dry cat food, complete', 'Apple with skin, raw')
    >>> diet is not None and bool((diet.per_kg_dm["crude_protein_pct_dm"] > 20).mean() > 0.9)
    True
    """
    priors = Priors(evidence, case.animal.taxon, n_draws, rng)
    history = _sorted(case, priors)
    if not history.foods:
        return None
    foods, gaps = _food_plates(
        case, history, labels, priors, index or CompositionIndex.from_evidence(evidence)
    )
    plates, eaten, more = _with_supplements(case, history, foods, priors)
    return _recalled(case, history, plates, eaten, (*gaps, *more), priors)


def _sorted(case: Case, priors: Priors) -> _Told:
    given = [item for item in case.history.diet if item.days_per_week is None or item.days_per_week.high != 0]
    powders = [item for item in given if is_powder(item, priors)]
    rest = [item for item in given if item not in powders]
    now = tuple(item for item in rest if item.period != "before")
    earlier = tuple(item for item in rest if item.period == "before")
    supplements = (*case.history.supplements, *(as_supplement(item) for item in powders))
    return _Told(now, earlier, supplements) if now else _Told(earlier, (), supplements)


@dataclass(frozen=True)
class _Foods:
    plates: tuple[Plate, ...]
    larder: Larder


def _food_plates(
    case: Case,
    history: _Told,
    labels: Mapping[str, LabelReading],
    priors: Priors,
    index: CompositionIndex,
) -> tuple[_Foods, tuple[str, ...]]:
    needed = {food for item in history.foods for food in foods_named(item, priors)}
    needed |= set(foods_of(history.supplements, priors))
    composition = compose(index, sorted(needed), NUTRIENTS, priors.rng, priors.n_draws)
    larder = Larder.stocked(priors.evidence.foods, composition)
    shares = yearly_shares(history.foods, priors, case.history.meals_per_week)
    plates = tuple(
        plate_of(item, share, larder, labels, priors)
        for item, share in zip(history.foods, shares, strict=True)
    )
    return _Foods(plates, larder), _told_gaps(case, history, labels, priors)


def _with_supplements(
    case: Case, history: _Told, foods: _Foods, priors: Priors
) -> tuple[tuple[Plate, ...], Draws, tuple[str, ...]]:
    need = case.history.fed_share_of_need
    need_met = priors.told(need, 0.0, 2.0) if need is not None else None
    eaten = np.maximum(eaten_a_day(mix(foods.plates, priors), case.animal, need_met, priors), 1e-6)
    added = add_supplements(history.supplements, foods.larder, eaten, priors)
    return (*foods.plates, *added.plates), eaten, added.gaps


def _told_gaps(
    case: Case, history: _Told, labels: Mapping[str, LabelReading], priors: Priors
) -> tuple[str, ...]:
    gaps = []
    if history.earlier:
        names = [short(name_of(item.food, priors)) for item in history.earlier]
        gaps.append(f"Fed at an earlier time and not counted: {listed(names)}.")
    if all(item.period == "before" for item in history.foods):
        gaps.append("Only the diet of an earlier time is told; it is taken as what it was fed.")
    seasons = {item.period for item in history.foods}
    if seasons in ({"summer"}, {"winter"}):
        gaps.append(f"Only its {seasons.pop()} food is told; it is taken for the whole year.")
    gaps += [_unread(item, priors) for item in history.foods if _is_unread(item, labels, priors)]
    if case.history.diet and not case.history.supplements:
        gaps.append("No supplement is mentioned, which does not mean that none was given.")
    return tuple(dict.fromkeys(gaps))


def _is_unread(item: DietItem, labels: Mapping[str, LabelReading], priors: Priors) -> bool:
    known = item.food in priors.evidence.foods or foods_named(item, priors)
    return not known and not is_readable(labels.get(item.food))


def _unread(item: DietItem, priors: Priors) -> str:
    name = "the pellets" if item.food == COMPLETE_FEED else short(name_of(item.food, priors))
    return f"What {name} held is not known from a label; any feed of that kind stands in."


def _recalled(
    case: Case,
    history: _Told,
    plates: Sequence[Plate],
    eaten: Draws,
    gaps: Sequence[str],
    priors: Priors,
) -> DietRecall:
    mixture = mix(plates, priors)
    used = carotene_used_by(priors)
    amounts = measured(mixture, used)
    contributions = contributions_of(mixture, plates, amounts, used)
    eater = Eater.of(case.animal, priors.evidence, whole_prey_only(mixture))
    judge = Judge(mixture, plates, contributions, used, eater, priors)
    findings = tuple(judge.finding(quantity, amounts[quantity.finding_id]) for quantity in QUANTITIES)
    dry, as_fed = group_shares(mixture, priors)
    borrowed = [judge.borrowed_gap(quantity) for quantity in QUANTITIES if len(quantity.rests_on) == 1]
    return DietRecall(
        items=_items(plates, mixture),
        per_kg_dm=amounts,
        per_1000_kcal=_per_1000_kcal(mixture, used),
        group_dry_shares=dry,
        group_as_fed_shares=as_fed,
        contributions=contributions,
        findings=(*findings, *share_findings(dry, as_fed, eater.life_stage, priors)),
        gaps=(*gaps, *_borrowed_gap([phrase for phrase in borrowed if phrase])),
        earlier=tuple(name_of(item.food, priors) for item in history.earlier),
        eaten_g_per_day=eaten,
        mixture=mixture,
    )


def _borrowed_gap(phrases: Sequence[str]) -> tuple[str, ...]:
    if not phrases:
        return ()
    return (f"Not in the tables, so the range of similar foods stands in: {'; '.join(phrases)}.",)


def _items(plates: Sequence[Plate], mixture: Mixture) -> tuple[RecalledItem, ...]:
    found = {}
    for plate in plates:
        ids = tuple(part.food.food_id for part in plate.parts)
        as_fed, dry = mixture.of_line(plate.key)
        found[plate.key] = RecalledItem(plate.key, plate.name, ids, plate.is_supplement, as_fed, dry)
    return tuple(found.values())


def _per_1000_kcal(mixture: Mixture, carotene_used: Draws) -> dict[str, Draws]:
    """Amounts per 1000 kcal; a per cent of dry matter becomes grams."""
    scaled = mixture.per_kg / mixture.kcal_per_kg * G_PER_KG
    amounts = {q.finding_id: measure(q.finding_id, scaled, carotene_used) for q in QUANTITIES}
    return {key: draws * 10.0 if key.endswith("_pct_dm") else draws for key, draws in amounts.items()}
