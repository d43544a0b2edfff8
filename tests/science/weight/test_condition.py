"""Body condition: the published checks, and silence where nothing is published."""

import csv
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal
from baskwell.science.case.span import Span
from baskwell.science.draws import Summary
from baskwell.science.weight.condition import body_condition
from baskwell.science.weight.relations import expected_mass_g, index_value, stated_length_range_mm

EVIDENCE = load_evidence()
ROWS = EVIDENCE.body_condition
CHECKS = Path(__file__).parents[2] / "data/clinical/body_condition_checks.csv"
TO_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0}
TO_G = {"g": 1.0, "kg": 1000.0}


def checks() -> list[dict[str, str]]:
    """The rows of body_condition_checks.csv that a mass-length relation answers."""
    with CHECKS.open(encoding="utf-8", newline="") as handle:
        rows = list(csv.DictReader(handle))
    return [row for row in rows if re.search(r"\b(L|SVL|SCL)=", row["inputs"]) and row["check_id"] != "po_2"]


def told(text: str, names: str, units: dict[str, float]) -> float | None:
    """A quantity of the inputs in g or mm."""
    found = re.search(rf"\b(?:{names})=([\d.]+) (\w+)", text)
    return float(found.group(1)) * units[found.group(2)] if found else None


@pytest.mark.parametrize("row", checks(), ids=lambda row: row["check_id"])
def test_relations_give_the_published_numbers(row: dict[str, str]) -> None:
    """Expected: body_condition_checks.csv, source in its column ``source``; to its last figure."""
    relation = ROWS[row["item_id"]]
    mass, length = told(row["inputs"], "M", TO_G), told(row["inputs"], "L|SVL|SCL", TO_MM)
    assert length is not None
    got = expected_mass_g(relation, length) if mass is None else index_value(relation, mass, length)

    decimals = len(row["expected"].partition(".")[2])
    assert got == pytest.approx(float(row["expected"]), abs=0.6 * 10.0**-decimals)


def test_enough_published_numbers_are_held() -> None:
    """Fifteen of the 21 rows are numbers of a relation; the others are powers of ten and winter rest."""
    assert len(checks()) == 15


def test_the_metre_form_of_the_turtle_line_is_the_centimetre_form() -> None:
    """Expected: row po_2 of body_condition_checks.csv (another library's coefficients), 568.5 g at 15 cm."""
    assert expected_mass_g(ROWS["pough_turtle"], 150.0) == pytest.approx(93554.48 * 0.15**2.69, rel=1e-4)


@pytest.mark.parametrize(("index", "ratio"), [(-0.1, 0.7943), (0.1, 1.2589), (-0.04, 0.9120)])
def test_a_logarithmic_index_is_the_log_of_mass_over_expected(index: float, ratio: float) -> None:
    """Expected: rows ci_1, ci_2 (HAILEY2000) and ci_3 (WHLG2002) of body_condition_checks.csv."""
    expected = expected_mass_g(ROWS["gg_f"], 190.0) or 0.0

    assert index_value(ROWS["gg_f"], ratio * expected, 190.0) == pytest.approx(index, abs=1e-4)


def test_a_thin_tortoise_is_told_thin_by_every_index() -> None:
    """Row gg_3 of body_condition_checks.csv: 1296 g at 206 mm, beyond -0.1 on the female line."""
    animal = Animal("testudo_hermanni", sex="female", straight_carapace_length_mm=Span.exactly(206.0))
    found = body_condition(animal, EVIDENCE, Summary(1296, 1280, 1310), 0.005)

    standings = {one.evidence_id: one.standing for one in found.indices}
    assert standings["gg_f"] == "below"
    assert standings["jackson"] in ("below", "may be below")
    assert "gg_m" not in standings


def test_an_unknown_sex_uses_the_female_line_and_says_so() -> None:
    """Row hailey_ci: if the sex is unknown use the female line."""
    animal = Animal("testudo_hermanni", straight_carapace_length_mm=Span.exactly(190.0))
    found = body_condition(animal, EVIDENCE, Summary(1467, 1440, 1490), 0.01)

    assert "gg_f" in {one.evidence_id for one in found.indices}
    assert any("female line" in caution for caution in found.cautions)


def test_a_range_of_length_widens_the_index() -> None:
    """A length stated as 185 to 195 mm tells less than 190 mm."""
    mass = Summary(1467, 1440, 1490)
    exact = Animal("testudo_hermanni", straight_carapace_length_mm=Span.exactly(190.0))
    loose = Animal("testudo_hermanni", straight_carapace_length_mm=Span(185.0, 195.0))

    one = body_condition(exact, EVIDENCE, mass, 0.01).indices[0].value
    other = body_condition(loose, EVIDENCE, mass, 0.01).indices[0].value

    assert other.high - other.low > one.high - one.low


@pytest.mark.parametrize("taxon", ["python_regius", "pogona_vitticeps", "trachemys_scripta", "iguana_iguana"])
def test_kinds_without_a_relation_get_silence_and_the_reason(taxon: str) -> None:
    """General lines (pough, meiri) are crude and never used for condition (body_condition.csv)."""
    found = body_condition(Animal(taxon), EVIDENCE, Summary(400, 390, 410), 0.01)

    assert found.indices == ()
    assert "no published relation" in found.silences[0]


def test_horsfields_shape_silences_the_jackson_ratio() -> None:
    """Row jackson_scope (VETVERIFIED)."""
    animal = Animal("testudo_horsfieldii", straight_carapace_length_mm=Span.exactly(150.0))
    found = body_condition(animal, EVIDENCE, Summary(650, 630, 670), 0.01)

    assert "jackson" not in {one.evidence_id for one in found.indices}
    assert any("Horsfield" in silence for silence in found.silences)


@pytest.mark.parametrize(("mass", "length"), [(None, 150.0), (650.0, None)])
def test_a_missing_measure_is_named(mass: float | None, length: float | None) -> None:
    """Unknown is never taken as fine: the sentence says what to measure."""
    span = Span.exactly(length) if length else None
    animal = Animal("testudo_hermanni", straight_carapace_length_mm=span)
    found = body_condition(animal, EVIDENCE, Summary(mass, mass, mass) if mass else None, 0.01)

    assert found.indices == ()
    assert "not known" in found.silences[0]


def test_a_length_outside_the_fitted_range_is_called_a_guess() -> None:
    """The line was fitted on 151 to 234 mm (row gg_f)."""
    animal = Animal("testudo_hermanni", sex="female", straight_carapace_length_mm=Span.exactly(90.0))
    found = body_condition(animal, EVIDENCE, Summary(150, 145, 155), 0.01)

    assert stated_length_range_mm(ROWS["gg_f"]) == (151.0, 234.0)
    assert any("guess" in one.sentence for one in found.indices)


@settings(deadline=None)
@given(st.floats(50, 5000), st.floats(60, 300), st.floats(1.01, 2.0))
def test_a_heavier_animal_of_one_length_never_has_a_lower_index(
    mass: float, length: float, factor: float
) -> None:
    """Every index rises with mass."""
    animal = Animal("testudo_hermanni", straight_carapace_length_mm=Span.exactly(length))
    light = body_condition(animal, EVIDENCE, Summary(mass, mass, mass), 0.01)
    heavy = body_condition(animal, EVIDENCE, Summary(mass * factor, mass * factor, mass * factor), 0.01)

    for one, other in zip(light.indices, heavy.indices, strict=True):
        assert other.value.median > one.value.median
