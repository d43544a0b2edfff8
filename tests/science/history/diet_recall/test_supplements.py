"""Powders, drops and capsules on top of the food."""

import numpy as np
import pytest

from baskwell.evidence.loader import load_evidence
from baskwell.science.case.model import Amount, Animal, Case, DietItem, History, Supplement
from baskwell.science.case.span import Span
from baskwell.science.history.diet_recall import DietRecall, recall_diet
from baskwell.science.history.diet_recall.mixture import G_PER_KG
from baskwell.science.history.diet_recall.plate import WATER

EVIDENCE = load_evidence()
CRICKETS = (DietItem("cricket_adult", Amount(word="only")),)


def recalled(
    *supplements: Supplement, diet: tuple[DietItem, ...] = CRICKETS, mass_g: float = 45.0
) -> DietRecall:
    """A leopard gecko with supplements."""
    animal = Animal("eublepharis_macularius", mass_g=Span.exactly(mass_g))
    case = Case(animal, History(diet=diet, supplements=supplements))
    got = recall_diet(case, EVIDENCE, np.random.default_rng(1), 2000, {})
    assert got is not None
    return got


def daily(agent: str, strength: str = "", **rest: object) -> Supplement:
    """A supplement given on all days."""
    return Supplement(agent, days_per_week=Span.exactly(7), strength=strength, **rest)  # type: ignore[arg-type]


def median(diet: DietRecall, finding_id: str) -> float:
    """Median of one quantity."""
    return float(np.median(diet.per_kg_dm[finding_id]))


def test_a_capsule_of_known_strength_is_spread_over_the_food_eaten() -> None:
    """By hand: IU a day / dry matter eaten a day, world by world."""
    plain, dosed = recalled(), recalled(daily("vitamin_a", "8000 IU per capsule"))
    eaten = dosed.eaten_g_per_day / G_PER_KG
    dry = 1 - dosed.mixture.per_kg[WATER] / G_PER_KG
    expected = 8000 / (eaten * dry)
    added = dosed.per_kg_dm["retinol_iu_per_kg_dm"] - np.median(plain.per_kg_dm["retinol_iu_per_kg_dm"])
    assert np.median(added) == pytest.approx(np.median(expected), rel=0.05)


def test_a_label_strength_that_was_measured_multiplies() -> None:
    """Ten times the label is ten times the vitamin."""
    once = recalled(daily("vitamin_a", "8000 IU per capsule"))
    ten = recalled(daily("vitamin_a", "8000 IU per capsule", times_label_strength=Span.exactly(10)))
    assert median(ten, "retinol_iu_per_kg_dm") == pytest.approx(
        10 * median(once, "retinol_iu_per_kg_dm"), rel=0.03
    )


def test_dusting_with_plain_calcium_lifts_calcium_to_phosphorus_above_one() -> None:
    """nutrition/README, What is solid: dusting brings crickets above Ca:P 1 (Schlegel 2005)."""
    assert median(recalled(), "ca_p_ratio") < 0.3
    assert median(recalled(daily("calcium_carbonate", amount=Amount(word="dust"))), "ca_p_ratio") > 1.0


def test_heavy_laboratory_dusting_multiplies_calcium_as_published() -> None:
    """nutrition/worked_examples.csv W19 (SCHLEGEL05): 10 % of insect weight: "more than 27 times"."""
    powder = daily("calcium_carbonate", amount=Amount(share=Span.exactly(0.1)))
    held = [recalled(*rows).mixture.per_kg[5] for rows in ((), (powder,))]
    assert np.median(held[1]) / np.median(held[0]) > 27


def test_cuttlebone_is_a_wide_unknown_and_asked_about() -> None:
    """How much is scraped off and eaten is not known (nutrition/agents.csv)."""
    diet = recalled(Supplement("cuttlebone"))
    low, high = np.quantile(diet.per_kg_dm["calcium_pct_dm"], [0.05, 0.95])
    assert high > 3 * low
    calcium = next(f for f in diet.findings if f.finding_id == "calcium_pct_dm")
    assert "cuttlebone" in calcium.ask


def test_an_unread_multivitamin_widens_vitamin_a_and_asks_for_the_label() -> None:
    """Unknown strength is a wide prior, never nothing."""
    plain, given = recalled(), recalled(daily("multivitamin"))
    assert np.std(given.per_kg_dm["retinol_iu_per_kg_dm"]) > np.std(plain.per_kg_dm["retinol_iu_per_kg_dm"])
    retinol = next(f for f in given.findings if f.finding_id == "retinol_iu_per_kg_dm")
    assert "strength" in retinol.ask or retinol.verdict == "fits"


def test_a_supplement_never_given_or_stopped_is_not_counted() -> None:
    """0 days a week is stated as never given; stopped months ago is told as a gap."""
    never = recalled(Supplement("calcium_carbonate", days_per_week=Span.exactly(0)))
    stopped = recalled(Supplement("calcium_carbonate", stopped_months_ago=Span.exactly(8)))
    assert median(never, "ca_p_ratio") < 0.3
    assert median(stopped, "ca_p_ratio") < 0.3
    assert any("stopped before" in gap for gap in stopped.gaps)


def test_a_supplement_of_unknown_kind_is_a_gap_with_a_question() -> None:
    """Nothing is invented for it, and it is not forgotten."""
    assert any("What is printed on it?" in gap for gap in recalled(Supplement("unspecified")).gaps)


def test_a_drug_is_no_supplement() -> None:
    """Treatments by mouth bring no nutrients."""
    assert recalled(Supplement("benzimidazole")).n_items == 1
    assert len(recalled(Supplement("benzimidazole")).items) == 1


def test_a_salt_listed_among_the_foods_is_a_supplement() -> None:
    """A dusted salt is not a tenth of the meal."""
    diet = recalled(diet=(*CRICKETS, DietItem("calcium_carbonate_pure", Amount(word="dust"))))
    assert diet.n_items == 1
    salt = next(item for item in diet.items if item.is_supplement)
    assert np.median(salt.as_fed_share) < 0.06


def test_the_same_powder_means_less_to_a_large_animal() -> None:
    """A pinch is shared out over what is eaten."""
    pinch = daily("calcium_carbonate", amount=Amount(word="pinch"))
    small, large = recalled(pinch, mass_g=5), recalled(pinch, mass_g=500)
    assert median(small, "calcium_pct_dm") > median(large, "calcium_pct_dm")
