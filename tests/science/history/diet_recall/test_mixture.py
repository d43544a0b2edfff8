"""Composite diets against linear algebra by hand and against published conversions."""

from collections.abc import Mapping

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence.loader import load_evidence
from baskwell.science.case.model import Animal
from baskwell.science.case.span import Span
from baskwell.science.history.diet_recall.mixture import Mixture, eaten_a_day, mix
from baskwell.science.history.diet_recall.plate import NUTRIENTS, ROW, Part, Plate, dried, nameless, raised
from baskwell.science.history.diet_recall.priors import Priors
from baskwell.science.history.diet_recall.quantities import measure

EVIDENCE = load_evidence()
N = 3


def priors_of(taxon: str = "terrapene_carolina", n_draws: int = N) -> Priors:
    """Priors with a fixed seed."""
    return Priors(EVIDENCE, taxon, n_draws, np.random.default_rng(1))


def part(food_id: str, held: Mapping[str, float], group: str = "vegetable") -> Part:
    """A food with the same content in every world."""
    content = np.zeros((len(NUTRIENTS), N))
    for nutrient, value in held.items():
        content[ROW[nutrient]] = value
    return Part(nameless(food_id, food_id, group), np.ones(N), content, np.zeros(len(NUTRIENTS), dtype=bool))


def plate(food_id: str, share: float, held: Mapping[str, float], group: str = "vegetable") -> Plate:
    """A line of one food, told exactly."""
    return Plate(food_id, food_id, np.full(N, share), (part(food_id, held, group),))


def got(mixture: Mixture, finding_id: str) -> float:
    """One quantity of the mixture; carotenoids count in full."""
    return float(measure(finding_id, mixture.per_kg, np.ones(N))[0])


def from_table(food_id: str, share: float) -> Plate:
    """A line with the table values of foods.csv for the nutrients used here."""
    row = EVIDENCE.foods[food_id]
    names = ("water_g", "protein_g", "fat_g", "calcium_mg", "phosphorus_mg")
    held = {name: float(getattr(row, name) or 0.0) for name in names}
    return plate(food_id, share, held, row.group)


def test_two_foods_by_hand() -> None:
    """60 g collard and 40 g mealworm, foods.csv: worked out by hand.

    Dry matter 60*(100-89.62)/100 + 40*(100-61.9)/100 = 6.228 + 15.24 = 21.468 g.
    Calcium 0.6*232 + 0.4*16.9 = 145.96 mg = 0.680 % of it; phosphorus 0.6*25 + 0.4*285 = 129 mg.
    Protein 0.6*3.02 + 0.4*18.7 = 9.292 g.
    """
    mixture = mix([from_table("collard_greens", 0.6), from_table("mealworm", 0.4)], priors_of())
    assert got(mixture, "calcium_pct_dm") == pytest.approx(145.96 / 21.468 / 10, rel=1e-9)
    assert got(mixture, "ca_p_ratio") == pytest.approx(145.96 / 129.0, rel=1e-9)
    assert got(mixture, "crude_protein_pct_dm") == pytest.approx(9.292 / 21.468 * 100, rel=1e-9)
    assert float(mixture.of_line("mealworm")[1][0]) == pytest.approx(15.24 / 21.468)


@pytest.mark.parametrize(
    ("moisture", "as_fed", "dry_matter", "tolerance"),
    [
        (81, 9, 47.4, 0.05),
        (81, 4, 21, 0.1),
        (81, 1, 5.3, 0.05),
        (75, 10, 40.0, 0.01),
        (75, 3, 12, 0.01),
        (10, 20, 22, 0.3),
    ],
)
def test_published_dry_matter_conversions(
    moisture: float, as_fed: float, dry_matter: float, tolerance: float
) -> None:
    """nutrition/worked_examples.csv W08 (LABEL_DM), W09 (LABEL_DM2), W10 (LABEL_DM3), all published."""
    mixture = mix([plate("label", 1.0, {"water_g": moisture, "protein_g": as_fed})], priors_of())
    assert got(mixture, "crude_protein_pct_dm") == pytest.approx(dry_matter, abs=tolerance)


@pytest.mark.parametrize(("retinol_mg_per_kg", "iu"), [(2.58, 8600), (3.84, 12800)])
def test_published_vitamin_a_units(retinol_mg_per_kg: float, iu: float) -> None:
    """nutrition/worked_examples.csv W11 (ZIER_VITA, softshell turtle): 1 IU = 0.3 ug retinol."""
    mixture = mix([plate("feed", 1.0, {"retinol_ug": retinol_mg_per_kg * 100})], priors_of())
    assert got(mixture, "retinol_iu_per_kg_dm") == pytest.approx(iu, abs=1)


def test_published_usda_vitamin_a_follows_from_its_parts() -> None:
    """Carrot: USDA SR28 NDB 11124 prints 16,706 IU; foods.csv holds the carotenoids apart."""
    row = EVIDENCE.foods["carrot"]
    names = ("beta_carotene_ug", "alpha_carotene_ug", "beta_cryptoxanthin_ug")
    mixture = mix(
        [plate("carrot", 1.0, {name: float(getattr(row, name) or 0.0) for name in names})], priors_of()
    )
    assert got(mixture, "vitamin_a_activity_iu_per_kg_dm") / 10 == pytest.approx(16706, rel=0.01)


def test_energy_is_that_of_the_published_factors() -> None:
    """energy.csv D01-D03 (SACN71): 3.5 kcal per g protein and carbohydrate, 8.5 per g fat; by hand.

    Per 100 g dry: 30 protein, 20 fat, 5 fibre, 5 ash, so 40 carbohydrate: 105 + 170 + 140 = 415 kcal.
    """
    held = {"protein_g": 30.0, "fat_g": 20.0, "crude_fibre_g": 5.0, "ash_g": 5.0}
    mixture = mix([plate("feed", 1.0, held)], priors_of())
    assert float(mixture.kcal_per_kg[0]) == pytest.approx(4150.0)


def test_plant_eaters_gain_energy_from_fibre() -> None:
    """energy.csv D04: fermented fibre counts for herbivores only."""
    held = {"protein_g": 15.0, "fat_g": 3.0, "crude_fibre_g": 30.0, "ash_g": 10.0}
    box_turtle = mix([plate("hay", 1.0, held)], priors_of("terrapene_carolina"))
    tortoise = mix([plate("hay", 1.0, held)], priors_of("testudo_hermanni"))
    assert float(tortoise.kcal_per_kg[0]) > float(box_turtle.kcal_per_kg[0])


def test_daily_food_brackets_the_published_energy_of_a_box_turtle() -> None:
    """nutrition/worked_examples.csv W17: 0.4 kg needs 5.03 kcal (E02) to 16.1 (E01)."""
    held = {"protein_g": 30.0, "fat_g": 10.0, "ash_g": 10.0}
    priors = priors_of(n_draws=N)
    mixture = mix([plate("feed", 1.0, held)], priors)
    animal = Animal("terrapene_ornata", mass_g=Span.exactly(400))
    kcal = eaten_a_day(mixture, animal, None, priors) / 1000 * mixture.kcal_per_kg
    assert (kcal >= 5.03 - 0.01).all()
    assert (kcal <= 16.1).all()


def test_a_dose_without_weight_adds_nutrients_and_no_food() -> None:
    """A capsule does not change shares of the food."""
    food = plate("feed", 1.0, {"water_g": 10.0, "protein_g": 20.0})
    dose = Plate(
        "vitamin_a",
        "vitamin A",
        np.ones(N),
        (part("vitamin_a", {"retinol_ug": 90.0}),),
        "",
        True,
        weighs=False,
    )
    mixture = mix([food, dose], priors_of())
    assert got(mixture, "retinol_iu_per_kg_dm") == pytest.approx(300 / 90 * 1000)
    assert float(mixture.dry_share(lambda _: True)[0]) == pytest.approx(1.0)


def test_drying_a_food_leaves_its_dry_matter_as_it_was() -> None:
    """Only the water goes."""
    fresh = part("herb", {"water_g": 85.0, "calcium_mg": 200.0, "protein_g": 3.0})
    dry = dried(fresh, np.full(N, 8.0))
    both = [mix([Plate("herb", "herb", np.ones(N), (p,))], priors_of()) for p in (fresh, dry)]
    assert got(both[0], "calcium_pct_dm") == pytest.approx(got(both[1], "calcium_pct_dm"))


def test_gut_loading_raises_what_it_says() -> None:
    """Factors multiply the nutrient named and nothing else."""
    loaded = raised(
        part("cricket", {"calcium_mg": 40.0, "protein_g": 20.0}, "invertebrate"),
        {"calcium_mg": np.full(N, 3.0)},
    )
    assert loaded.content[ROW["calcium_mg"], 0] == pytest.approx(120.0)
    assert loaded.content[ROW["protein_g"], 0] == pytest.approx(20.0)


HELD = st.fixed_dictionaries(
    {
        "water_g": st.floats(2, 95),
        "protein_g": st.floats(0, 3),
        "calcium_mg": st.floats(1, 2000),
        "phosphorus_mg": st.floats(1, 1000),
        "retinol_ug": st.floats(0, 5000),
    }
)
MIXES = st.lists(st.tuples(st.floats(0.05, 1), HELD), min_size=1, max_size=5)


@given(MIXES, st.floats(0.001, 1000))
@settings(max_examples=50, deadline=None)
def test_portion_size_cancels(foods: list[tuple[float, dict[str, float]]], times: float) -> None:
    """All portions multiplied by one number give the same diet."""
    small = mix([plate(f"f{k}", share, held) for k, (share, held) in enumerate(foods)], priors_of())
    large = mix([plate(f"f{k}", share * times, held) for k, (share, held) in enumerate(foods)], priors_of())
    assert np.allclose(small.per_kg, large.per_kg, rtol=1e-9)


@given(MIXES)
@settings(max_examples=50, deadline=None)
def test_order_of_the_foods_cancels(foods: list[tuple[float, dict[str, float]]]) -> None:
    """The diet is a set of foods."""
    plates = [plate(f"f{k}", share, held) for k, (share, held) in enumerate(foods)]
    assert np.allclose(mix(plates, priors_of()).per_kg, mix(plates[::-1], priors_of()).per_kg, rtol=1e-9)


@given(MIXES, st.floats(0.0001, 0.1))
@settings(max_examples=50, deadline=None)
def test_a_calcium_salt_always_raises_calcium_to_phosphorus(
    foods: list[tuple[float, dict[str, float]]], grams: float
) -> None:
    """Pure calcium carbonate, 40.04 % calcium and no phosphorus (foods.csv, by molar mass)."""
    plates = [plate(f"f{k}", share, held) for k, (share, held) in enumerate(foods)]
    salt = plate("calcium_carbonate_pure", grams, {"calcium_mg": 40044.0}, "supplement")
    plain, dusted = mix(plates, priors_of()), mix([*plates, salt], priors_of())
    assert got(dusted, "ca_p_ratio") > got(plain, "ca_p_ratio")


@given(MIXES)
@settings(max_examples=50, deadline=None)
def test_shares_and_contributions_are_whole(foods: list[tuple[float, dict[str, float]]]) -> None:
    """Shares of the foods add to one; what the lines brought adds to what the diet held."""
    plates = [plate(f"f{k}", share, held) for k, (share, held) in enumerate(foods)]
    mixture = mix(plates, priors_of())
    assert np.allclose(mixture.dry_share(lambda _: True), 1.0)
    assert np.allclose(mixture.as_fed_share(lambda _: True), 1.0)
    brought = np.sum([held[ROW["calcium_mg"]] for held in mixture.brought.values()], axis=0)
    assert np.allclose(brought, mixture.per_kg[ROW["calcium_mg"]])
