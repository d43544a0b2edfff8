"""The light of whole cases: published lamps, what must hold whatever the case, and what is never assumed."""

import datetime as dt
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, History, Light, Period, Surroundings
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, summarise
from baskwell.science.history.light import LightHistory, recall_light

EVIDENCE = load_evidence()
UVB_KINDS = sorted(
    lamp.lamp_id for lamp in EVIDENCE.lamps.values() if lamp.gives_uvb and lamp.class_ != "sun"
)
KINDS = sorted(EVIDENCE.lamps)
BARRIERS = ["none", "mesh", "fine_mesh", "glass", "acrylic"]
exactly = Span.exactly


def recall(
    taxon: str,
    *lights: Light,
    around: Surroundings | None = None,
    exam: Exam | None = None,
    **history: object,
) -> LightHistory:
    """The light of a case, always with the same seed."""
    told = History(lights=lights, surroundings=around, **history)  # type: ignore[arg-type]
    case = Case(Animal(taxon), history=told, exam=exam or Exam())
    return recall_light(case, EVIDENCE, np.random.default_rng(11), 2000)


def uv(light: LightHistory) -> Draws:
    """The draws at the back, which must be there."""
    assert light.uv_index is not None
    return light.uv_index


def new_lamp(kind: str, distance_cm: float, **rest: object) -> Light:
    """A new lamp with nothing between."""
    return Light(kind, exactly(0.0), exactly(distance_cm), "none", exactly(12.0), **rest)  # type: ignore[arg-type]


# What is not said is never assumed


@pytest.mark.parametrize("lights", [(), (Light("heat_mat"),), (Light("ceramic_heater"),)])
def test_no_word_of_lamps_is_not_known_and_never_no_lamp(lights: tuple[Light, ...]) -> None:
    """Neither wrong nor fine: a question."""
    light = recall("iguana_iguana", *lights)
    assert light.uvb_source == "unknown"
    assert light.uv_index is None
    assert {finding.verdict for finding in light.findings} == {"not known"}
    assert light.questions
    assert all(finding.ask for finding in light.findings)


def test_stated_absence_is_known() -> None:
    """An entry of the kind "none" is an answer."""
    light = recall("iguana_iguana", Light("none"))
    assert light.uvb_source == "none"
    assert light.by_id["uv_index_at_back"].verdict == "does not fit"
    assert uv(light).max() == 0.0


@pytest.mark.parametrize("kind", ["window", "none"])
def test_window_glass_is_no_source(kind: str) -> None:
    """light.csv CIE206: no useful UVB comes through, whatever a meter shows."""
    light = recall("testudo_hermanni", Light(kind, uv_index_measured=exactly(0.4)))
    assert light.uvb_source == "none"
    assert uv(light).max() == 0.0


def test_lamps_without_uvb_leave_a_small_chance_of_another() -> None:
    """People leave lamps out: the list is believed, not sworn."""
    light = recall("iguana_iguana", Light("basking_lamp"))
    assert light.uvb_source == "unlisted"
    assert 0.5 < float(np.mean(uv(light) == 0.0)) < 0.95
    assert light.by_id["uv_index_at_back"].verdict == "doubtful"


def test_old_lamp_may_have_stopped_working() -> None:
    """A T8 tube of three years works in some worlds and not in others; a new one works in all."""
    old = recall(
        "iguana_iguana", replace(new_lamp("uvb_tube_t8_5pct", 30.0), age_months=exactly(36.0))
    ).uvb_works
    new = recall("iguana_iguana", new_lamp("uvb_tube_t8_5pct", 30.0)).uvb_works
    assert old is not None
    assert new is not None
    assert set(np.unique(old)) == {0.0, 1.0}
    assert float(new.mean()) > 0.95
    assert recall("iguana_iguana").uvb_works is None


def test_lamp_that_is_never_on_is_no_lamp() -> None:
    """Nought hours a day."""
    light = recall("iguana_iguana", Light("uvb_compact", hours_per_day=exactly(0.0)))
    assert (light.uvb_source, uv(light).max()) == ("none", 0.0)


@pytest.mark.parametrize("kind", UVB_KINDS)
def test_guessed_age_or_distance_never_gives_a_firm_verdict(kind: str) -> None:
    """Unknown is never treated as wrong, nor as fine."""
    for lamp in (Light(kind), Light(kind, distance_cm=exactly(30.0)), Light(kind, age_months=exactly(3.0))):
        assert recall("pogona_vitticeps", lamp).by_id["uv_index_at_back"].verdict == "doubtful"


# Panes, readings, several lamps


@pytest.mark.parametrize("barrier", ["glass", "acrylic"])
def test_nothing_useful_comes_through_a_pane_and_its_reading_is_not_used(barrier: str) -> None:
    """light.csv: UVB nil at 300-315 nm although a meter shows a tenth."""
    lamp = Light("mercury_vapour", barrier=barrier, uv_index_measured=exactly(2.0))
    light = recall("pogona_vitticeps", lamp)
    assert uv(light).max() == 0.0
    assert light.by_id["uv_index_at_back"].verdict == "does not fit"
    assert any("not used" in gap for gap in light.gaps)


def test_reading_overrides_what_is_expected() -> None:
    """The interval closes around the reading and the verdict is firm."""
    light = recall("pogona_vitticeps", Light("uvb_tube_unspecified", uv_index_measured=exactly(2.5)))
    got = light.by_id["uv_index_at_back"].got
    assert got is not None
    assert 1.5 < got.low < got.median < got.high < 3.5
    assert light.by_id["uv_index_at_back"].verdict == "fits"


def test_reading_far_from_the_lamp_is_believed_and_told() -> None:
    """A weak tube that reads 9."""
    light = recall("pogona_vitticeps", Light("uvb_tube_t8_2pct", uv_index_measured=exactly(9.0)))
    assert any("far from" in gap for gap in light.gaps)
    assert summarise(uv(light)).median > 4.0


def test_reading_under_a_lamp_without_uvb_asks_for_its_kind() -> None:
    """A basking lamp that reads 3 is no ordinary basking lamp."""
    light = recall("pogona_vitticeps", Light("basking_lamp", uv_index_measured=exactly(3.0)))
    assert any("check its kind" in gap for gap in light.gaps)
    assert light.uvb_source == "known"
    assert summarise(uv(light)).median == pytest.approx(3.0, rel=0.1)


def test_two_lamps_give_at_least_the_stronger_and_at_most_the_sum() -> None:
    """How far they light one place is not told."""
    first, second = new_lamp("mercury_vapour", 40.0), new_lamp("uvb_compact", 25.0)
    both = recall("pogona_vitticeps", first, second)
    one, two = (line.uv_index for line in both.lines)
    assert np.all(uv(both) >= np.maximum(one, two) - 1e-12)
    assert np.all(uv(both) <= one + two + 1e-12)


def test_judged_good_and_poor_are_mild_evidence() -> None:
    """A bare word moves the chance of fitting, and settles nothing."""
    lamp = Light("uvb_tube_t5_ho_6pct", distance_cm=exactly(30.0))

    def fits(good: tuple[str, ...] = (), poor: tuple[str, ...] = ()) -> float:
        chances = (
            recall("terrapene_ornata", lamp, judged_good=good, judged_poor=poor)
            .by_id["uv_index_at_back"]
            .chances
        )
        assert chances is not None
        return chances.inside

    plain, good, poor = fits(), fits(good=("uv",)), fits(poor=("light",))
    assert 0.05 < poor < plain < good < 0.95
    assert good / (1 - good) == pytest.approx(
        3.0 * plain / (1 - plain), rel=0.05
    )  # light_priors.csv judged_good
    assert poor / (1 - poor) == pytest.approx(plain / (1 - plain) / 2.0, rel=0.05)  # judged_poor


def test_judgement_without_a_light_is_told_as_a_gap() -> None:
    """Nothing to weigh it by."""
    light = recall("terrapene_ornata", judged_poor=("uv",))
    assert light.uv_index is None
    assert any("judged" in gap for gap in light.gaps)


# Wanted ranges and ceilings


@pytest.mark.parametrize(
    ("taxon", "zone", "low", "high", "ceiling"),
    [
        (
            "terrapene_ornata",
            2,
            0.7,
            2.5,
            2.5,
        ),  # span 2-3: limits.csv uv_span takes the lower; uv_zone_2_near
        ("testudo_hermanni", 3, 1.0, 5.0, 5.0),  # light.csv zone 3 mean; limits.csv uv_zone_3_near
        ("pogona_vitticeps", 3, 1.0, 5.0, 5.0),  # zone 3 or 4 in conflict: the lower
        ("python_regius", 1, 0.0, 0.7, 1.4),  # limits.csv uv_zone_1_mean, python_uv
        ("eublepharis_macularius", 1, 0.0, 0.7, 1.4),  # limits.csv uv_zone_1_mean, uv_zone_1_near
        ("iguana_iguana", 3, 1.0, 5.0, 5.0),
        ("stigmochelys_pardalis", 3, 1.0, 5.0, 5.0),  # limits.csv uv_zone_3-4_near
    ],
)
def test_wanted_light_is_the_zone_under_the_cautious_limits(
    taxon: str, zone: int, low: float, high: float, ceiling: float
) -> None:
    """light.csv ferguson_zone (mean exposure) and safety/limits.csv, which wins."""
    wanted = recall(taxon).wanted
    assert wanted.zone == zone
    assert wanted.at_back is not None
    assert wanted.nearest is not None
    assert (wanted.at_back.low, wanted.at_back.high, wanted.nearest.high) == (low, high, ceiling)
    assert wanted.block_uvi == 7.0  # limits.csv uv_absolute
    assert wanted.at_back.said_by


def test_kind_without_a_zone_still_has_the_ceiling_of_every_reptile() -> None:
    """limits.csv uv_absolute holds for all."""
    wanted = recall("sternotherus_odoratus").wanted
    assert wanted.at_back is None
    assert wanted.nearest is not None
    assert wanted.nearest.high == 7.0
    assert wanted.gaps


def test_snake_without_uvb_fits_and_is_told_that_it_helps() -> None:
    """damage.csv HEDLEY13: no rise in ball pythons; useful, not shown to be needed."""
    finding = recall("python_regius", Light("none")).by_id["uv_index_at_back"]
    assert finding.verdict == "fits"
    assert "not shown to be needed" in finding.sentence


def test_strong_lamp_in_reach_passes_the_block() -> None:
    """A 12 % tube that the animal can touch."""
    lamp = new_lamp("uvb_tube_t5_ho_12pct", 25.0, guarded=False)
    finding = recall("python_regius", lamp).by_id["uv_index_nearest"]
    assert finding.verdict == "does not fit"
    assert "passes 7" in finding.sentence


def test_higher_name_takes_the_lowest_zone_of_its_species() -> None:
    """limits.csv uv_span: take the lower zone."""
    wanted = recall("testudinidae").wanted
    assert wanted.zone == 2
    assert any("no single species" in gap for gap in wanted.gaps)


# Sun and daylight


def test_sun_outdoors_is_a_source_with_a_day_length() -> None:
    """45 N in July: light.csv gives 10.5 at noon in a clear sky, which only thin ozone may pass."""
    around = Surroundings(outdoor=True, latitude_deg=exactly(45.0))
    light = recall("testudo_hermanni", around=around, exam=Exam(date=dt.date(2025, 7, 1)))
    assert light.uvb_source == "known"
    assert uv(light).max() < 10.5 * (250 / 300) ** -1.23
    hours = light.by_id["photoperiod_h"].got
    assert hours is not None
    assert hours.median == pytest.approx(15.3, abs=0.3)  # pvlib SPA, 45 N on 15 July: 15.2 h
    assert light.by_id["uv_index_at_back"].wanted is not None
    assert light.by_id["uv_index_at_back"].wanted.high is None


def test_southern_summer_is_in_january() -> None:
    """At 35 S the sun is strong in January and weak in July (light.csv rows of 30 and 40 N, turned round)."""
    around = Surroundings(outdoor=True, latitude_deg=exactly(-35.0))
    summer = recall("pogona_vitticeps", around=around, exam=Exam(month=1))
    winter = recall("pogona_vitticeps", around=around, exam=Exam(month=7))
    assert np.median(uv(summer)) > 2.0 * np.median(uv(winter))


def test_summers_outdoors_count_in_the_yearly_dose() -> None:
    """A weak lamp indoors and a garden in summer."""
    lamp = new_lamp("uvb_tube_t8_2pct", 40.0)
    indoors = recall("testudo_hermanni", lamp)
    garden = recall("testudo_hermanni", lamp, periods=(Period(when="summer", outdoor=True),))
    assert indoors.dose_uvi_hours is not None
    assert garden.dose_uvi_hours is not None
    assert np.median(garden.dose_uvi_hours) > 3.0 * np.median(indoors.dose_uvi_hours)


@pytest.mark.parametrize(
    ("hours", "verdict"), [(12.0, "fits"), (24.0, "does not fit"), (6.0, "does not fit"), (2.0, "not known")]
)
def test_hours_of_light(hours: float, verdict: str) -> None:
    """species_environment.csv: 8 h in winter, 16 h in summer for a box turtle, an hour either way."""
    lamp = Light("basking_lamp", hours_per_day=exactly(hours))
    assert recall("terrapene_carolina", lamp).by_id["photoperiod_h"].verdict == verdict


@pytest.mark.parametrize("kind", ["heat_lamp_red", "ceramic_heater", "heat_mat"])
def test_heat_without_light_makes_no_day(kind: str) -> None:
    """Twelve hours of a red lamp say nothing of its day."""
    light = recall("terrapene_carolina", Light(kind, hours_per_day=exactly(12.0)))
    assert light.by_id["photoperiod_h"].verdict == "not known"


# What must hold whatever the case


def spans(low: float, high: float) -> st.SearchStrategy[Span | None]:
    """A number, a range, a range with an open end, or nothing."""
    ends = st.tuples(st.floats(low, high), st.floats(low, high)).map(sorted)
    return st.one_of(
        st.none(),
        st.floats(low, high).map(exactly),
        ends.map(lambda two: Span(two[0], two[1])),
        st.floats(low, high).map(lambda end: Span(end, None)),
        st.floats(low, high).map(lambda end: Span(None, end)),
    )


def lights(kinds: list[str]) -> st.SearchStrategy[Light]:
    """Any entry of the lights."""
    return st.builds(
        Light,
        kind=st.sampled_from(kinds),
        age_months=spans(0, 600),
        distance_cm=spans(1, 1000),
        barrier=st.none() | st.sampled_from(BARRIERS),
        hours_per_day=spans(0, 24),
        uv_index_measured=spans(0, 100),
        guarded=st.none() | st.booleans(),
    )


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(sorted(EVIDENCE.taxa)),
    st.lists(lights(KINDS), max_size=3),
    st.sampled_from([None, True, False, "part"]),
    spans(-90, 90),
    st.sampled_from([None, "spring", "winter"]),
    st.sets(st.sampled_from(["uv", "light", "diet"])),
)
def test_any_light_gives_sound_draws_and_plain_sentences(
    taxon: str,
    told: list[Light],
    outdoor: bool | str | None,
    latitude: Span | None,
    season: str | None,
    judged: set[str],
) -> None:
    """Finite, never negative, nearest never below the back under lamps, chances that add to one."""
    light = recall(
        taxon,
        *told,
        around=Surroundings(outdoor=outdoor, latitude_deg=latitude),
        exam=Exam(season=season),
        judged_poor=tuple(judged),
    )
    for draws in (light.uv_index, light.uv_index_new, light.uv_index_nearest, light.dose_uvi_hours):
        assert draws is None or (draws.shape == (2000,) and np.all(np.isfinite(draws)) and np.all(draws >= 0))
    for line in light.lines:
        assert np.all(line.nearest >= line.uv_index - 1e-9)
        assert np.all((line.left >= 0) & (line.left <= 1 + 1e-9))
    for finding in light.findings:
        assert finding.sentence.endswith(".")
        if finding.chances is not None:
            parts = (finding.chances.below, finding.chances.inside, finding.chances.above)
            assert sum(parts) == pytest.approx(1.0)
            assert all(-1e-12 <= part <= 1.0 for part in parts)


def test_range_is_never_narrower_than_its_middle() -> None:
    """A stated range of distance is wider than the number in its middle."""
    one = recall("pogona_vitticeps", new_lamp("mercury_vapour", 40.0))
    wide = replace(new_lamp("mercury_vapour", 40.0), distance_cm=Span(20.0, 60.0))
    assert uv(recall("pogona_vitticeps", wide)).std() > uv(one).std()


def test_same_seed_gives_the_same_light() -> None:
    """A review can be repeated."""
    lamp = Light("uvb_lamp_unspecified")
    assert np.array_equal(uv(recall("iguana_iguana", lamp)), uv(recall("iguana_iguana", lamp)))


def test_fact_added_leaves_the_other_draws_as_they_were() -> None:
    """Each draw has a stream of its own name: a second lamp does not touch the first."""
    lamp = Light("mercury_vapour")
    alone = recall("iguana_iguana", lamp).lines[0].uv_index
    assert np.array_equal(alone, recall("iguana_iguana", lamp, Light("heat_mat")).lines[0].uv_index)


def test_question_that_narrows_most_comes_first() -> None:
    """A mesh known and a lamp of unknown age that loses fast: its age is asked."""
    lamp = Light("uvb_tube_t8_5pct", distance_cm=exactly(30.0), barrier="none", hours_per_day=exactly(12.0))
    assert recall("terrapene_ornata", lamp).questions[0] == "When was the UVB lamp bought?"
    placed = Light(
        "uvb_tube_t5_ho_6pct", age_months=exactly(2.0), barrier="none", hours_per_day=exactly(12.0)
    )
    assert "How many cm" in recall("terrapene_ornata", placed).questions[0]
