"""The ledger: what counts towards which limit, and when a limit is said to be passed."""

import csv
import datetime as dt
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from baskwell.science.case.model import Days, Exam, Supplement, Treatment, Weight
from baskwell.science.case.span import Span
from baskwell.science.dosing import Account, ledger
from baskwell.science.dosing.given import is_named
from baskwell.science.dosing.substances import SUBSTANCES
from baskwell.science.dosing.supplied import eaten_dry_kg, supplied
from dosing_desk import EVIDENCE, NOW, N, animal_case, book_of, diet_of, dose, passed

ROOT = next(folder for folder in Path(__file__).parents if (folder / "pyproject.toml").exists())
with (ROOT / "tests/data/nutrition/worked_examples.csv").open(encoding="utf-8") as handle:
    EXAMPLES = {row["id"]: row for row in csv.DictReader(handle)}


def single(account: Account) -> float:
    """The median of the first single-dose check, per kg."""
    check = next(c for c in account.checks if c.evidence_id.startswith("va_single"))
    assert check.got is not None
    return check.got.median


@pytest.mark.parametrize(("example", "iu"), [("W15", 10_000.0), ("W16", 25_000.0), ("W23", 33_000.0)])
def test_a_human_capsule_in_a_400_g_turtle_is_the_published_multiple(example: str, iu: float) -> None:
    """worked_examples.csv W15, W16, W23: dose / body weight; all three must be blocked."""
    book = book_of(animal_case(doses=(dose("vitamin_a", 1, iu),)))
    assert single(book.of("vitamin_A")) == pytest.approx(
        float(EXAMPLES[example]["recomputed_output"]), rel=0.01
    )
    assert any("va_single_block_turtle" in alarm for alarm in book.alarms)
    assert any("va_week_block" in alarm for alarm in book.alarms)


def test_a_human_capsule_told_as_a_supplement_is_found_too() -> None:
    """8,000 IU once a week in 400 g is 20,000 IU/kg a dose (by hand)."""
    row = Supplement("vitamin_a", days_per_week=Span.exactly(1), strength="8000 IU per capsule")
    book = book_of(animal_case(supplements=(row,)))
    assert single(book.of("vitamin_A")) == pytest.approx(20_000.0, rel=0.01)
    assert book.alarms


@pytest.mark.parametrize(
    ("taxon", "mass_g", "foods"),
    [
        ("python_regius", 1500.0, ("mouse_adult",)),
        ("python_regius", 1500.0, ("rat_adult",)),
        ("pantherophis_guttatus", 600.0, ("mouse_adult",)),
        ("testudo_hermanni", 900.0, ("dandelion_greens",)),
        ("centrochelys_sulcata", 20_000.0, ("dandelion_greens", "timothy_hay")),
        ("terrapene_ornata", 400.0, ("earthworm_nightcrawler", "dandelion_greens")),
    ],
)
def test_a_right_diet_sets_no_limit_off(taxon: str, mass_g: float, foods: tuple[str, ...]) -> None:
    """Safety README: a guard that fires on correct whole prey would be overridden when it matters."""
    known = tuple(food for food in foods if food in EVIDENCE.foods)
    book = book_of(animal_case(taxon, mass_g, known))
    assert passed(book) == []
    assert book.alarms == ()


def test_whole_prey_is_in_the_ledger_but_counts_towards_no_vitamin_a_limit() -> None:
    """Mice carry above 100,000 IU/kg dry matter as normal food (va_diet_whole_prey)."""
    (mouse,) = book_of(animal_case("python_regius", 1500.0, ("mouse_adult",))).of("vitamin_A").entries
    assert mouse.counts == ()
    assert mouse.got is not None
    assert mouse.got.median > 1000
    assert "not counted" in mouse.sentence


def test_liver_counts_where_an_egg_or_a_worm_does_not() -> None:
    """limits.csv, applies_to: supplements, liver, oils and injections only."""
    entries = book_of(animal_case(foods=("beef_liver", "egg_whole_boiled"))).of("vitamin_A").entries
    counts = {entry.name: entry.counts for entry in entries}
    assert "added" in next(ways for name, ways in counts.items() if "liver" in name.lower())
    assert "added" not in next(ways for name, ways in counts.items() if "egg" in name.lower())


def test_liver_every_day_is_over_the_limit_that_a_tortoise_has() -> None:
    """va_daily_warn: a herbivore needs no preformed vitamin A, the limit is 0."""
    assert "va_daily_warn" in passed(
        book_of(animal_case("testudo_hermanni", 900.0, ("beef_liver", "dandelion_greens")))
    )


def test_plant_carotene_never_counts() -> None:
    """Carrots hold no retinol (README nutrition, Carotenoids)."""
    case = animal_case("testudo_hermanni", 900.0, ("carrot",))
    assert all(entry.got is None or entry.got.high < 1 for entry in book_of(case).of("vitamin_A").entries)


def test_what_the_diet_supplies_adds_up_to_density_times_dry_matter() -> None:
    """World by world: IU per kg dry matter x kg eaten a day."""
    diet = diet_of(animal_case(foods=("cat_food_dry", "dandelion_greens", "beef_liver")))
    assert diet is not None
    for nutrient, finding in (
        ("vitamin_A", "retinol_iu_per_kg_dm"),
        ("vitamin_D3", "vitamin_d3_iu_per_kg_dm"),
    ):
        total = sum(e.per_day for e in supplied(diet, SUBSTANCES[nutrient]) if e.per_day is not None)
        assert np.allclose(total, diet.per_kg_dm[finding] * eaten_dry_kg(diet))


def test_a_diet_at_10_000_iu_supplies_what_the_worked_example_says() -> None:
    """W17: kcal/day / 3.5 kcal/g x IU/kg / body weight; 36 IU/kg/day at 5.03 kcal. The formula by hand."""
    supplied_iu_per_kg = 5.03 / 3.5 / 1000 * 10_000 / 0.4
    assert supplied_iu_per_kg == pytest.approx(36, abs=1)
    assert "36" in EXAMPLES["W17"]["recomputed_output"]


@pytest.mark.parametrize(("days_ago", "windows"), [(1, {7, 14, 30}), (10, {14, 30}), (20, {30}), (40, set())])
def test_a_dose_counts_in_the_windows_it_lies_in(days_ago: float, windows: set[int]) -> None:
    """Rolling sums of 7, 14 and 30 days."""
    checks = book_of(animal_case(doses=(dose("vitamin_a", days_ago, 500.0),))).of("vitamin_A").checks
    rows = [c for c in checks if c.evidence_id == "va_week_block"]
    found = {int(c.window_days or 0) for c in rows if c.got is not None and c.got.median > 0}
    assert found == windows


def test_an_overdose_of_years_ago_is_no_alarm_of_today() -> None:
    """The alarm is for what can still be acted on; the ledger keeps the line."""
    book = book_of(animal_case(doses=(dose("vitamin_a", 900, 50_000.0),)))
    assert book.alarms == ()
    assert any(entry.origin == "dose" for entry in book.of("vitamin_A").entries)


def test_a_dose_without_a_time_counts_everywhere() -> None:
    """Unknown is never treated as long ago."""
    undated = replace(dose("vitamin_a", 1, 20_000.0), at=None)
    assert "va_week_block" in passed(book_of(animal_case(doses=(undated,))))


def test_a_dose_without_an_amount_is_asked_about() -> None:
    """Unknown is never treated as nothing."""
    account = book_of(animal_case(doses=(dose("vitamin_a", 3),))).of("vitamin_A")
    assert len(account.asks) == 1
    assert not account.entries[-1].known


def test_an_iu_of_cod_liver_oil_is_of_two_things_and_so_of_none() -> None:
    """Units are never bare: the amount of either vitamin is not known."""
    book = book_of(animal_case(doses=(dose("cod_liver_oil", 3, 900.0),)))
    assert book.of("vitamin_A").asks
    assert book.of("vitamin_D3").asks


def test_an_injection_told_from_before_counts() -> None:
    """A treatment of the history, 50,000 IU three days before the examination of today."""
    given = Treatment(
        days_before=Span.exactly(3),
        agent="vitamin A injection",
        dose_iu=Span.exactly(50_000),
        route="im",
        by="vet",
    )
    case = animal_case()
    case = replace(case, history=replace(case.history, treatments=(given,)), exam=Exam(date=NOW.date()))
    book = book_of(case)
    assert "va_single_block_turtle" in passed(book)
    assert any("vitamin A injection, im, ordered by a veterinarian" in told for told in book.drugs)


def test_an_injection_here_without_a_name_is_an_alarm() -> None:
    """va_injection: any injection not ordered by a named veterinarian."""
    nameless = book_of(animal_case(doses=(dose("vitamin_b", 1, None, "sc"),)))
    named = book_of(animal_case(doses=(dose("vitamin_b", 1, None, "sc", "Dr. Ines Falk"),)))
    assert any("no veterinarian" in alarm for alarm in nameless.alarms)
    assert not any("no veterinarian" in alarm for alarm in named.alarms)


def test_a_wormer_that_no_turtle_may_have_says_so() -> None:
    """agents.csv: ivermectin, never in chelonians."""
    book = book_of(animal_case(doses=(dose("ivermectin", 1),)))
    assert any("never in chelonians" in told for told in book.drugs)


@pytest.mark.parametrize("words", ["", " ", "vet", "The vet", "Dr.", "unknown", "??", "me", "yes"])
def test_a_title_is_no_name(words: str) -> None:
    """Somebody must be able to ring whoever ordered it."""
    assert not is_named(words)


def test_without_a_mass_nothing_per_kilogram_is_said() -> None:
    """Only the whole diet can be judged; the gap is told."""
    book = book_of(animal_case(mass_g=None))
    assert any("Weigh it first" in gap for gap in book.gaps)
    assert all(c.window_days is None for account in book.accounts for c in account.checks)


@pytest.mark.parametrize("grams", [0.0, -5.0, float("nan"), float("inf")])
def test_an_impossible_mass_is_no_mass(grams: float) -> None:
    """Zero and what is no number."""
    case, diet = animal_case(mass_g=grams), diet_of(animal_case())
    book = ledger(case, EVIDENCE, diet=diet, rng=np.random.default_rng(1), n_draws=N, now=NOW)
    assert any("Weigh it first" in gap for gap in book.gaps)


def test_the_last_weighing_stands_above_the_mass_stated() -> None:
    """Half the mass, twice the dose per kg."""
    case = animal_case(doses=(dose("vitamin_a", 1, 400.0),))
    weighed = (
        Weight(NOW - dt.timedelta(days=2), Span.exactly(200.0)),
        Weight(NOW - dt.timedelta(days=9), Span.exactly(900.0)),
    )
    lighter = replace(case, days=Days(weights=weighed, doses=case.days.doses))
    assert single(book_of(lighter).of("vitamin_A")) == pytest.approx(
        2 * single(book_of(case).of("vitamin_A")), rel=0.01
    )


def test_without_a_diet_the_gap_is_told() -> None:
    """No food told of at all."""
    case = animal_case(foods=())
    book = ledger(case, EVIDENCE, diet=None, rng=np.random.default_rng(1), n_draws=N, now=NOW)
    assert any("What it is fed is not told" in gap for gap in book.gaps)


def test_a_recommended_level_is_no_limit_of_the_ledger() -> None:
    """Vitamin E at 200 IU/kg is what carnivores should reach (MSD_TAB_NUTRIENT), not what harms."""
    account = book_of(animal_case("eublepharis_macularius", 50.0, ("mealworm",))).of("vitamin_E")
    assert account.entries
    assert account.checks == ()
