"""Warmth, moisture, water, room, floor, dirt, hot things, a place to lay."""

from typing import Any

import pytest

from baskwell.science.case.model import Contact, Event, Light, Period, Surroundings
from baskwell.science.case.span import Span

WIDE = (Span.exactly(300.0), Span.exactly(200.0))
NARROW = (Span.exactly(40.0), Span.exactly(25.0))


def exactly(value: float) -> Span:
    """A stated number."""
    return Span.exactly(value)


def test_cold_is_read_from_temperatures_against_the_range_of_the_kind(believe: Any) -> None:
    """A bearded dragon at 22 C and at 40 C (limits.csv wants its hot spot between 35 and 45 C or so)."""
    cold = Surroundings(basking_surface_c=exactly(22.0), night_c=exactly(12.0))
    warm = Surroundings(basking_surface_c=exactly(40.0), night_c=exactly(22.0))
    assert believe("pogona_vitticeps", surroundings=cold)["cold"].mean > 0.9
    assert believe("pogona_vitticeps", surroundings=warm)["cold"].mean < 0.15


def test_no_heat_makes_cold_probable_and_silence_says_nothing(believe: Any) -> None:
    """Not heated; heated without a temperature; lights that give no heat; nothing."""
    kind = "pogona_vitticeps"
    assert believe(kind, surroundings=Surroundings(heated=False))["cold"].mean > 0.6
    assert 0.0 < believe(kind, surroundings=Surroundings(heated=True))["cold"].mean < 0.5
    assert 0.3 < believe(kind, lights=(Light("uvb_compact"),))["cold"].mean < 0.9
    assert believe(kind)["cold"].state == "unknown"
    assert believe(kind, lights=(Light("heat_mat"),))["cold"].state == "unknown"


def test_a_tortoise_is_reared_dry_below_about_sixty_per_cent(believe: Any) -> None:
    """WIESNER2003: 24.3-57.8 % against 45-99 % (exposures.csv)."""
    dry = Surroundings(relative_humidity_pct=exactly(25.0))
    moist = Surroundings(relative_humidity_pct=exactly(90.0))
    assert believe("centrochelys_sulcata", surroundings=dry)["dry_rearing"].mean > 0.95
    assert believe("centrochelys_sulcata", surroundings=moist)["dry_rearing"].mean < 0.05
    with_hide = Surroundings(relative_humidity_pct=exactly(25.0), moist_hide=True)
    assert believe("centrochelys_sulcata", surroundings=with_hide)["dry_rearing"].mean < 0.7


@pytest.mark.parametrize(("word", "low", "high"), [("low", 0.6, 1.0), ("high", 0.0, 0.2)])
def test_a_word_for_the_air_counts_as_its_range(believe: Any, word: str, low: float, high: float) -> None:
    """What "low" and "high" may mean: surroundings_priors.csv."""
    place = Surroundings(relative_humidity_pct=word)
    assert low <= believe("testudo_graeca", surroundings=place)["dry_rearing"].mean <= high


@pytest.mark.parametrize(("moist", "expected"), [(True, 0.0), (False, 1.0)])
def test_the_moist_hide_is_there_or_not(believe: Any, moist: bool, expected: float) -> None:
    """The question of exposures.csv: no humid hide."""
    place = Surroundings(moist_hide=moist)
    assert believe("eublepharis_macularius", surroundings=place)["dry_gecko"].mean == expected
    assert believe("eublepharis_macularius")["dry_gecko"].state == "unknown"


@pytest.mark.parametrize(
    ("place", "low", "high"),
    [
        (Surroundings(water="none"), 1.0, 1.0),
        (Surroundings(water="none", soaks_per_week=exactly(2.0)), 0.2, 0.7),
        (Surroundings(water="dish"), 0.0, 0.0),
        (Surroundings(soaks_per_week=exactly(2.0)), 0.05, 0.5),
    ],
)
def test_water_is_a_dish_or_soaks(believe: Any, place: Surroundings, low: float, high: float) -> None:
    """No usable water and no soaks."""
    assert low <= believe(surroundings=place)["no_water"].mean <= high


@pytest.mark.parametrize(
    ("history", "low", "high"),
    [
        ({"surroundings": Surroundings(water="pond", outdoor=True)}, 1.0, 1.0),
        ({"surroundings": Surroundings(container="pond")}, 1.0, 1.0),
        ({"contact": Contact(other_pets=("two frogs",))}, 1.0, 1.0),
        ({"surroundings": Surroundings(outdoor=True)}, 0.05, 0.45),
        ({"surroundings": Surroundings(outdoor=False)}, 0.0, 0.06),
        ({"periods": (Period(when="summer", container="pond"),)}, 1.0, 1.0),
    ],
)
def test_ponds_and_amphibians(believe: Any, history: dict[str, Any], low: float, high: float) -> None:
    """Bounds of the judgement rows for outdoors and indoors."""
    assert low <= believe("terrapene_carolina", **history)["amphib_pond"].mean <= high


def test_cramped_is_far_below_the_rules(believe: Any) -> None:
    """A Hermann's tortoise on a tenth of a square metre and on six; hours out of the box mend in part."""
    narrow = believe(surroundings=Surroundings(floor_cm=NARROW))["cramped"].mean
    walked = believe(surroundings=Surroundings(floor_cm=NARROW, time_out_hours_per_day=exactly(10.0)))[
        "cramped"
    ].mean
    assert narrow > 0.95
    assert 0.1 < walked < 0.9
    assert believe(surroundings=Surroundings(floor_cm=WIDE))["cramped"].mean < 0.05
    assert believe()["cramped"].state == "unknown"


def test_words_for_room_are_ordered(believe: Any) -> None:
    """From too small to turn to free roaming."""
    words = ("too_small_to_turn", "small", "adequate", "large", "free_roaming")
    chances = [believe(surroundings=Surroundings(space=word))["cramped"].mean for word in words]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] > 0.95
    assert chances[-1] < 0.05


def test_dirt_goes_by_its_word(believe: Any) -> None:
    """Clean below fair below dirty."""
    words = ("clean", "fair", "dirty")
    clean, fair, dirty = (
        believe(surroundings=Surroundings(cleanliness=word))["wet_dirty"].mean for word in words
    )
    assert clean < fair < dirty


@pytest.mark.parametrize(
    ("substrate", "sand", "coarse"),
    [
        (("sand",), 1.0, 0.0),
        (("calcium_sand",), 1.0, 0.0),
        (("orchid bark",), 0.0, 1.0),
        (("sand", "ground_walnut_shell"), 1.0, 1.0),
        (("paper_towel",), 0.0, 0.0),
        (("sand and soil",), 0.0, 0.0),
    ],
)
def test_substrates_go_by_their_table(
    believe: Any, substrate: tuple[str, ...], sand: float, coarse: float
) -> None:
    """substrates.csv: fine and loose, coarse enough to swallow."""
    beliefs = believe("pogona_vitticeps", surroundings=Surroundings(substrate=substrate))
    assert (beliefs["loose_sand"].mean, beliefs["coarse_substrate"].mean) == (sand, coarse)


def test_a_word_that_no_table_holds_is_no_no(believe: Any) -> None:
    """Paper and something unheard of: sand stays possible; paper and sand: it is sand."""
    for substrate in (("zzz",), ("paper_towel", "zzz")):
        place = Surroundings(substrate=substrate)
        assert believe("pogona_vitticeps", surroundings=place)["loose_sand"].state == "unknown"


def test_an_earlier_substrate_counts(believe: Any) -> None:
    """Sand before, paper now."""
    history = {
        "surroundings": Surroundings(substrate=("paper_towel",)),
        "periods": (Period(when="before", substrate=("sand",)),),
    }
    assert believe("pogona_vitticeps", **history)["loose_sand"].mean == 1.0


@pytest.mark.parametrize(
    ("history", "low", "high"),
    [
        ({"lights": (Light("hot_rock"),)}, 0.9, 1.0),
        ({"lights": (Light("basking_lamp", guarded=False),)}, 1.0, 1.0),
        ({"lights": (Light("basking_lamp", guarded=True),)}, 0.0, 0.0),
        ({"lights": (Light("heat_mat", thermostat=False),)}, 0.6, 1.0),
        ({"events": (Event(kind="burn", weeks_before=Span.exactly(1.0)),)}, 0.6, 1.0),
        ({"lights": (Light("uvb_compact"),)}, 0.0, 0.2),
        ({"surroundings": Surroundings(heated=False)}, 0.0, 0.0),
    ],
)
def test_heat_in_reach(believe: Any, history: dict[str, Any], low: float, high: float) -> None:
    """Bounds of the judgement rows; a burn shows that something was in reach."""
    assert low <= believe(**history)["unguarded_heat"].mean <= high
    assert believe(lights=(Light("basking_lamp"),))["unguarded_heat"].state == "unknown"


def test_a_male_and_a_young_animal_need_no_nest(believe: Any) -> None:
    """Nought, and known."""
    for animal in ({"sex": "male"}, {"age_class": "juvenile"}):
        belief = believe(animal=animal)["female_no_nest"]
        assert (belief.state, belief.mean) == ("known", 0.0)


@pytest.mark.parametrize(
    ("place", "low", "high"),
    [
        (Surroundings(substrate=("newspaper",)), 0.7, 1.0),
        (Surroundings(substrate=("soil",), substrate_depth_cm=exactly(40.0)), 0.0, 0.0),
        (Surroundings(substrate=("soil",), substrate_depth_cm=exactly(2.0)), 1.0, 1.0),
        (Surroundings(container="garden", outdoor=True), 0.02, 0.3),
    ],
)
def test_a_grown_female_needs_deep_soil(believe: Any, place: Surroundings, low: float, high: float) -> None:
    """A floor that cannot be dug, deep and shallow soil (judged 8 to 25 cm), open ground."""
    grown = {"sex": "female", "age_class": "adult"}
    assert low <= believe(animal=grown, surroundings=place)["female_no_nest"].mean <= high
    assert believe(animal=grown)["female_no_nest"].state == "unknown"


def test_a_verdict_on_heat_is_not_counted_twice(believe: Any) -> None:
    """The findings on temperature lean to what was judged; the exposure takes their draws as they are."""
    place = Surroundings(basking_surface_c=exactly(34.0), night_c=exactly(20.0))
    plain = believe("pogona_vitticeps", surroundings=place)["cold"]
    judged = believe("pogona_vitticeps", surroundings=place, judged_good=("heat",))["cold"]
    assert judged.mean <= plain.mean
    assert "judged" not in judged.because
