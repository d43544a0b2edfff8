"""Whole histories: what a diet held is told as it was, and no surer than it can be."""

import numpy as np
import pytest

from baskwell.evidence.loader import load_evidence
from baskwell.science.case.model import Amount, Animal, Case, DietItem, History, Supplement
from baskwell.science.case.span import Span
from baskwell.science.composition_index import CompositionIndex
from baskwell.science.draws import summarise
from baskwell.science.history.diet_recall import DietRecall, recall_diet
from baskwell.science.history.finding import Finding
from baskwell.science.history.label import LabelReading, NutrientReading

EVIDENCE = load_evidence()
INDEX = CompositionIndex.from_evidence(EVIDENCE)
N = 2000


def line(food: str, word: str | None = None, **rest: object) -> DietItem:
    """One line told in a word."""
    return DietItem(food, Amount(word=word) if word else None, **rest)  # type: ignore[arg-type]


def part(food: str, share: float) -> DietItem:
    """One line told as a share."""
    return DietItem(food, Amount(share=Span.exactly(share)))


def recall(
    taxon: str,
    *lines: DietItem,
    labels: dict[str, LabelReading] | None = None,
    seed: int = 1,
    animal: Animal | None = None,
    supplements: tuple[Supplement, ...] = (),
) -> DietRecall | None:
    """The diet of an adult of a taxon."""
    who = animal or Animal(taxon, age_class="adult")
    case = Case(who, History(diet=lines, supplements=supplements))
    return recall_diet(case, EVIDENCE, np.random.default_rng(seed), N, labels or {}, INDEX)


def told(taxon: str, *lines: DietItem, **rest: object) -> DietRecall:
    """The same, where there must be one."""
    got = recall(taxon, *lines, **rest)  # type: ignore[arg-type]
    assert got is not None
    return got


def finding(diet: DietRecall, finding_id: str) -> Finding:
    """One finding by its id."""
    return next(found for found in diet.findings if found.finding_id == finding_id)


def median(diet: DietRecall, finding_id: str) -> float:
    """Median of one quantity."""
    return float(np.median(diet.per_kg_dm[finding_id]))


def reading(label_id: str, **per_kg: float) -> LabelReading:
    """A label read without doubt."""
    nutrients = tuple(
        NutrientReading(name, name, "per kg", None, None, None, "", np.full(N, value))
        for name, value in per_kg.items()
    )
    return LabelReading(label_id, (), nutrients, (), (), 1000.0, 1.0)


def test_nothing_told_is_no_diet() -> None:
    """None, so that the review says so instead of inventing."""
    assert recall("terrapene_carolina") is None
    assert recall("terrapene_carolina", supplements=(Supplement("calcium"),)) is None
    assert recall("terrapene_carolina", line("apple", days_per_week=Span.exactly(0))) is None


WILD_TORTOISE = (
    part("plantain_weed", 0.36),
    part("dandelion_greens", 0.16),
    part("sow_thistle", 0.16),
    part("clover_fresh", 0.32),
)
"""30 % plantain, 26 % composites (HIGHFIELD96), 27 % legumes (ELMOUDEN06), the rest spread over them."""


def test_a_wild_tortoise_diet_comes_out_as_published() -> None:
    """foods/checks.csv K84, K85 (HIGHFIELD96): Ca:P 2.5-4.5, protein 1.5-4 % fresh."""
    diet = told("testudo_graeca", *WILD_TORTOISE)
    assert 2.5 <= median(diet, "ca_p_ratio") <= 4.5
    dry = 1 - np.median(diet.mixture.per_kg[0]) / 1000
    assert 1.5 <= median(diet, "crude_protein_pct_dm") * dry <= 4.0


def protein_of_energy(diet: DietRecall) -> float:
    """Protein in per cent of metabolisable energy at 3.5 kcal per g (energy.csv D02)."""
    return float(np.median(diet.per_1000_kcal["crude_protein_pct_dm"])) * 3.5 / 10


def fat_of_energy(diet: DietRecall) -> tuple[float, float]:
    """90 % interval of fat in per cent of metabolisable energy at 8.5 kcal per g (energy.csv D03)."""
    got = summarise(diet.per_1000_kcal["fat_pct_dm"] * 8.5 / 10)
    return got.low, got.high


def test_energy_shares_of_usual_diets_lie_in_the_published_bands() -> None:
    """foods/checks.csv K86-K89 (SACN5 Table 71-1): protein 15-35, 15-40, 25-60, fat under 10 % of energy."""
    weeds = told("testudo_graeca", *WILD_TORTOISE)
    mixed = told(
        "terrapene_carolina", part("greens", 0.4), part("vegetables", 0.4), part("invertebrates", 0.2)
    )
    mice = told("python_regius", line("mouse_adult", "only"))
    assert 15 <= protein_of_energy(weeds) <= 35
    low, high = fat_of_energy(weeds)
    assert low <= 10  # the middle lies at 10-11 %: on the edge of the book's band
    assert high <= 20
    assert 15 <= protein_of_energy(mixed) <= 40
    assert 25 <= protein_of_energy(mice) <= 60


def test_water_lettuce_and_cucumber_starve_a_tortoise_of_calcium() -> None:
    """Calcium and Ca:P by foods.csv (USDA SR28): iceberg 18/20, cucumber 16/24 mg; wanted 1 % and 1.5."""
    diet = told("testudo_hermanni", line("iceberg_lettuce", "mostly"), line("cucumber", "a lot"))
    assert finding(diet, "ca_p_ratio").verdict == "does not fit"
    assert finding(diet, "calcium_pct_dm").verdict == "does not fit"
    assert finding(diet, "crude_fibre_pct_dm").verdict == "does not fit"


def test_undusted_worms_lack_vitamin_a_and_calcium() -> None:
    """foods/README: insects hold less vitamin A than can be measured; Ca:P far below 1."""
    diet = told("eublepharis_macularius", line("mealworm"), line("waxworm"))
    assert finding(diet, "retinol_iu_per_kg_dm").verdict == "does not fit"
    assert finding(diet, "ca_p_ratio").verdict == "does not fit"


def test_liver_for_a_tortoise_is_too_much_vitamin_a() -> None:
    """safety/limits.csv va_diet_herb_warn: 5,000 IU; beef liver holds 4,968 ug per 100 g (foods.csv)."""
    diet = told("testudo_hermanni", line("dandelion_greens", "mostly"), line("beef_liver", "a little"))
    assert finding(diet, "retinol_iu_per_kg_dm").verdict == "does not fit"
    chances = finding(diet, "retinol_iu_per_kg_dm").chances
    assert chances is not None
    assert chances.above > 0.9


def test_carrots_never_poison() -> None:
    """nutrition/README, Carotenoids: never counted towards toxicity."""
    diet = told("testudo_hermanni", line("carrot", "only"))
    assert median(diet, "retinol_iu_per_kg_dm") == 0.0
    assert finding(diet, "vitamin_a_activity_iu_per_kg_dm").verdict == "fits"


def test_carotenoids_count_from_nothing_to_all_outside_plant_eaters() -> None:
    """nutrition/README, tool rule."""
    box, tortoise = (
        told("terrapene_carolina", line("carrot", "only")),
        told("testudo_hermanni", line("carrot", "only")),
    )
    spread = [summarise(d.per_kg_dm["vitamin_a_activity_iu_per_kg_dm"]) for d in (box, tortoise)]
    assert spread[0].high / spread[0].low > 2 * spread[1].high / spread[1].low
    assert spread[0].median < spread[1].median


def test_whole_prey_is_seen_as_such() -> None:
    """A snake on rats; one on meat is not."""
    assert told("python_regius", line("rat_adult", "only")).eats_whole_prey_only
    assert not told("python_regius", line("chicken_meat", "only")).eats_whole_prey_only


def test_shares_can_be_asked_by_any_property_of_a_food() -> None:
    """Shares of complementary choices add to one, on both bases."""
    diet = told(
        "terrapene_carolina", line("cat_food_dry", "mostly"), line("fruit", "a lot"), line("complete_feed")
    )
    for ask in (diet.share_of, diet.as_fed_share_of):
        fruit, rest = ask(lambda food: food.group == "fruit"), ask(lambda food: food.group != "fruit")
        assert np.allclose(fruit + rest, 1.0)
    assert np.median(diet.share_of(lambda f: f.group == "fruit")) < np.median(
        diet.as_fed_share_of(lambda f: f.group == "fruit")
    )


def test_as_fed_and_dry_shares_are_kept_apart() -> None:
    """diet_mix.csv, basis: not interchangeable; wet fruit is less of the dry matter than of the bowl."""
    diet = told("terrapene_carolina", line("cat_food_dry", "half"), line("apple", "half"))
    assert np.median(diet.group_as_fed_shares["fruit"]) > 3 * np.median(diet.group_dry_shares["fruit"])
    assert finding(diet, "share_fruit_pct_dm").wanted is None


def test_shares_are_judged_against_captive_rows_as_fed() -> None:
    """diet_mix.csv: captive Hermann's tortoise 80-95 % greens, 0-5 % fruit, as fed (common practice)."""
    diet = told("testudo_hermanni", line("apple", "mostly"), line("kale", "sometimes"))
    fruit, greens = finding(diet, "share_fruit_pct_as_fed"), finding(diet, "share_greens_pct_as_fed")
    assert fruit.wanted is not None
    assert (fruit.wanted.low, fruit.wanted.high) == (0.0, 5.0)
    assert (fruit.verdict, greens.verdict) == ("does not fit", "does not fit")


def test_more_of_the_main_food_is_no_fault() -> None:
    """diet_mix.csv: 80-95 % greens for Hermann's tortoise; weeds alone are not too many greens."""
    greens = finding(told("testudo_hermanni", line("dandelion_greens", "only")), "share_greens_pct_as_fed")
    assert greens.verdict == "fits"
    assert greens.wanted is not None
    assert (greens.wanted.low, greens.wanted.high) == (80.0, None)


def test_a_read_label_is_used_and_is_surer_than_none() -> None:
    """Values per kg dry matter come through; unknown never beats known."""
    label = reading("cereal_pellet", calcium_mg=9000, phosphorus_mg=6000, protein_g=260, water_g=100)
    read = told("terrapene_carolina", line("cereal_pellet", "only"), labels={"cereal_pellet": label})
    unread = told("terrapene_carolina", line("cereal_pellet", "only"))
    assert median(read, "calcium_pct_dm") == pytest.approx(0.9)
    assert median(read, "ca_p_ratio") == pytest.approx(1.5)
    assert np.std(read.per_kg_dm["calcium_pct_dm"]) < np.std(unread.per_kg_dm["calcium_pct_dm"])


def test_an_unread_feed_is_not_known_and_asked_about() -> None:
    """What stands in for it is not told as a finding."""
    diet = told("terrapene_carolina", line("complete_feed", "only"))
    got = finding(diet, "retinol_iu_per_kg_dm")
    assert (got.verdict, got.got, got.chances) == ("not known", None, None)
    assert "label" in got.ask
    assert any("not known from a label" in gap for gap in diet.gaps)


def test_an_earlier_diet_is_told_apart() -> None:
    """Period before: named, not counted."""
    diet = told("terrapene_carolina", line("apple", "only"), line("cat_food_dry", "only", period="before"))
    assert diet.item_shares_as_fed().keys() == {"apple"}
    assert diet.earlier == ("Dry cat food, complete",)
    assert any("earlier time" in gap for gap in diet.gaps)


def test_an_earlier_diet_alone_is_better_than_none() -> None:
    """It is used, and said to be so."""
    diet = told("terrapene_carolina", line("cat_food_dry", "only", period="before"))
    assert diet.n_items == 1
    assert any("Only the diet of an earlier time" in gap for gap in diet.gaps)


def test_dried_insects_hold_in_the_dry_matter_what_fresh_ones_do() -> None:
    """Form dry takes out water only; foods.csv scales the dried rows the same way."""
    fresh, dry = (
        told("pogona_vitticeps", line("mealworm", "only")),
        told("pogona_vitticeps", line("mealworm", "only", form="dry")),
    )
    assert median(dry, "crude_protein_pct_dm") == pytest.approx(
        median(fresh, "crude_protein_pct_dm"), rel=0.03
    )
    assert np.median(dry.mixture.per_kg[0]) < 150


def test_gut_loading_raises_calcium_and_stays_wide() -> None:
    """nutrition/README: how much depends on the feed."""
    plain = told("pogona_vitticeps", line("cricket_adult", "only"))
    loaded = told("pogona_vitticeps", line("cricket_adult", "only", gut_loaded=True))
    assert median(loaded, "calcium_pct_dm") > 1.3 * median(plain, "calcium_pct_dm")
    assert np.std(np.log(loaded.per_kg_dm["calcium_pct_dm"])) > np.std(
        np.log(plain.per_kg_dm["calcium_pct_dm"])
    )


def test_contributions_tell_who_carries_and_who_dilutes() -> None:
    """Cat food carries the retinol, apple dilutes it."""
    diet = told("terrapene_carolina", line("cat_food_dry", "half"), line("apple", "half"))
    roles = {row.key: row for row in diet.contributions if row.finding_id == "retinol_iu_per_kg_dm"}
    assert roles["cat_food_dry"].share.median == pytest.approx(1.0)
    assert roles["apple"].role == "dilutes"


def test_two_lines_of_one_food_are_one_food() -> None:
    """The same food in summer and in winter does not count twice."""
    lines = (line("kale", "only", period="summer"), line("kale", "only", period="winter"))
    shares = told("testudo_hermanni", *lines).item_shares_as_fed()
    assert list(shares) == ["kale"]
    assert np.allclose(shares["kale"], 1.0)


def test_the_sentence_tells_amount_wanted_and_worlds() -> None:
    """One plain sentence for a keeper."""
    diet = told("terrapene_carolina", line("apple", "only"))
    assert finding(diet, "retinol_iu_per_kg_dm").sentence == (
        "Vitamin A from animal food: about 0 IU per kg dry matter, wanted 8,600-15,000: "
        "too low in all possible worlds."
    )


def test_every_finding_that_does_not_fit_says_so_in_words() -> None:
    """Verdict and sentence agree."""
    for found in told("terrapene_carolina", line("fruit", "only")).findings:
        if found.verdict == "does not fit":
            assert "too low" in found.sentence or "too high" in found.sentence
        if found.verdict == "fits":
            assert "right in" in found.sentence
