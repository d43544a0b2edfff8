"""The plan: what is refused, what is only recorded, and that no way leads above a ceiling."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.science.case.model import Case, Light, Supplement
from baskwell.science.case.span import Span
from baskwell.science.dosing import DosePlan, Giving, plan_dose
from baskwell.science.errors import KeeperError
from dosing_desk import EVIDENCE, NOW, N, animal_case, diet_of, dose, plan_of

WISHES = ("1 capsule", "3 drops", "0.5 ml", "1 g", "1 tablet")
VET = "Dr. Ines Falk"
MASSES = st.floats(5.0, 50_000.0)
TAXA = (
    "terrapene_ornata",
    "trachemys_scripta",
    "pogona_vitticeps",
    "eublepharis_macularius",
    "python_regius",
    "iguana_iguana",
)
STRENGTHS = (
    "8000 IU per capsule",
    "2000 IU/g",
    "1 drop = 400 IU",
    "50000 IU/ml",
    "0.5 % w/w",
    "25000 IU per tablet",
)


def iu(plan: DosePlan, nutrient: str) -> float:
    """What one dose of a plan holds; 0 without a recipe."""
    return dict(plan.recipe.holds)[nutrient] if plan.recipe is not None else 0.0


def test_a_whole_human_capsule_for_a_400_g_turtle_is_refused_with_the_arithmetic() -> None:
    """W15: 10,000 IU / 0.4 kg = 25,000 IU/kg (25,500 with the scale's error); the block is 2,000."""
    plan = plan_of(animal_case(), "vitamin_a", "10000 IU per capsule", "1 capsule")
    told = " ".join(plan.sentences)
    assert plan.verdict == "refused"
    assert plan.recipe is None
    assert "10,000 IU retinol for 0.392 kg is 25,500 IU retinol per kg" in told
    assert "va_single_block_turtle: 2,000 IU retinol per kg of animal in one dose x 0.392 kg" in told
    assert "The most that may be given at a time is" in told


@pytest.mark.parametrize("capsule", [5000, 10_000, 15_000, 25_000, 33_000])
def test_every_human_capsule_of_the_tables_is_refused_whole(capsule: int) -> None:
    """doses.csv, supplement strengths GIST_VA, VITA_CAP, GIST_33K."""
    assert (
        plan_of(animal_case(), "vitamin_a", f"{capsule} IU per capsule", "one whole capsule").verdict
        == "refused"
    )


def test_what_is_proposed_lies_below_the_low_end_of_the_daily_range() -> None:
    """TORTLIB_N 100-200 IU/kg/day, of which the low end is used: at most 280 IU a week for 400 g."""
    plan = plan_of(animal_case(), "vitamin_a", "10000 IU per capsule")
    assert plan.verdict == "recipe"
    assert 150 < iu(plan, "vitamin_A") <= 280
    assert plan.conflicts


def test_the_published_conflicts_are_all_shown_with_who_says_so() -> None:
    """README nutrition, conflict 2: feed levels read as doses are kept to catch them."""
    conflicts = " ".join(plan_of(animal_case(), "vitamin_a", "2000 IU/g").conflicts)
    for source in ("TVP18", "MURILLO", "TORTLIB_N", "TORTLIB_D", "COSLIK09", "FORM_MEM", "MISANIM"):
        assert source in conflicts
    assert "not to be used" in conflicts


@pytest.mark.parametrize(
    ("taxon", "foods"), [("python_regius", ("mouse_adult",)), ("testudo_hermanni", ("dandelion_greens",))]
)
def test_nothing_is_added_to_a_diet_that_needs_nothing(taxon: str, foods: tuple[str, ...]) -> None:
    """Mice bring it, a plant eater makes it (va_daily_warn)."""
    plan = plan_of(animal_case(taxon, 1000.0, foods), "vitamin_a", "10000 IU per capsule")
    assert plan.verdict == "refused"
    assert plan.ledger.alarms == ()


def test_no_vitamin_d3_on_top_of_a_fortified_feed() -> None:
    """limits.csv, d3_warn: 0 from supplements with a fortified complete feed."""
    plan = plan_of(
        animal_case(foods=("cat_food_dry", "earthworm_nightcrawler")), "vitamin_d3", "1 drop = 400 IU"
    )
    assert plan.verdict == "refused"
    assert "fortified feed" in plan.sentences[0]


def test_no_vitamin_d3_is_proposed_beside_a_uv_lamp() -> None:
    """limits.csv, d3_warn: 0 under good UVB; the lamp is to be put right."""
    lit = plan_of(animal_case(lights=(Light("uvb_tube_t5_ho_6pct"),)), "vitamin_d3", "1 drop = 400 IU")
    dark = plan_of(animal_case(lights=(Light("basking_lamp"),)), "vitamin_d3", "1 drop = 400 IU")
    assert (lit.verdict, dark.verdict) == ("refused", "recipe")


@pytest.mark.parametrize("route", ["injection", "sc", "im", "iv", "icoelomic"])
def test_an_injection_needs_a_name_and_gets_no_recipe(route: str) -> None:
    """va_injection: by staff never; ordered by a named veterinarian it is recorded."""
    nameless = plan_of(animal_case(), "vitamin_a", "50000 IU/ml", "100 IU", Giving(route, "the vet"))
    named = plan_of(animal_case(), "vitamin_a", "50000 IU/ml", "100 IU", Giving(route, VET))
    assert nameless.verdict == "refused"
    assert "va_injection" in " ".join(nameless.sentences)
    assert (named.verdict, named.recipe) == ("recorded", None)


def test_an_order_lifts_a_warning_but_never_a_block() -> None:
    """400 g: warning 100 IU/kg/day, block 2,000 IU/kg in one dose and in 7 days."""
    assert plan_of(animal_case(), "vitamin_a", "2000 IU/g", "500 IU").verdict == "refused"
    assert (
        plan_of(animal_case(), "vitamin_a", "2000 IU/g", "500 IU", Giving(ordered_by=VET)).verdict == "recipe"
    )
    over = plan_of(animal_case(), "vitamin_a", "50000 IU/ml", "1000 IU", Giving("im", VET))
    assert over.verdict == "refused"
    assert f"Confirm unit and mass with {VET}" in over.sentences[-1]


@pytest.mark.parametrize("agent", ["ivermectin", "metronidazole", "calcium_glubionate", "iodine", "oxytocin"])
def test_what_is_prescription_only_is_never_planned(agent: str) -> None:
    """agents.csv, prescription_only."""
    assert plan_of(animal_case(), agent, "10 mg/ml").verdict == "refused"
    assert plan_of(animal_case(), agent, "10 mg/ml", None, Giving(ordered_by=VET)).verdict == "recorded"


@pytest.mark.parametrize(
    ("case", "ask"),
    [
        (animal_case(mass_g=None), "What does it weigh"),
        (animal_case(mass_g=0.0), "What does it weigh"),
        (animal_case(foods=()), "What is it fed"),
        (animal_case(doses=(dose("vitamin_a", 3),)), "How much vitamin A"),
        (animal_case(doses=(dose("the neighbour's tonic", 3),)), 'What exactly is "the neighbour'),
        (animal_case(supplements=(Supplement("unspecified"),)), "What exactly is 'supplement"),
    ],
)
def test_what_is_not_known_is_asked_and_nothing_is_given(case: Case, ask: str) -> None:
    """Unknown is never treated as fine."""
    plan = plan_of(case, "vitamin_a", "2000 IU/g")
    assert (plan.verdict, plan.recipe) == ("asks", None)
    assert ask in plan.asks[0]


@pytest.mark.parametrize(
    "strength", ["", "8000 IU", "10.000 IU per capsule", "40 %", "5000 IU beta-carotene per drop"]
)
def test_an_unclear_strength_is_asked_for(strength: str) -> None:
    """A strength in the wrong unit, or none; 40 % of vitamin A is read, and too strong for any dose."""
    plan = plan_of(animal_case(), "vitamin_a", strength)
    assert plan.verdict in ("asks", "refused")
    assert plan.recipe is None


def test_a_second_dose_waits_for_the_first() -> None:
    """Doses seven days apart: two days after the last there are five to go."""
    plan = plan_of(animal_case(doses=(dose("vitamin_a", 2, 100.0),)), "vitamin_a", "2000 IU/g")
    assert plan.verdict == "refused"
    assert "due in 5.0 days" in plan.sentences[0]


def test_a_capsule_that_goes_on_leaves_no_room() -> None:
    """8,000 IU a week goes on; nothing may be added."""
    row = Supplement("vitamin_a", days_per_week=Span.exactly(1), strength="8000 IU per capsule")
    plan = plan_of(animal_case(supplements=(row,)), "vitamin_a", "2000 IU/g", "10 IU")
    assert plan.verdict == "refused"


def test_cod_liver_oil_is_held_by_both_its_vitamins() -> None:
    """The least of the two decides; both are told."""
    plan = plan_of(animal_case(), "cod_liver_oil", "900 IU vitamin A per ml; 90 IU vitamin D3 per ml")
    assert plan.verdict == "recipe"
    assert iu(plan, "vitamin_A") == pytest.approx(10 * iu(plan, "vitamin_D3"))
    assert iu(plan, "vitamin_D3") <= 5 * 7 * 0.4


def test_pure_calcium_is_weighed_within_the_limit_on_the_whole_diet() -> None:
    """ca_diet_warn, 3 % of dry matter; a gram a day is far above it for 400 g."""
    giving = Giving(every_days=1)
    some = plan_of(animal_case(), "calcium_carbonate", "pure powder", "0.1 g", giving)
    much = plan_of(animal_case(), "calcium_carbonate", "pure powder", "1 g", giving)
    assert (some.verdict, much.verdict) == ("recipe", "refused")
    assert iu(some, "calcium") == pytest.approx(40.0, rel=0.01)  # 40.08 / 100.09 of the carbonate


def test_what_no_limit_speaks_of_is_not_reckoned() -> None:
    """Vitamin C: no limit in the evidence, so no dose."""
    assert plan_of(animal_case(), "vitamin_c", "500 mg per tablet", "1 tablet").verdict == "refused"


@pytest.mark.parametrize(("agent", "hint"), [("vitamn_a", "Did you mean vitamin_a"), ("xyzzy", "no agent")])
def test_an_agent_that_is_not_known_is_named(agent: str, hint: str) -> None:
    """A slip of the pen is met with the nearest names."""
    with pytest.raises(KeeperError, match=hint):
        plan_of(animal_case(), agent, "2000 IU/g")


@pytest.mark.parametrize("giving", [{"route": "nose"}, {"every_days": 0}])
def test_an_impossible_way_of_giving_is_refused(giving: dict[str, object]) -> None:
    """An unknown route, or a dose every zero days."""
    with pytest.raises(KeeperError):
        Giving(**giving)  # type: ignore[arg-type]


DIETS = {taxon: diet_of(animal_case(taxon, 1000.0)) for taxon in TAXA}


@settings(max_examples=60, deadline=None)
@given(
    taxon=st.sampled_from(TAXA),
    mass_g=MASSES,
    agent=st.sampled_from(("vitamin_a", "vitamin_d3")),
    strength=st.sampled_from(STRENGTHS) | st.integers(1, 10**7).map(lambda n: f"{n} IU per drop"),
    wanted=st.none() | st.sampled_from(WISHES) | st.integers(1, 10**6).map("{} IU".format),
    every=st.integers(1, 60),
    ordered_by=st.sampled_from(("", "vet", VET)),
    given_iu=st.none() | st.floats(0.0, 5000.0),
    days_ago=st.floats(0.0, 40.0),
)  # fmt: skip
def test_no_way_leads_to_a_dose_above_the_ceiling(
    *,
    taxon: str,
    mass_g: float,
    agent: str,
    strength: str,
    wanted: str | None,
    every: int,
    ordered_by: str,
    given_iu: float | None,
    days_ago: float,
) -> None:
    """The blocks of limits.csv by hand: single dose, and 7 days with all doses that fall into them."""
    doses = (dose(agent, days_ago, given_iu),) if given_iu is not None else ()
    case = animal_case(taxon, mass_g, doses=doses)
    plan = plan_dose(
        case, EVIDENCE, agent, strength, wanted, diet=DIETS[taxon], rng=np.random.default_rng(1), n_draws=N,
        now=NOW, giving=Giving(ordered_by=ordered_by, every_days=every),
    )  # fmt: skip
    if plan.recipe is None:
        return
    nutrient, kg = ("vitamin_A" if agent == "vitamin_a" else "vitamin_D3"), mass_g / 1000
    given_last = given_iu if given_iu is not None and days_ago < 7 else 0.0
    week = iu(plan, nutrient) * -(-7 // every) + given_last
    single, weekly = (
        (2000 if taxon == "terrapene_ornata" else 5000, 2000) if agent == "vitamin_a" else (350, 350)
    )
    assert iu(plan, nutrient) <= single * kg
    assert week <= weekly * kg
    if ordered_by != VET:
        assert week <= (700 if agent == "vitamin_a" else 140) * kg
    if agent == "vitamin_a" and taxon == "iguana_iguana":
        assert ordered_by == VET
    assert all(iu(plan, nutrient) <= one.most for one in plan.allowances if one.nutrient == nutrient)


@settings(max_examples=40, deadline=None)
@given(one=MASSES, other=MASSES, strength=st.sampled_from(STRENGTHS))
def test_a_heavier_animal_never_gets_less(one: float, other: float, strength: str) -> None:
    """Monotone in mass: limits per kg of animal grow with it faster than what it eats."""
    small, large = (
        plan_of(animal_case("trachemys_scripta", mass, ("earthworm_nightcrawler",)), "vitamin_a", strength)
        for mass in sorted((one, other))
    )
    if max(one, other) > 1.02 * min(one, other):
        assert iu(large, "vitamin_A") >= iu(small, "vitamin_A")
