"""Wanted ranges are those of the tables, with the cautious limits above them."""

import pytest

from baskwell.evidence.loader import load_evidence
from baskwell.science.case.model import Animal
from baskwell.science.case.span import Span
from baskwell.science.history.diet_recall.quantities import QUANTITIES, Quantity
from baskwell.science.history.diet_recall.wanted import Eater, life_stage, wanted_of

EVIDENCE = load_evidence()
BY_ID = {quantity.finding_id: quantity for quantity in QUANTITIES}


def wanted(
    taxon: str, finding_id: str, stage: str = "adult", prey: bool = False, laying: bool = False
) -> tuple[float | None, float | None]:
    """Low and high end of what is wanted; both None where nothing is."""
    got = wanted_of(BY_ID[finding_id], Eater(taxon, stage, prey, laying), EVIDENCE)
    return (got.low, got.high) if got is not None else (None, None)


@pytest.mark.parametrize(
    ("taxon", "finding_id", "low", "high"),
    [
        ("terrapene_ornata", "retinol_iu_per_kg_dm", 8600, 15000),
        ("terrapene_ornata", "crude_protein_pct_dm", 25, 40),
        ("trachemys_scripta", "retinol_iu_per_kg_dm", 8600, 15000),
        ("testudo_hermanni", "crude_fibre_pct_dm", 20, 35),
        ("testudo_hermanni", "crude_protein_pct_dm", 18, None),
        ("testudo_hermanni", "retinol_iu_per_kg_dm", None, 5000),
        ("pogona_vitticeps", "vitamin_a_activity_iu_per_kg_dm", 15000, None),
        ("pogona_vitticeps", "calcium_pct_dm", 1.0, 3.0),
        ("eublepharis_macularius", "crude_protein_pct_dm", 30, None),
        ("eublepharis_macularius", "vitamin_d3_iu_per_kg_dm", 500, 2000),
        ("python_regius", "calcium_pct_dm", 0.8, 3.0),
        ("iguana_iguana", "fat_pct_dm", 3, 6),
    ],
)
def test_published_ranges_of_seven_species(
    taxon: str, finding_id: str, low: float | None, high: float | None
) -> None:
    """Preferred rows of nutrition/nutrient_targets.csv (MSD_TAB, working targets); safety/limits.csv."""
    assert wanted(taxon, finding_id) == (low, high)


def test_limits_stand_above_every_table() -> None:
    """safety/limits.csv: cap_ratio_warn 6, ca_diet_warn 3, d3_diet_warn 2000, va_diet_herb_warn 5000."""
    assert wanted("testudo_hermanni", "ca_p_ratio")[1] == 6.0
    assert wanted("testudo_hermanni", "calcium_pct_dm")[1] == 3.0
    assert wanted("pogona_vitticeps", "vitamin_d3_iu_per_kg_dm")[1] == 2000.0
    assert wanted("testudo_hermanni", "retinol_iu_per_kg_dm")[1] == 5000.0
    assert wanted("pogona_vitticeps", "retinol_iu_per_kg_dm")[1] == 20000.0


def test_whole_prey_has_no_vitamin_a_ceiling() -> None:
    """safety/limits.csv va_diet_whole_prey: normal mice lie above 100,000 IU per kg dry matter."""
    assert wanted("python_regius", "retinol_iu_per_kg_dm", prey=True)[1] is None


def test_plants_never_count_as_too_much_vitamin_a() -> None:
    """limits.csv va_diet_herb_warn: plant carotenoids never count towards toxicity."""
    for taxon in ("testudo_hermanni", "terrapene_ornata", "pogona_vitticeps", "iguana_iguana"):
        assert wanted(taxon, "vitamin_a_activity_iu_per_kg_dm")[1] is None


def test_laying_females_have_no_calcium_ceiling() -> None:
    """limits.csv ca_diet_warn: laying females excepted."""
    low, high = wanted("testudo_hermanni", "calcium_pct_dm", laying=True)
    assert low == 1.0
    assert high != 3.0


def test_no_vitamin_d3_is_asked_of_the_food_of_a_day_animal() -> None:
    """nutrition/README, What is solid: oral D3 cannot replace UVB in the bearded dragon."""
    assert wanted("pogona_vitticeps", "vitamin_d3_iu_per_kg_dm")[0] is None


def test_vitamin_e_targets_are_turned_into_milligrams() -> None:
    """foods/README, Units: 1 IU of the natural form is 0.67 mg; the table asks 200 IU (MSD_TAB)."""
    assert wanted("python_regius", "vitamin_e_mg_per_kg_dm")[0] == pytest.approx(134.0)


def test_oxalate_has_no_published_limit() -> None:
    """nutrition/README: two searches found none."""
    assert wanted("testudo_hermanni", "oxalate_mg_per_kg_dm") == (None, None)


def test_every_wanted_range_names_who_says_so() -> None:
    """Source words, grade and keys are there for every quantity of every profiled species."""
    taxa = [taxon.taxon_id for taxon in EVIDENCE.taxa.values() if taxon.profile and taxon.rank == "species"]
    for taxon in taxa:
        for quantity in QUANTITIES:
            _check(quantity, taxon)


def _check(quantity: Quantity, taxon: str) -> None:
    got = wanted_of(quantity, Eater(taxon, "adult", False, False), EVIDENCE)
    if got is None:
        return
    assert got.said_by
    assert got.grade
    assert got.evidence_ids
    assert got.low is None or got.high is None or got.low <= got.high


def test_life_stage_by_class_by_age_and_unknown() -> None:
    """Years to adult length: clinical/taxa.csv."""
    assert life_stage(Animal("testudo_hermanni", age_class="hatchling"), EVIDENCE) == "hatchling"
    assert life_stage(Animal("testudo_hermanni", age_years=Span.exactly(60)), EVIDENCE) == "adult"
    assert life_stage(Animal("testudo_hermanni", age_years=Span.exactly(0.5)), EVIDENCE) == "juvenile"
    assert life_stage(Animal("testudo_hermanni"), EVIDENCE) == "all"


def test_a_young_slider_is_asked_more_protein() -> None:
    """nutrient_targets.csv: young sliders 25-40 % by a growth trial, grade A."""
    assert wanted("trachemys_scripta", "crude_protein_pct_dm", stage="juvenile")[0] == 25.0
