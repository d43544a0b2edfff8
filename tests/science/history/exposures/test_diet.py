"""What it ate and how it was fed."""

from typing import Any

import pytest

from baskwell.science.case.model import Amount, DietItem, Event, Supplement, Surroundings
from baskwell.science.case.span import Span


def only(food: str, **rest: Any) -> tuple[DietItem, ...]:
    """One food and nothing else."""
    return (DietItem(food, Amount(word="only"), **rest),)


def mostly(food: str, other: str) -> tuple[DietItem, ...]:
    """One main food and a little of another."""
    return DietItem(food, Amount(word="mostly")), DietItem(other, Amount(word="a little"))


# Which food belongs to which group, its Ca, P, protein, fat and flags: foods/foods.csv.


@pytest.mark.parametrize(
    ("exposure_id", "taxon", "diet", "yes"),
    [
        ("low_ca_p", "pogona_vitticeps", only("cricket_adult"), True),  # Ca:P about 0.14
        ("low_ca_p", "testudo_hermanni", only("collard_greens"), False),  # Ca:P about 9
        ("fruit_heavy", "testudo_hermanni", mostly("apple", "romaine"), True),
        ("fruit_heavy", "testudo_hermanni", only("dandelion_greens"), False),
        ("animal_protein_herb", "iguana_iguana", mostly("cat_food_dry", "kale"), True),
        ("animal_protein_herb", "iguana_iguana", only("kale"), False),
        ("animal_protein_herb", "python_regius", only("mouse_adult"), False),  # no plant eater
        ("pet_food", "terrapene_carolina", mostly("dog_food_canned", "apple"), True),
        ("pet_food", "terrapene_carolina", only("earthworm_nightcrawler"), False),
        ("herbivore_greens", "testudo_graeca", only("dandelion_greens"), True),
        ("herbivore_greens", "testudo_graeca", only("iceberg_lettuce"), False),
        ("herbivore_greens", "pogona_vitticeps", only("dandelion_greens"), False),
        ("whole_prey", "python_regius", only("mouse_adult"), True),
        ("whole_prey", "thamnophis_sirtalis", only("earthworm_nightcrawler"), False),
        ("insect_diet", "pogona_vitticeps", only("cricket_adult"), True),
        ("insect_diet", "pogona_vitticeps", only("kale"), False),
        ("high_protein_tort", "centrochelys_sulcata", only("cat_food_dry"), True),  # 30 % and more of DM
        ("high_protein_tort", "centrochelys_sulcata", only("timothy_hay"), False),
        ("high_protein_tort", "iguana_iguana", only("cat_food_dry"), False),  # no tortoise
        ("brassica_only", "testudo_graeca", only("kale"), True),
        ("brassica_only", "testudo_graeca", only("dandelion_greens"), False),
        ("frozen_fish", "thamnophis_sirtalis", only("smelt_whole", form="frozen"), True),
        ("frozen_fish", "thamnophis_sirtalis", only("trout", form="fresh"), False),
        ("single_food", "testudo_graeca", only("romaine"), True),
        ("single_food", "testudo_graeca", (DietItem("romaine"), DietItem("kale"), DietItem("apple")), False),
    ],
)
def test_the_foods_told_of_decide(
    believe: Any, exposure_id: str, taxon: str, diet: tuple[DietItem, ...], yes: bool
) -> None:
    """Clear diets on either side of each definition."""
    belief = believe(taxon, diet=diet)[exposure_id]
    assert belief.state == "known"
    assert belief.mean > 0.6 if yes else belief.mean < 0.15


@pytest.mark.parametrize("exposure_id", ["low_ca_p", "vita_poor", "fruit_heavy", "single_food", "no_ca_supp"])
def test_without_a_diet_told_of_nothing_is_known_of_it(believe: Any, exposure_id: str) -> None:
    """A missing list raises and lowers nothing."""
    assert believe()[exposure_id].state == "unknown"


def test_a_list_of_foods_does_not_prove_that_nothing_was_dusted(believe: Any) -> None:
    """No supplement mentioned is no supplement denied."""
    assert believe("pogona_vitticeps", diet=only("cricket_adult"))["no_ca_supp"].state == "unknown"


def test_a_diet_told_with_its_supplements_is_surer_of_its_calcium(believe: Any) -> None:
    """Crickets with a vitamin only, and crickets with nothing said."""
    vitamins = (Supplement("vitamin_a", days_per_week=Span.exactly(1.0)),)
    silent = believe("pogona_vitticeps", diet=only("cricket_adult"))["low_ca_p"].mean
    denied = believe(
        "pogona_vitticeps",
        diet=only("cricket_adult"),
        supplements=(Supplement("calcium_carbonate", days_per_week=Span.exactly(0.0)),),
    )["low_ca_p"].mean
    told = believe("pogona_vitticeps", diet=only("cricket_adult"), supplements=vitamins)["no_ca_supp"].mean
    assert silent < denied
    assert 0.5 < told < 1.0


@pytest.mark.parametrize(
    ("supplement", "low", "high"),
    [
        (Supplement("cuttlebone"), 0.0, 0.0),
        (Supplement("calcium_carbonate", days_per_week=Span.exactly(3.0)), 0.0, 0.0),
        (Supplement("calcium_carbonate", days_per_week=Span.exactly(0.0)), 1.0, 1.0),
        (Supplement("calcium_carbonate", stopped_months_ago=Span.exactly(12.0)), 1.0, 1.0),
    ],
)
def test_a_calcium_source_is_given_never_given_or_stopped(
    believe: Any, supplement: Supplement, low: float, high: float
) -> None:
    """Nought days a week is "stated as never given" (case file)."""
    assert low <= believe(supplements=(supplement,))["no_ca_supp"].mean <= high


def test_insects_need_dusting_or_good_feeding(believe: Any) -> None:
    """Never, well fed, dusted often, and nothing said."""
    kind = "eublepharis_macularius"

    def chance(loaded: bool | None, days: float | None) -> float:
        supplements = (
            (Supplement("calcium_carbonate", days_per_week=Span.exactly(days)),) if days is not None else ()
        )
        diet = only("cricket_adult", gut_loaded=loaded)
        return float(believe(kind, diet=diet, supplements=supplements)["insect_unsupp"].mean)

    assert chance(True, None) == 0.0
    assert chance(False, 5.0) == 0.0
    assert chance(False, 0.0) > 0.8
    assert 0.3 < chance(None, None) < 0.7
    assert believe(kind, diet=only("mouse_pinky"))["insect_unsupp"].mean == 0.0


def test_a_vitamin_poor_diet_lacks_liver_carrots_and_greens(believe: Any) -> None:
    """Muscle meat against carrots for a box turtle (foods.csv: beef 0, carrot 8,285 ug beta-carotene)."""
    poor = believe("terrapene_carolina", diet=only("beef_ground_90"))["vita_poor"].mean
    rich = believe("terrapene_carolina", diet=only("beef_liver"))["vita_poor"].mean
    assert rich < 0.05
    assert poor > 0.7


@pytest.mark.parametrize(
    ("history", "low", "high"),
    [
        ({"fed_share_of_need": Span.exactly(0.2)}, 1.0, 1.0),
        ({"fed_share_of_need": Span.exactly(1.0)}, 0.0, 0.0),
        ({"meals_per_week": Span.exactly(1.0)}, 1.0, 1.0),  # a tortoise once a week
        ({"meals_per_week": Span.exactly(7.0)}, 0.0, 0.2),
    ],
)
def test_underfed_by_share_of_need_or_by_meals(
    believe: Any, history: dict[str, Any], low: float, high: float
) -> None:
    """Judged limits: two thirds of need, three meals a week for a plant eater."""
    assert low <= believe(**history)["underfed"].mean <= high


def test_overfed_by_need_meals_or_fat_grubs(believe: Any) -> None:
    """An adult gecko fed daily; twice its need; on waxworms; and a diet that says nothing of amounts."""
    kind, adult = "eublepharis_macularius", {"age_class": "adult"}
    daily = believe(kind, animal=adult, meals_per_week=Span.exactly(7.0))["overfeed"].mean
    twice = believe(kind, fed_share_of_need=Span.exactly(2.0))["overfeed"].mean
    grubs = believe(kind, diet=only("waxworm"))["overfeed"].mean
    hungry = believe(kind, diet=only("waxworm"), fed_share_of_need=Span.exactly(0.5))["overfeed"].mean
    assert (daily, twice, hungry) == (1.0, 1.0, 0.0)  # half of its need makes nobody fat
    assert grubs > 0.9
    assert believe(kind, diet=only("cricket_adult"))["overfeed"].state == "unknown"


def test_daily_feeding_is_right_for_a_growing_animal_and_for_a_plant_eater(believe: Any) -> None:
    """The definition says adult; plant eaters graze every day (common practice)."""
    young = believe("pogona_vitticeps", animal={"age_class": "juvenile"}, meals_per_week=Span.exactly(7.0))
    grazer = believe("testudo_graeca", animal={"age_class": "adult"}, meals_per_week=Span.exactly(7.0))
    assert young["overfeed"].mean == 0.0
    assert grazer["overfeed"].mean == 0.0


@pytest.mark.parametrize(
    ("diet", "expected"),
    [
        (only("mouse_adult", live=True), 1.0),
        (only("mouse_adult", live=False), 0.0),
        (only("rat_adult", form="frozen"), 0.0),
        (only("cricket_adult", live=True), 0.0),  # insects do not count
        (only("kale"), 0.0),
    ],
)
def test_live_prey_means_rodents_and_birds(believe: Any, diet: tuple[DietItem, ...], expected: float) -> None:
    """The definition: live rodent prey."""
    assert believe("python_regius", diet=diet)["live_prey"].mean == expected
    assert believe("python_regius", diet=only("mouse_adult"))["live_prey"].state == "unknown"


def test_medicated_prey_is_told_by_the_diet_or_by_what_happened(believe: Any) -> None:
    """Treated, untreated, poisoned bait, no prey, and not said."""
    kind = "python_regius"
    assert believe(kind, diet=only("mouse_adult", treated_with="fipronil"))["medicated_prey"].mean == 1.0
    assert believe(kind, diet=only("mouse_adult", treated_with="none"))["medicated_prey"].mean == 0.0
    bait = (Event(kind="toxin", detail="ate a mouse that took rat bait"),)
    assert believe(kind, events=bait)["medicated_prey"].mean == 1.0
    assert believe("testudo_graeca", diet=only("kale"))["medicated_prey"].mean == 0.0
    assert believe(kind, diet=only("mouse_adult"))["medicated_prey"].state == "unknown"


def test_beaks_wear_on_rough_ground_and_tough_food(believe: Any) -> None:
    """Both soft; rough ground; hay; and one of the two not told."""
    soft, hay = only("banana", presentation="chopped"), only("timothy_hay")
    smooth, rough = Surroundings(abrasive_surface=False), Surroundings(abrasive_surface=True)
    name = "soft_food_no_abrasive"
    assert believe(diet=soft, surroundings=smooth)[name].mean == 1.0
    assert believe(diet=soft, surroundings=rough)[name].mean == 0.0
    assert believe(diet=hay, surroundings=smooth)[name].mean == 0.0
    assert 0.4 < believe(diet=soft)[name].mean < 0.8
    assert believe(surroundings=smooth)[name].state == "known"
    assert believe()[name].state == "unknown"


def test_iodine_mends_brassicas(believe: Any) -> None:
    """The definition: no iodine source."""
    kelp = (Supplement("kelp", days_per_week=Span.exactly(2.0)),)
    assert believe(diet=only("kale"), supplements=kelp)["brassica_only"].mean < 0.1


def test_vitamin_a_is_too_much_daily_and_not_once_a_month(believe: Any) -> None:
    """Nearly daily powder against a pinch a month; silence stays silence."""
    daily = (Supplement("vitamin_a", days_per_week=Span.exactly(7.0)),)
    monthly = (Supplement("vitamin_a", days_per_week=Span.exactly(0.25)),)
    assert believe(supplements=daily)["vita_oversupp"].mean > 0.5
    assert believe(supplements=monthly)["vita_oversupp"].mean < 0.15
    assert believe()["vita_oversupp"].state == "unknown"


def test_a_powder_many_times_its_label_strength_is_too_much(believe: Any) -> None:
    """Forty times as strong as printed (judged limit: 2 to 8 times)."""
    strong = (
        Supplement("vitamin_d3", days_per_week=Span.exactly(1.0), times_label_strength=Span.exactly(40.0)),
    )
    assert believe(supplements=strong)["d3_oversupply"].mean == 1.0


def test_liver_every_day_is_too_much_retinol_for_a_tortoise_and_mice_are_not_for_a_snake(
    believe: Any,
) -> None:
    """limits.csv: blocked at 50,000 IU/kg DM; no guard for eaters of whole prey."""
    assert believe("testudo_graeca", diet=only("beef_liver"))["vita_oversupp"].mean > 0.95
    assert believe("python_regius", diet=only("mouse_adult"))["vita_oversupp"].state == "unknown"
