"""Rows that follow from a formula, a definition or each other are computed again here."""

import math
import re

import pytest

from baskwell.evidence import load_evidence
from baskwell.evidence.lookup import uv_zone, wanted_environment
from baskwell.evidence.rows.environment import LightFact, TankSize

EVIDENCE = load_evidence()
FACTS = {fact.row_id: fact for fact in EVIDENCE.light_facts}
PROFILES = [taxon.taxon_id for taxon in EVIDENCE.taxa.values() if taxon.profile]
ERYTHEMA = [fact for fact in EVIDENCE.light_facts if fact.topic == "erythema_weight"]
NOON = [fact for fact in EVIDENCE.light_facts if fact.topic == "solar_noon_clear"]


def _erythema(wavelength_nm: float) -> float:
    """ISO/CIE 17166: weight 1 to 298 nm, then two exponentials."""
    if wavelength_nm <= 298:
        return 1.0
    if wavelength_nm <= 328:
        return float(10 ** (0.094 * (298 - wavelength_nm)))
    return float(10 ** (0.015 * (140 - wavelength_nm)))


@pytest.mark.parametrize("fact", ERYTHEMA, ids=lambda fact: fact.item)
def test_erythema_weights_follow_the_standard(fact: LightFact) -> None:
    """The tabulated weights are those of the action spectrum at their wavelength (anchor 140 or 139)."""
    wavelength = float(re.findall(r"\d+", fact.item)[0])
    assert fact.low == pytest.approx(_erythema(wavelength), rel=0.04)


@pytest.mark.parametrize("fact", NOON, ids=lambda fact: fact.item)
def test_clear_sky_noon_follows_the_formula(fact: LightFact) -> None:
    """Madronich 2007: UVI = 12.5 mu^2.42 (ozone/300)^-1.23 at 300 DU, mu = cos(latitude - declination)."""
    latitude = float(re.findall(r"\d+", fact.item)[0])
    season = {"21 June": 23.44, "equinox": 0.0, "21 December": -23.44}
    tilt = next(angle for word, angle in season.items() if word.lower() in fact.item.lower())
    mu = math.cos(math.radians(latitude - tilt))
    wanted = 12.5 * mu**2.42 if mu > 0 else 0.0
    low, high = fact.low, fact.high
    assert low - 0.35 <= wanted <= (high if high is not None else low) + 0.35


@pytest.mark.parametrize("taxon_id", PROFILES)
def test_exposure_bands_are_those_of_the_zone(taxon_id: str) -> None:
    """The UV band of a species is that of its Ferguson zone in light.csv."""
    zone = uv_zone(EVIDENCE, taxon_id)
    fact = FACTS[f"ferguson_zone.zone_{zone}_mean_exposure.1"]
    row = wanted_environment(EVIDENCE, taxon_id, "uv_index_average_exposure")[-1]
    assert (row.low, row.high) == (fact.low, fact.high)


@pytest.mark.parametrize("tank", EVIDENCE.tank_sizes, ids=lambda tank: tank.nominal_us_gallons)
def test_tank_sizes_convert(tank: TankSize) -> None:
    """2.54 cm an inch; 231 cubic inches and 3.785412 L a US gallon, exactly."""
    inches = [tank.length_in, tank.width_in, tank.height_in]
    centimetres = [tank.length_cm, tank.width_cm, tank.height_cm]
    assert centimetres == pytest.approx([side * 2.54 for side in inches], abs=0.06)
    gallons = math.prod(inches) / 231
    assert tank.gross_us_gal == pytest.approx(gallons, abs=0.06)
    assert tank.gross_l == pytest.approx(gallons * 3.785412, abs=0.2)
    assert tank.floor_area_m2 == pytest.approx(centimetres[0] * centimetres[1] / 10_000, abs=0.001)


@pytest.mark.parametrize("taxon_id", PROFILES)
def test_no_default_hot_spot_comes_near_death(taxon_id: str) -> None:
    """The cautious hot spot stays at least 3 K under the critical maximum where one was measured."""
    critical = wanted_environment(EVIDENCE, taxon_id, "critical_max_C")
    hot = wanted_environment(EVIDENCE, taxon_id, "basking_surface_C")[0]
    assert hot.high is not None
    assert not critical or hot.high + 3 <= min(row.low or 99 for row in critical)


def test_ounces_and_pounds_are_the_avoirdupois_ones() -> None:
    """28.35 g and 453.6 g, to the rounding of the source."""
    grams = {"oz": 28.35, "lb": 453.6}
    found = [(m.measure, m.grams_per_unit) for m in EVIDENCE.measures if m.measure in grams]
    assert found
    assert all(value == pytest.approx(grams[name], rel=0.02) for name, value in found)


def test_posterior_means_are_those_of_their_beta_parameters() -> None:
    """Mean of Beta(a, b) = a / (a + b), for all pooled links."""
    off = [
        link
        for link in EVIDENCE.links
        if link.post_mean != pytest.approx(link.post_a / (link.post_a + link.post_b), abs=0.002)
    ]
    assert off == []


def test_published_frequencies_are_their_counts() -> None:
    """P = x / n wherever counts are given (back-calculated ones to the decimals printed)."""
    pairs = [
        (row.p, row.x / row.n)
        for row in EVIDENCE.prevalence
        if row.p is not None and row.x is not None and row.n
    ]
    assert pairs
    assert all(p == pytest.approx(share, abs=0.006) for p, share in pairs)


def test_every_agent_of_the_case_file_page_exists() -> None:
    """The agents named on the page of the case file, and those of the published case files."""
    named = {"vitamin_a", "vitamin_d3", "multivitamin", "mineral_powder", "calcium_carbonate", "cuttlebone"}
    assert named <= set(EVIDENCE.agents)


def test_amount_words_are_those_of_the_case_file_page() -> None:
    """Low - most likely - high of the page of the case file, judgement."""
    words = {word: (row.low, row.mode, row.high) for word, row in EVIDENCE.amount_words.items()}
    assert words["mostly"] == (0.5, 0.75, 0.95)
    assert words["treats"] == words["rarely"] == (0.0, 0.02, 0.08)
    assert words["pinch"] == (None, None, None)
