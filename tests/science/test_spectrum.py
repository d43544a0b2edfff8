"""Spectra against the standard's weights, a reference solar spectrum and a known bad lamp."""

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.evidence.rows.environment import LightFact
from baskwell.science.spectrum import (
    Spectrum,
    SpectrumError,
    band_w_m2,
    erythema_weight,
    erythemal_dose_j_m2,
    is_short_waved,
    parse_spectrum,
    read_spectrum,
    uv_index,
)

EVIDENCE = load_evidence()
WEIGHTS = [fact for fact in EVIDENCE.light_facts if fact.topic == "erythema_weight"]


@dataclass(frozen=True)
class Reference:
    """ASTM G173 as shipped by pvlib: wavelengths in nm, irradiance in W/m2/nm."""

    whole: Spectrum
    direct: Spectrum


@pytest.fixture(scope="module")
def am15() -> Reference:
    """The AM1.5 spectra, from an independent library."""
    from pvlib.spectrum import get_reference_spectra

    table = get_reference_spectra()
    table = table[table.index <= 400.0]
    nm = table.index.to_numpy()
    return Reference(Spectrum(nm, table["global"].to_numpy()), Spectrum(nm, table["direct"].to_numpy()))


@pytest.mark.parametrize("fact", WEIGHTS, ids=lambda fact: fact.item)
def test_erythema_weights_are_those_of_the_table(fact: LightFact) -> None:
    """light.csv, topic erythema_weight, printed to eight decimals; the older anchor stands in the note."""
    nm = float(fact.item.split()[0])
    assert float(erythema_weight(nm)) == pytest.approx(fact.low, abs=5.1e-9)
    older = float(fact.note.removeprefix("anchor 139: "))
    assert float(erythema_weight(nm, 139.0)) == pytest.approx(older, abs=5.1e-9)


@pytest.mark.parametrize(
    ("nm", "anchor", "expected", "tolerance"),
    [
        (300.0, 140.0, 0.648634, 1e-5),  # checks.csv C07, PHOTOBIO
        (310.0, 140.0, 0.074473, 1e-6),  # C08
        (320.0, 140.0, 0.00855067, 1e-7),  # C09
        (340.0, 140.0, 0.001, 1e-9),  # C10, ISO 17166: 10^-3
        (340.0, 139.0, 0.00096605, 1e-7),  # C11
    ],
)
def test_erythema_weight_checks(nm: float, anchor: float, expected: float, tolerance: float) -> None:
    """Values of an independent package and of the standard's own formula."""
    assert float(erythema_weight(nm, anchor)) == pytest.approx(expected, abs=tolerance)


def test_weight_is_nil_outside_250_to_400_nm() -> None:
    """The limits of the WHO definition (light.csv)."""
    assert erythema_weight([249.9, 400.1]).tolist() == [0.0, 0.0]


def test_reference_sun_has_its_published_uv_index(am15: Reference) -> None:
    """checks.csv C01-C03 (ASTM G173): 3.693 and 3.665 by anchor, 2.07 for the direct beam."""
    assert uv_index(am15.whole) == pytest.approx(3.693, abs=0.02)
    assert uv_index(am15.whole, anchor_nm=139.0) == pytest.approx(3.665, abs=0.02)
    assert uv_index(am15.direct) == pytest.approx(2.07, abs=0.02)


def test_reference_sun_has_its_published_uvb(am15: Reference) -> None:
    """checks.csv C05, C06 (G173): 0.682 W/m2 to 315 nm, 1.522 W/m2 to 320 nm."""
    assert band_w_m2(am15.whole, 280.0, 315.0) == pytest.approx(0.682, abs=0.01)
    assert band_w_m2(am15.whole, 280.0, 320.0) == pytest.approx(1.522, abs=0.02)


def test_sun_is_no_hazard_and_has_its_ratio(am15: Reference) -> None:
    """checks.csv C22 (G173): 18.5 uW/cm2 of UVB per UV index."""
    reading = read_spectrum(am15.whole, EVIDENCE)
    assert reading.uvb_uw_cm2_per_uvi == pytest.approx(18.5, abs=0.3)
    assert reading.hazards == ()


def test_lamp_far_below_the_solar_ratio_is_flagged() -> None:
    """checks.csv C23 (RU_LAMP): 21 uW/cm2 at UVI 3.8 is 5.5 per UVI."""
    assert pytest.approx(5.5, abs=0.1) == 21.0 / 3.8
    assert is_short_waved(21.0, 3.8, EVIDENCE)
    assert not is_short_waved(18.5 * 3.8, 3.8, EVIDENCE)


def test_light_below_290_nm_is_a_hazard_even_with_a_fair_ratio() -> None:
    """Sunlight has nothing there (light.csv, safety)."""
    nm = np.arange(250.0, 401.0)
    lamp = Spectrum(nm, np.where((nm > 305) & (nm < 340), 0.05, 0.0) + np.where(nm < 285, 0.0005, 0.0))
    hazards = read_spectrum(lamp, EVIDENCE).hazards
    assert any("below 290 nm" in hazard for hazard in hazards)


def test_dose_of_four_hours_at_three() -> None:
    """checks.csv C12: 3 * 0.025 * 4 * 3600 = 1080 J/m2."""
    assert erythemal_dose_j_m2(3.0, 4.0) == pytest.approx(1080.0, abs=0.5)


def test_vitamin_d_weights_are_told_to_be_missing(am15: Reference) -> None:
    """CIE 174 was not obtained; the reading says so instead of guessing."""
    assert any("CIE 174" in gap for gap in read_spectrum(am15.whole, EVIDENCE).gaps)


def test_what_was_not_measured_below_the_first_wavelength_is_told(am15: Reference) -> None:
    """G173 starts at 280 nm."""
    assert any("below 280 nm" in gap for gap in read_spectrum(am15.whole, EVIDENCE).gaps)


def test_dark_spectrum_reads_nil() -> None:
    """No light: UV index 0, no ratio, no hazard."""
    reading = read_spectrum(Spectrum(np.arange(280.0, 401.0), np.zeros(121)), EVIDENCE)
    assert (reading.uv_index, reading.uvb_uw_cm2_per_uvi, reading.hazards) == (0.0, None, ())


GOOD = np.arange(280.0, 401.0)


@pytest.mark.parametrize(
    ("nm", "values", "says"),
    [
        (GOOD, np.ones(120), "one irradiance a wavelength"),
        (GOOD[:5], np.ones(5), "too short"),
        (GOOD, np.where(GOOD == 300, np.nan, 1.0), "no number"),
        (GOOD[::-1], np.ones(121), "must rise"),
        (GOOD, np.where(GOOD == 300, -0.5, 1.0), "beyond noise"),
        (np.arange(300.0, 401.0), np.ones(101), "290 to 400 nm at least"),
        (GOOD / 1000.0, np.ones(121), "wavelengths are read in nm"),
        (np.arange(280.0, 401.0, 10.0), np.ones(13), "steps of 10 nm"),
    ],
)
def test_bad_spectra_are_refused_with_the_reason(nm: np.ndarray, values: np.ndarray, says: str) -> None:
    """Each sentence names what is wrong."""
    with pytest.raises(SpectrumError, match=says):
        Spectrum(nm, values)


@pytest.mark.parametrize(
    ("heading", "row"),
    [
        ("nm,W/m2/nm", "{nm},0.01"),
        ("nm;mW/m²/nm", "{nm};10,0"),
        ("nm\tirradiance (µW/cm²/nm)", "{nm}\t1,0"),
        ("wavelength uW cm-2 nm-1", "{nm} 1,0"),
        ("", "{nm}, 0.01, remark"),
    ],
)
def test_any_common_way_of_writing_a_spectrum_is_read(heading: str, row: str) -> None:
    """The same light in five dialects and four units."""
    text = "\n".join([heading, *(row.format(nm=nm) for nm in range(280, 401))])
    assert parse_spectrum(text).irradiance == pytest.approx(np.full(121, 0.01))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "holds two numbers"),
        ("a\nb", "holds two numbers"),
        ("280,1\n281,one\n", "Line 2"),
        ("280,1\n" * 20_001, "20000"),
        ("\n".join(f"{nm},nan" for nm in range(280, 401)), "no number"),
    ],
)
def test_bad_files_are_refused_with_the_line(text: str, says: str) -> None:
    """Hostile and broken text ends in a sentence."""
    with pytest.raises(SpectrumError, match=says):
        parse_spectrum(text)


@given(st.text(max_size=400))
def test_no_text_breaks_the_parser(text: str) -> None:
    """Any text is either a spectrum or a sentence."""
    try:
        parse_spectrum(text)
    except SpectrumError as error:
        assert str(error)


@given(st.lists(st.floats(0.0, 10.0), min_size=121, max_size=121), st.floats(0.001, 1000.0))
def test_uv_index_scales_with_the_light(values: list[float], factor: float) -> None:
    """Twice the light is twice the index, whatever its shape: a change of unit changes nothing else."""
    once, more = Spectrum(GOOD, np.array(values)), Spectrum(GOOD, np.array(values) * factor)
    assert uv_index(more) == pytest.approx(uv_index(once) * factor)


@given(st.lists(st.floats(0.0, 10.0), min_size=121, max_size=121))
def test_uv_index_lies_between_nil_and_the_unweighted_light(values: list[float]) -> None:
    """The weight is never above one."""
    light = Spectrum(GOOD, np.array(values))
    assert 0.0 <= uv_index(light) <= 40.0 * band_w_m2(light, 250.0, 400.0) + 1e-9
