"""How likely each food, shown each way, is taken: Beta beliefs that start from what is known of the kind."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.covers import cover_reaches
from baskwell.evidence.rows.feeding import AppetitePrior
from baskwell.science.feeding.intake import Intake

Offer = tuple[str, str]  # food, presentation


@dataclass(frozen=True, slots=True)
class Acceptance:
    """The belief that an offer is taken: Beta(``taken``, ``refused``), both above zero.

    ``offers`` is how many offers to this animal it rests on, ``prior_id`` the row it started from.
    """

    food: str
    presentation: str
    taken: float
    refused: float
    offers: int
    prior_id: str

    @property
    def chance(self) -> float:
        """Mean probability that the next such offer is taken."""
        return self.taken / (self.taken + self.refused)

    def after(self, chance_taken: float) -> "Acceptance":
        """The belief after one more offer that was taken with this probability (0 or 1 where it is sure).

        >>> belief = Acceptance("kale", "chopped", 1.0, 1.0, 0, "any").after(1.0).after(0.0).after(1.0)
        >>> belief.taken, belief.refused   # Beta(1, 1), two taken, one refused
        (3.0, 2.0)
        """
        if not 0 <= chance_taken <= 1:
            raise ValueError(f"A probability lies between 0 and 1, got {chance_taken}.")
        taken, refused = self.taken + chance_taken, self.refused + 1 - chance_taken
        return Acceptance(self.food, self.presentation, taken, refused, self.offers + 1, self.prior_id)


def acceptances(
    intakes: Iterable[Intake],
    wanted: Iterable[Offer],
    evidence: Evidence,
    taxon_id: str,
    others: Mapping[Offer, tuple[float, float]] | None = None,
) -> dict[Offer, Acceptance]:
    """The belief for every offer that was made or is wanted.

    An offer counts as taken by the share of draws in which at least ``accepted_share`` of it was eaten.
    ``others`` are offers (taken, refused) to other animals of the kind; each counts ``others_weight``.

    >>> from baskwell.evidence import load_evidence
    >>> told = acceptances((), [("earthworm_nightcrawler", "moving")], load_evidence(), "terrapene_ornata")
    >>> told["earthworm_nightcrawler", "moving"].chance
    0.6
    """
    shared, told = others or {}, list(intakes)
    offers = dict.fromkeys([*((one.food, one.presentation) for one in told), *wanted])
    beliefs = {offer: _start(offer, evidence, taxon_id, shared.get(offer, (0.0, 0.0))) for offer in offers}
    enough = evidence.feeding.choice("accepted_share")
    for one in told:
        offer = (one.food, one.presentation)
        beliefs[offer] = beliefs[offer].after(float((one.share >= enough).mean()))
    return beliefs


def _start(offer: Offer, evidence: Evidence, taxon_id: str, others: tuple[float, float]) -> Acceptance:
    food, presentation = offer
    row = prior_of(offer, evidence, taxon_id)
    weight = evidence.feeding.choice("others_weight")
    taken = row.chance * row.strength + weight * others[0]
    refused = (1 - row.chance) * row.strength + weight * others[1]
    return Acceptance(food, presentation, taken, refused, 0, row.prior_id)


def prior_of(offer: Offer, evidence: Evidence, taxon_id: str) -> AppetitePrior:
    """The first row of ``appetite_priors.csv`` that fits kind, food and presentation."""
    food, presentation = offer
    words = food_words(food, evidence)
    return next(
        row
        for row in evidence.feeding.appetite_priors
        if cover_reaches(evidence, row.covers, taxon_id)
        and (not row.food_words or words & set(row.food_words))
        and (not row.presentations or presentation in row.presentations)
    )


def food_words(food: str, evidence: Evidence) -> frozenset[str]:
    """The group words of a food id or group word; empty for a label or an unnamed food.

    >>> from baskwell.evidence import load_evidence
    >>> sorted(food_words("collard_greens", load_evidence())), sorted(food_words("fruit", load_evidence()))
    (['greens'], ['fruit'])
    """
    known = evidence.foods.get(food)
    if known is None:
        return frozenset({food})
    return frozenset(row.group_word for row in evidence.diet_tables.food_groups if row.holds(known))
