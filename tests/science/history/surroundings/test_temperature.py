"""Temperatures of each zone: published ranges, instrument errors, inference, alarms."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baskwell.science.case.model_care import Light
from baskwell.science.history.finding import Finding
from baskwell.science.history.surroundings import SurroundingsHistory

Recall = Callable[..., SurroundingsHistory]
Pick = Callable[[SurroundingsHistory, str], Finding]
ZONES = ("basking_surface_c", "warm_side_c", "cool_side_c", "night_c")

PUBLISHED = [
    # taxon, zone, low, high, row of species_environment.csv or limits.csv that says so
    ("terrapene_ornata", "basking_surface_c", 30, 32, "hot_terrapene_ornata_low"),
    ("pogona_vitticeps", "basking_surface_c", 38, 40, "hot_pogona_vitticeps_high"),
    ("testudo_hermanni", "basking_surface_c", 34, 36, "hot_testudo_hermanni_low"),
    ("correlophus_ciliatus", "basking_surface_c", 26, 28, "correlophus_ciliatus.basking_surface_C.1"),
    ("iguana_iguana", "warm_side_c", 29, 32, "iguana_iguana.warm_side_C.1"),
    ("trachemys_scripta", "cool_side_c", 22, 26, "trachemys_scripta.cool_side_C.1"),
    ("eublepharis_macularius", "cool_side_c", 22, 25, "eublepharis_macularius.cool_side_C.1"),
    ("python_regius", "night_c", 25, 28, "python_regius.night_C.1"),
    ("testudo_hermanni", "night_c", 15, 22, "testudo_hermanni.night_C.1"),
]


@pytest.mark.parametrize(("taxon", "zone", "low", "high", "row"), PUBLISHED)
def test_the_wanted_range_is_the_published_one(
    recalled: Recall, pick: Pick, taxon: str, zone: str, low: float, high: float, row: str
) -> None:
    """Wanted ranges are those of the row named, the cautious limits first."""
    wanted = pick(recalled(taxon), zone).wanted
    assert wanted is not None
    assert (wanted.low, wanted.high) == (low, high)
    assert row in wanted.evidence_ids


@pytest.mark.parametrize(("taxon", "zone", "low", "high", "row"), PUBLISHED)
def test_far_off_a_published_range_does_not_fit(
    recalled: Recall, pick: Pick, taxon: str, zone: str, low: float, high: float, row: str
) -> None:
    """6 K off, read with a digital probe, does not fit; on which side is told."""
    cold = pick(recalled(taxon, thermometer="digital", **{zone: low - 6}), zone)
    hot = pick(recalled(taxon, thermometer="digital", **{zone: high + 6}), zone)
    assert (cold.verdict, hot.verdict) == ("does not fit", "does not fit")
    assert "too low" in cold.sentence
    assert "too high" in hot.sentence


def test_a_range_of_four_kelvin_read_with_a_probe_fits_in_its_middle(recalled: Recall, pick: Pick) -> None:
    """P(|error| < 2 K) with sd 1 K is 95.4 % (normal distribution): above the 80 % of a fit."""
    finding = pick(recalled("trachemys_scripta", thermometer="digital", cool_side_c=24), "cool_side_c")
    assert finding.verdict == "fits"
    assert finding.chances is not None
    assert finding.chances.inside == pytest.approx(0.954, abs=0.015)


@pytest.mark.parametrize(
    ("thermometer", "sd_k"),
    [
        pytest.param("dial", 3.0, id="heat.md section 6: N(0, 3 K)"),
        pytest.param("digital", 1.0, id="heat.md section 6: N(0, 1 K)"),
        pytest.param("infrared", 1.5, id="heat.md section 6: 1-2 K, the middle"),
        pytest.param(None, (0.45 * 9 + 0.4 + 0.15 * 2.25) ** 0.5, id="mixture by instruments.csv"),
    ],
)
def test_the_error_of_the_thermometer(
    recalled: Recall, pick: Pick, thermometer: str | None, sd_k: float
) -> None:
    """The spread of a single reported figure is that of its thermometer."""
    draws = pick(
        recalled("python_regius", thermometer=thermometer, night_c=26, n_draws=40_000), "night_c"
    ).draws
    assert draws is not None
    assert float(np.std(draws)) == pytest.approx(sd_k, rel=0.03)
    assert float(np.mean(draws)) == pytest.approx(26.0, abs=0.06)


def test_a_reported_range_is_spread_evenly(recalled: Recall, pick: Pick) -> None:
    """20 to 28 with a digital probe: variance 8^2/12 + 1 (uniform plus normal, closed form)."""
    draws = pick(recalled("python_regius", thermometer="digital", night_c=[20, 28]), "night_c").draws
    assert draws is not None
    assert float(np.var(draws)) == pytest.approx(64 / 12 + 1, rel=0.06)


def test_an_open_end_lies_beyond_the_known_one(recalled: Recall, pick: Pick) -> None:
    """A figure told as over 30 is never below 30 but for the error."""
    draws = pick(
        recalled("python_regius", thermometer="digital", warm_side_c=[30, None]), "warm_side_c"
    ).draws
    assert draws is not None
    assert float(np.quantile(draws, 0.05)) > 28.5
    assert float(np.median(draws)) > 30.5


@pytest.mark.parametrize("zone", ZONES)
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    taxon=st.sampled_from(["terrapene_ornata", "python_regius", "testudo", "boa_constrictor"]),
    reported=st.floats(0, 45),
    warmer=st.floats(0, 10),
    seed=st.integers(0, 1000),
)
def test_a_warmer_report_never_lowers_the_chance_of_too_warm(
    recalled: Recall, pick: Pick, zone: str, taxon: str, reported: float, warmer: float, seed: int
) -> None:
    """Nor raises the chance of too cold, with the same random numbers."""
    low, high = (
        pick(recalled(taxon, seed=seed, n_draws=300, **{zone: value}), zone).chances
        for value in (reported, reported + warmer)
    )
    if low is not None and high is not None:
        assert high.above >= low.above - 1e-12
        assert high.below <= low.below + 1e-12


@pytest.mark.parametrize("zone", ZONES)
def test_one_answer_more_leaves_the_others_as_they_were(recalled: Recall, pick: Pick, zone: str) -> None:
    """Every quantity has its own random stream."""
    other = next(name for name in ZONES if name != zone)
    alone = pick(recalled("python_regius", **{zone: 26.0}), zone)
    beside = pick(recalled("python_regius", relative_humidity_pct=60, **{zone: 26.0, other: 30.0}), zone)
    assert alone.got == beside.got


@pytest.mark.parametrize(
    "place",
    [
        {},
        {"heated": True},
        {"container": "terrarium", "heated": True},
        {"heated": False, "outdoor": True, "container": "garden"},
    ],
)
def test_what_nobody_measured_is_not_known(recalled: Recall, pick: Pick, place: dict[str, Any]) -> None:
    """Heat without a temperature, or ground in the sun, is never fine."""
    finding = pick(recalled("testudo_hermanni", **place), "basking_surface_c")
    assert finding.verdict == "not known"
    assert finding.got is None
    assert finding.ask


def test_an_unheated_place_in_a_room_has_about_room_temperature(recalled: Recall, pick: Pick) -> None:
    """surroundings_priors.csv room_day_c 17-21-26: too cold for the basking place of a python (30-32)."""
    finding = pick(recalled("python_regius", heated=False, container="tub"), "basking_surface_c")
    assert finding.verdict == "does not fit"
    assert finding.got is not None
    assert 17 < finding.got.low < 21 < finding.got.high < 26
    assert "unheated place in a room" in finding.sentence


def test_partly_outdoors_is_between_room_and_weather(recalled: Recall, pick: Pick) -> None:
    """Half of the worlds lie indoors: warmer nights than outdoors, colder than indoors."""
    nights = [
        pick(recalled("testudo_hermanni", heated=False, outdoor=where), "night_c").got
        for where in (True, "part", False)
    ]
    medians = [night.median for night in nights if night is not None]
    assert medians == sorted(medians)
    assert len(medians) == 3


def test_no_heat_and_a_heat_lamp_contradict_each_other(recalled: Recall, pick: Pick) -> None:
    """Then nothing is inferred, and the gap says why."""
    past = recalled("python_regius", heated=False, history={"lights": (Light("heat_mat"),)})
    assert pick(past, "warm_side_c").verdict == "not known"
    assert any("no heat" in gap for gap in past.gaps)


@pytest.mark.parametrize(
    ("taxon", "surface_c", "level"),
    [
        pytest.param("pogona_vitticeps", 45, "42", id="hot_pogona_vitticeps_alarm"),
        pytest.param("python_regius", 38, "34", id="hot_python_regius_alarm"),
        pytest.param("correlophus_ciliatus", 33, "29", id="hot_correlophus_ciliatus_alarm"),
        pytest.param("terrapene_ornata", 45, "39.5", id="critical maximum, LEGLER60: 39.5"),
    ],
)
def test_an_alarm_level_raises_a_strong_sentence(
    recalled: Recall, pick: Pick, taxon: str, surface_c: float, level: str
) -> None:
    """The sentence names the level; it stands in the finding and in the list of alarms."""
    past = recalled(taxon, thermometer="infrared", basking_surface_c=surface_c)
    assert len(past.alarms) == 1
    assert f"above {level}" in past.alarms[0] or f"above {float(level):.0f} " in past.alarms[0]
    assert past.alarms[0] in pick(past, "basking_surface_c").sentence


def test_below_the_alarm_level_there_is_no_alarm(recalled: Recall) -> None:
    """39 C read with a probe is the middle of a bearded dragon's range."""
    assert recalled("pogona_vitticeps", thermometer="digital", basking_surface_c=39).alarms == ()


def test_the_lawful_least_air_temperature_stands_in_for_a_missing_warm_side(
    recalled: Recall, pick: Pick
) -> None:
    """AT04: at least 23 C for most chelonians where no warm side is published."""
    wanted = pick(recalled("testudo_hermanni"), "warm_side_c").wanted
    assert wanted is not None
    assert (wanted.low, wanted.high) == (23.0, None)
    assert wanted.evidence_ids == ("testudo_hermanni.day_air_temperature_minimum_C.1",)


def test_without_a_published_range_nothing_fits(recalled: Recall, pick: Pick) -> None:
    """No row says how warm the warm side of a slider is: known, and yet not judged."""
    finding = pick(recalled("physignathus_cocincinus", warm_side_c=28), "warm_side_c")
    assert finding.verdict == "not known"
    assert finding.got is not None
    assert "no table says" in finding.sentence


def test_a_borrowed_range_says_so(recalled: Recall, pick: Pick) -> None:
    """A boa's nights are those of a ball python, and the line says it."""
    wanted = pick(recalled("boa_constrictor"), "night_c").wanted
    assert wanted is not None
    assert "ball python" in wanted.said_by


def test_a_higher_name_takes_the_ranges_of_its_species(recalled: Recall, pick: Pick) -> None:
    """16.5 C at night fits all three Testudo; 20.5 C fits 15-22 (TH_REPBAY) and not 10-18 of the others."""
    inside = [
        pick(recalled("testudo", thermometer="logger", night_c=night), "night_c").chances
        for night in (16.5, 20.5)
    ]
    assert inside[0] is not None
    assert inside[1] is not None
    assert inside[0].inside > 0.9
    assert 0.2 < inside[1].inside < 0.6


def test_a_vague_answer_asks_for_the_thermometer(recalled: Recall, pick: Pick) -> None:
    """Within the reach of an unknown thermometer's error, the next question is which one it was."""
    unsure = pick(recalled("terrapene_ornata", basking_surface_c=31), "basking_surface_c")
    sure = pick(recalled("terrapene_ornata", thermometer="logger", basking_surface_c=31), "basking_surface_c")
    assert unsure.verdict == "doubtful"
    assert "With what was it read" in unsure.ask
    assert sure.verdict == "fits"
    assert sure.ask == ""
