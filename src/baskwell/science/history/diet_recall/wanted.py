"""The range that is wanted of each quantity of a diet; the cautious limits stand above every table."""

from dataclasses import dataclass

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.lookup import WantedNutrient, limits_for, nutrient_candidates
from baskwell.evidence.rows.nutrition import NutrientTarget
from baskwell.evidence.rows.safety import Limit
from baskwell.science.case.model import Animal
from baskwell.science.history.diet_recall.quantities import Quantity
from baskwell.science.history.finding import Wanted

WHOLE_DIET_UNITS = ("diet dry matter", "ratio")
LEVEL_WORDS = {
    "species_measured": "measured in its species",
    "species": "for its species",
    "borrowed": "borrowed from a related species",
    "group": "for its feeding group",
    "analogue": "of another kind of animal, for want of better",
}


@dataclass(frozen=True)
class Eater:
    """What of the animal decides which range is wanted."""

    taxon_id: str
    life_stage: str
    whole_prey_only: bool
    laying: bool

    @classmethod
    def of(cls, animal: Animal, evidence: Evidence, whole_prey_only: bool) -> "Eater":
        """Read life stage and laying from the case; ``whole_prey_only`` comes from the diet itself."""
        laying = animal.reproductive in ("gravid", "laid")
        return cls(animal.taxon, life_stage(animal, evidence), whole_prey_only, laying)


def life_stage(animal: Animal, evidence: Evidence) -> str:
    """The stated class, or else young or grown by age against the years to adult length; ``all`` if open.

    >>> from baskwell.evidence.loader import load_evidence
    >>> from baskwell.science.case.span import Span
    >>> life_stage(Animal("terrapene_ornata", age_years=Span.exactly(40)), load_evidence())
    'adult'
    """
    if animal.age_class is not None:
        return animal.age_class
    taxon = evidence.taxa.get(animal.taxon)
    if animal.age_years is None or taxon is None:
        return "all"
    low, high = taxon.years_to_adult_length_low, taxon.years_to_adult_length_high
    if high is not None and animal.age_years.low is not None and animal.age_years.low >= high:
        return "adult"
    if low is not None and animal.age_years.high is not None and animal.age_years.high < low:
        return "juvenile"
    return "all"


def wanted_of(quantity: Quantity, eater: Eater, evidence: Evidence) -> Wanted | None:
    """The wanted range of a quantity; None where neither a target nor a limit is published.

    The lower end is the recommended level of the preferred target row; its upper end counts only where the
    table says that exceeding it harms. Preformed vitamin A is asked for only
    where a minimum or a level for the species is published, and vitamin D3 in food only of animals that
    do not live by daylight. Vitamin A of plants never counts as too much.

    >>> from baskwell.evidence.loader import load_evidence
    >>> from baskwell.science.history.diet_recall.quantities import QUANTITIES
    >>> retinol = next(q for q in QUANTITIES if q.finding_id == "retinol_iu_per_kg_dm")
    >>> wanted = wanted_of(retinol, Eater("terrapene_ornata", "adult", False, False), load_evidence())
    >>> (wanted.low, wanted.high) if wanted else None
    (8600.0, 15000.0)
    """
    found = (
        nutrient_candidates(evidence, eater.taxon_id, quantity.target, eater.life_stage)
        if quantity.target
        else ()
    )
    target = found[0] if found else None
    limit = _limit(quantity, eater, evidence)
    low = _low(quantity, eater, target, evidence)
    high, high_from_limit = _high(quantity, target, limit)
    if low is None and high is None:
        return None
    uses_target = target if low is not None or not high_from_limit else None
    return _stated(low, high, uses_target, limit if high_from_limit else None)


def _low(quantity: Quantity, eater: Eater, target: WantedNutrient | None, evidence: Evidence) -> float | None:
    if target is None or not _is_asked_for(quantity, eater, target, evidence):
        return None
    row = target.row
    level = row.target_low if row.target_low is not None else row.minimum
    return None if level is None else level * quantity.per_target


def _is_asked_for(quantity: Quantity, eater: Eater, target: WantedNutrient, evidence: Evidence) -> bool:
    taxon = evidence.taxa[eater.taxon_id]
    if quantity.finding_id == "retinol_iu_per_kg_dm":
        own = target.level in ("species_measured", "species")
        return "herbivorous" not in taxon.tags and (own or target.row.minimum is not None)
    if quantity.finding_id == "vitamin_d3_iu_per_kg_dm":
        return bool({"nocturnal", "whole_prey"} & set(taxon.tags))
    return True


def _high(
    quantity: Quantity, target: WantedNutrient | None, limit: Limit | None
) -> tuple[float | None, bool]:
    """The upper end, and whether the cautious limit sets it (it does, unless a toxic level is stricter)."""
    if quantity.finding_id == "vitamin_a_activity_iu_per_kg_dm":
        return None, False
    own = _upper(quantity, target.row) if target is not None else None
    if limit is None or limit.value is None:
        return own, False
    toxic = target is not None and target.row.upper_is_toxic is True
    if toxic and own is not None and own < limit.value:
        return own, False
    return limit.value, True


def _upper(quantity: Quantity, row: NutrientTarget) -> float | None:
    if row.maximum is not None:
        return row.maximum * quantity.per_target
    harms = row.upper_is_toxic is not None  # y by toxicity, n by imbalance, empty = not known to harm
    if not harms or row.target_high is None or row.target_high == row.target_low:
        return None
    return row.target_high * quantity.per_target


def _limit(quantity: Quantity, eater: Eater, evidence: Evidence) -> Limit | None:
    if not quantity.limit or (quantity.limit == "calcium" and eater.laying):
        return None
    if quantity.limit == "vitamin_a" and eater.whole_prey_only:
        return None
    limits = limits_for(evidence, eater.taxon_id, quantity.limit, "warn")
    return next((limit for limit in limits if limit.unit.endswith(WHOLE_DIET_UNITS)), None)


def _stated(
    low: float | None, high: float | None, target: WantedNutrient | None, limit: Limit | None
) -> Wanted:
    said = [f"{target.row.source_id} ({LEVEL_WORDS[target.level]})"] if target is not None else []
    said += ["cautious limit of this tool"] if limit is not None else []
    ids = [target.row.row_id] if target is not None else []
    ids += [limit.limit_id] if limit is not None else []
    grade = "judgement" if limit is not None else target.row.evidence_grade if target is not None else ""
    return Wanted(low, high, "; ".join(said), grade, tuple(ids))
