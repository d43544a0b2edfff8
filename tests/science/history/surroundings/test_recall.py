"""The whole history of the surroundings: logs, seasons, judgements, sameness, and what must always hold."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model_care import Period
from baskwell.science.case.span import Span
from baskwell.science.history.climate_log import ClimateLog, ClimateSeries, read_climate_log
from baskwell.science.history.finding import Finding, judge
from baskwell.science.history.surroundings import SurroundingsHistory

Recall = Callable[..., SurroundingsHistory]
Pick = Callable[[SurroundingsHistory, str], Finding]
ROOT = next(folder for folder in Path(__file__).parents if (folder / "pyproject.toml").exists())


@pytest.fixture(scope="module")
def flint_log() -> ClimateLog:
    """The invented logger file of Harrow Mill: ten days on the warm side, cold nights."""
    data = (ROOT / "examples" / "harrow_mill" / "flint_log.csv").read_bytes()
    return read_climate_log(data, "flint_log.csv")


def test_the_example_log_reads_without_a_word_of_doubt(flint_log: ClimateLog) -> None:
    """One probe on the warm side, half-hourly, ten days."""
    (series,) = flint_log.series
    assert series.zone == "warm_side"
    assert series.step_s == 1800
    assert series.days == pytest.approx(10.0)
    assert flint_log.notes == ()


def test_the_log_stands_above_what_was_reported(recalled: Recall, pick: Pick, flint_log: ClimateLog) -> None:
    """The owner says 24 C at night; the logger says otherwise, and the sentence says which counts."""
    past = recalled("eublepharis_macularius", climate=flint_log, night_c=24, relative_humidity_pct=50)
    night = pick(past, "night_c")
    minima = [10.2, 14.3]  # the invented nights lie between these, examples/harrow_mill
    assert night.got is not None
    assert minima[0] < night.got.median < minima[1]
    assert night.verdict == "does not fit"
    assert "the log stands above it" in night.sentence
    assert "by the logger" in pick(past, "relative_humidity_pct").sentence


def test_cold_nights_show_in_hours_and_degree_hours(
    recalled: Recall, pick: Pick, flint_log: ClimateLog
) -> None:
    """Both are computed against the species' own ranges, and neither is tolerated."""
    past = recalled("eublepharis_macularius", climate=flint_log)
    for finding_id, unit in (("hours_outside_range", "h a day"), ("degree_hours_below", "K h a day")):
        finding = pick(past, finding_id)
        assert finding.unit == unit
        assert finding.verdict == "does not fit"
        assert "10 days of the logger" in finding.sentence
    hours = pick(past, "hours_outside_range").got
    assert hours is not None
    assert 0 < hours.low < hours.high <= 24


def test_a_log_without_a_place_tells_nights_but_no_zone(
    recalled: Recall, pick: Pick, flint_log: ClimateLog
) -> None:
    """The file must name its column; the reported warm side stays."""
    nameless = ClimateLog("x.csv", (replace(flint_log.series[0], zone="", label=""),))
    past = recalled("eublepharis_macularius", climate=nameless, warm_side_c=28)
    assert "as reported" in pick(past, "warm_side_c").sentence
    assert "by the logger" in pick(past, "night_c").sentence
    assert any("has no place" in gap for gap in past.gaps)


def test_a_short_log_tells_no_hours_a_day(recalled: Recall, flint_log: ClimateLog) -> None:
    """Five hours are no day."""
    whole = flint_log.series[0]
    parts = (whole.times_s[:10], whole.temperature_c[:10], whole.relative_humidity_pct[:10])
    past = recalled("eublepharis_macularius", climate=ClimateLog("x", (ClimateSeries("", "", *parts),)))
    assert not [finding for finding in past.findings if finding.finding_id.startswith("hours")]
    assert any("does not cover a day and a night" in gap for gap in past.gaps)


def test_two_probes_have_two_findings_and_the_colder_night_counts(
    recalled: Recall, pick: Pick, flint_log: ClimateLog
) -> None:
    """The warm side comes first; the other carries its name."""
    warm = flint_log.series[0]
    cool = replace(warm, zone="cool_side", label="cool", temperature_c=warm.temperature_c - 5)
    past = recalled("eublepharis_macularius", climate=ClimateLog("x", (cool, warm)))
    assert pick(past, "hours_outside_range").name.endswith("on the warm side")
    assert pick(past, "hours_outside_range_cool_side").name.endswith("on the cool side")
    night = pick(past, "night_c").got
    alone = pick(recalled("eublepharis_macularius", climate=flint_log), "night_c").got
    assert night is not None
    assert alone is not None
    assert night.median < alone.median - 3


def test_a_log_named_but_not_given_is_a_gap(recalled: Recall) -> None:
    """The person is told why temperatures are as told."""
    past = recalled("eublepharis_macularius", climate_log="flint_log.csv")
    assert any("flint_log.csv was not given" in gap for gap in past.gaps)


def test_a_season_that_differs_has_findings_of_its_own(recalled: Recall, pick: Pick) -> None:
    """Cold winter nights are told beside the usual ones, and only what differs is repeated."""
    periods = (Period(when="winter", night_c=Span(8.0, 12.0)),)
    past = recalled("python_regius", night_c=26, thermometer="digital", history={"periods": periods})
    assert pick(past, "night_c").verdict in ("fits", "doubtful")
    assert pick(past, "night_c@winter").verdict == "does not fit"
    assert pick(past, "night_c@winter").name.endswith("in winter")
    winters = [finding.finding_id for finding in past.findings if finding.finding_id.endswith("@winter")]
    assert winters == ["night_c@winter"]
    assert set(past.periods) == {"winter"}


def test_another_place_inherits_nothing(recalled: Recall, pick: Pick) -> None:
    """The heat of the tank says nothing of the pen it had in summer."""
    periods = (Period(when="summer", container="pen", outdoor=True, floor_m2=Span.exactly(6.0)),)
    past = recalled(
        "terrapene_ornata", warm_side_c=27, floor_m2=0.3, heated=True, history={"periods": periods}
    )
    assert pick(past, "floor_area_m2@summer").verdict == "fits"
    assert "warm_side_c" not in past.periods["summer"].zones
    assert any("warm side in summer" in gap for gap in past.gaps)


@pytest.mark.parametrize(("word", "sign"), [("judged_good", 1), ("judged_poor", -1)])
def test_a_judgement_without_figures_moves_the_odds_by_its_ratio(
    recalled: Recall, pick: Pick, word: str, sign: int
) -> None:
    """surroundings_priors.csv judged_ratio 2.5: posterior odds = odds x 2.5 or / 2.5 (Bayes)."""
    place: dict[str, Any] = {"thermometer": "digital", "basking_surface_c": 31, "n_draws": 40_000}
    plain = pick(recalled("terrapene_ornata", **place), "basking_surface_c").chances
    told = pick(recalled("terrapene_ornata", history={word: ("heat",)}, **place), "basking_surface_c").chances
    assert plain is not None
    assert told is not None
    odds = plain.inside / (1 - plain.inside) * 2.5**sign
    assert told.inside == pytest.approx(odds / (1 + odds), abs=0.01)


def test_a_judgement_never_makes_the_unknown_fit(recalled: Recall, pick: Pick) -> None:
    """Judged right without a figure is still not known."""
    past = recalled("python_regius", history={"judged_good": ("husbandry", "heat", "humidity")})
    assert {finding.verdict for finding in past.findings} == {"not known"}
    assert "judged right without figures" in pick(past, "warm_side_c").sentence


def test_the_same_seed_gives_the_same_history(recalled: Recall) -> None:
    """Nothing but the generator is random."""
    place: dict[str, Any] = {"warm_side_c": [24, 28], "space": "small", "relative_humidity_pct": "low"}
    one, other = (recalled("testudo", seed=7, **place) for _ in range(2))
    assert one.findings == other.findings


PLACES = st.fixed_dictionaries(
    {},
    optional={
        "container": st.sampled_from(["tub", "pen", "terrarium", "bucket", "pond"]),
        "space": st.sampled_from(["small", "large", "free_roaming"]),
        "tank": st.sampled_from(["40 gallon", "20 long", "mystery"]),
        "basking_surface_c": st.floats(5, 60),
        "warm_side_c": st.tuples(st.floats(5, 30), st.floats(30, 50)).map(lambda ends: [*ends]),
        "night_c": st.floats(-10, 40),
        "heated": st.booleans(),
        "outdoor": st.sampled_from([True, False, "part"]),
        "relative_humidity_pct": st.sampled_from([30.0, "low", "high"]),
        "height_cm": st.floats(10, 200),
        "water_depth_cm": st.floats(0, 60),
        "substrate_depth_cm": st.floats(0, 60),
        "substrate": st.lists(st.sampled_from(["sand", "bark", "nonsense"]), max_size=2).map(tuple),
        "water": st.sampled_from(["none", "dish", "pool"]),
        "hides": st.integers(0, 3),
        "time_out_hours_per_day": st.floats(0, 24),
    },
)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(taxon=st.sampled_from(sorted(load_evidence().taxa)), place=PLACES, seed=st.integers(0, 99))
def test_every_history_is_whole(recalled: Recall, taxon: str, place: dict[str, Any], seed: int) -> None:
    """Any answer about any animal gives findings whose parts agree with one another."""
    past = recalled(taxon, seed=seed, n_draws=60, **place)
    ids = [finding.finding_id for finding in past.findings]
    assert len(ids) == len(set(ids))
    for finding in past.findings:
        assert finding.sentence.endswith((".", "?"))
        assert "nan" not in finding.sentence
        if finding.verdict != "not known":
            assert finding.wanted is not None or finding.finding_id == "substrate"
        if finding.chances is not None:
            assert finding.chances.below + finding.chances.inside + finding.chances.above == pytest.approx(1)
            assert finding.verdict == judge(finding.chances)
        if finding.draws is not None:
            assert finding.draws.shape == (60,)
            assert not np.any(np.isnan(finding.draws))
        if finding.got is None and finding.draws is None and finding.verdict == "not known":
            assert finding.ask
