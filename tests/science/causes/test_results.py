"""Test results as evidence in a second pass."""

import numpy as np
import pytest

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, TestResult
from baskwell.science.causes.results import TestReading, read_tests

EVIDENCE = load_evidence()


def read(test: str, result: str, taxon: str = "testudo_graeca") -> TestReading:
    """Read one test result."""
    case = Case(Animal(taxon), exam=Exam(tests=(TestResult(test=test, result=result),)))
    return read_tests(case, EVIDENCE, np.random.default_rng(1), 200)


@pytest.mark.parametrize(
    ("test", "result", "condition", "raises"),
    [
        ("pcr", "Mycoplasma agassizii positive", "mycoplasmosis", True),
        ("pcr", "Mycoplasma negative", "mycoplasmosis", False),
        ("radiograph", "stone in the bladder", "urolithiasis", True),
        ("radiograph", "thin bones", "nshp", True),
        ("faecal_flotation", "negative", "nematodes", False),
        ("faecal_flotation", "many pinworm eggs", "nematodes", True),
    ],
)
def test_a_result_moves_its_condition_the_right_way(
    test: str, result: str, condition: str, raises: bool
) -> None:
    """Direction by what the words mean in the field (common practice)."""
    factors = [f for f in read(test, result).factors if f.target == condition]

    assert factors
    assert (factors[0].log_odds > 0) == raises


@pytest.mark.parametrize("result", ["", "unknown", "sent", "taken, awaited"])
def test_a_result_that_says_nothing_is_a_gap_not_a_negative(result: str) -> None:
    """Unread is told, never treated as normal."""
    reading = read("culture", result)

    assert reading.factors == ()
    assert "could not be read" in reading.gaps[0]


def test_a_negative_weighs_by_sensitivity() -> None:
    """Expected: LR- = (1 - Se) / Sp of the faecal row for nematodes (test_performance.csv)."""
    row = next(
        r
        for r in EVIDENCE.causes.test_performance
        if (r.test_kind, r.condition_id) == ("faecal", "nematodes")
    )
    factor = next(f for f in read("faecal_flotation", "negative").factors if f.target == "nematodes")

    expected = (1 - row.sensitivity_mode) / row.specificity_mode
    assert float(factor.multiplier.mean()) == pytest.approx(expected, rel=0.15)


def test_two_results_for_one_condition_count_once() -> None:
    """Results that raise one condition are rarely independent: the strongest counts."""
    tests = (TestResult("radiograph", "thin bones"), TestResult("histology", "fibrous osteodystrophy"))
    case = Case(Animal("testudo_graeca"), exam=Exam(tests=tests))

    factors = read_tests(case, EVIDENCE, np.random.default_rng(1), 50).factors

    assert sum(f.target == "nshp" and f.log_odds > 0 for f in factors) == 1
