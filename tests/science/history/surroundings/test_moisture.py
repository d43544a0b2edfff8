"""Humidity: published ranges, words, hygrometers, and what warming does to room air."""

from collections.abc import Callable

import numpy as np
import pytest

from baskwell.science.history.finding import Finding
from baskwell.science.history.surroundings import SurroundingsHistory
from baskwell.science.humidity import vapour_pressure_deficit_kpa

Recall = Callable[..., SurroundingsHistory]
Pick = Callable[[SurroundingsHistory, str], Finding]
RH = "relative_humidity_pct"


@pytest.mark.parametrize(
    ("taxon", "low", "high", "row"),
    [
        ("tiliqua_scincoides", 35, 50, "tiliqua_scincoides.relative_humidity_pct.1"),
        ("testudo_hermanni", 50, 70, "testudo_hermanni.relative_humidity_pct.1"),
        ("centrochelys_sulcata", 40, 60, "centrochelys_sulcata.relative_humidity_pct.1"),
        ("terrapene_carolina", 60, 85, "terrapene_carolina.relative_humidity_pct.1"),
        ("chamaeleo_calyptratus", 40, 80, "chamaeleo_calyptratus.relative_humidity_pct.1"),
        ("pantherophis_guttatus", 40, 60, "pantherophis_guttatus.relative_humidity_pct.1"),
    ],
)
def test_the_wanted_humidity_is_the_published_one(
    recalled: Recall, pick: Pick, taxon: str, low: float, high: float, row: str
) -> None:
    """Rows of species_environment.csv, and far below them does not fit."""
    finding = pick(recalled(taxon, hygrometer="digital", relative_humidity_pct=low - 15), RH)
    assert finding.wanted is not None
    assert (finding.wanted.low, finding.wanted.high) == (low, high)
    assert finding.wanted.evidence_ids == (row,)
    assert finding.verdict == "does not fit"


def test_young_sulcatas_need_it_damper(recalled: Recall, pick: Pick) -> None:
    """WIESNER03: 45-99 % for hatchlings, against 40-60 % for adults."""
    young = pick(recalled("centrochelys_sulcata", animal={"age_class": "hatchling"}), RH).wanted
    assert young is not None
    assert (young.low, young.high) == (45.0, 99.0)


@pytest.mark.parametrize(
    ("hygrometer", "sd_pct"),
    [
        pytest.param("dial", 15.0, id="heat.md section 6: 10-20 %, the middle"),
        pytest.param("digital", 4.0, id="heat.md section 6: 3-5 %, the middle"),
        pytest.param(None, (0.6 * 225 + 0.4 * 16) ** 0.5, id="mixture by instruments.csv"),
    ],
)
def test_the_error_of_the_hygrometer(
    recalled: Recall, pick: Pick, hygrometer: str | None, sd_pct: float
) -> None:
    """The spread of a figure is that of its hygrometer (cut at 0 and 100 %)."""
    past = recalled("pantherophis_guttatus", hygrometer=hygrometer, relative_humidity_pct=50, n_draws=40_000)
    draws = pick(past, RH).draws
    assert draws is not None
    assert float(np.std(draws)) == pytest.approx(sd_pct, rel=0.03)
    assert 0.0 <= draws.min() <= draws.max() <= 100.0


@pytest.mark.parametrize(("word", "low", "high"), [("low", 10, 40), ("high", 65, 98)])
def test_a_word_stands_for_its_judged_range(
    recalled: Recall, pick: Pick, word: str, low: float, high: float
) -> None:
    """surroundings_priors.csv humidity_low and humidity_high."""
    draws = pick(recalled("python_regius", relative_humidity_pct=word), RH).draws
    assert draws is not None
    assert low <= draws.min() <= draws.max() <= high


def test_the_drying_power_follows_from_the_draws(recalled: Recall) -> None:
    """Vapour pressure deficit, world by world, on the warm side."""
    past = recalled("python_regius", warm_side_c=30, relative_humidity_pct=60)
    power = past.place.drying_power_kpa
    assert power is not None
    expected = vapour_pressure_deficit_kpa(past.place.zones["warm_side_c"], past.place.zones[RH])
    np.testing.assert_array_equal(power, expected)


def test_an_unmeasured_warm_place_is_told_how_dry_room_air_becomes(recalled: Recall, pick: Pick) -> None:
    """checks.csv C42: 20 C and 50 % warmed to 30 C is 27.5 %; told as physics, not as a finding."""
    past = recalled("python_regius", thermometer="logger", warm_side_c=30, heated=True)
    finding = pick(past, RH)
    assert finding.verdict == "not known"
    assert "28 % once warmed to 30 °C" in finding.sentence
    assert RH not in past.place.zones


def test_a_water_animal_is_not_asked_for_humidity(recalled: Recall) -> None:
    """No table gives a humidity for sliders, and it matters little in water."""
    assert RH not in {finding.finding_id for finding in recalled("trachemys_scripta").findings}


def test_a_moist_hide_is_told_beside_dry_air(recalled: Recall, pick: Pick) -> None:
    """Dry air with a moist hide is another thing than dry air."""
    past = recalled("python_regius", relative_humidity_pct=20, moist_hide=True)
    assert "moist hide" in pick(past, RH).sentence
    assert pick(past, "moist_hide").verdict == "fits"
