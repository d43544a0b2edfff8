"""Freedom from disease by the published formulas."""

import csv
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from baskwell.science.quarantine.freedom import (
    cumulative_sensitivity,
    group_sensitivity,
    group_sensitivity_finite,
    n_tests_needed,
    negative_ratio,
    posterior_after_finding,
    posterior_infected,
    probability_group_free,
    with_introduction,
)

CHECKS = Path(__file__).parents[2] / "data/clinical/quarantine_checks.csv"
ROWS = list(csv.DictReader(CHECKS.read_text(encoding="utf-8").splitlines()))
PROBABILITY = st.floats(0.0, 1.0)


def inputs(text: str) -> dict[str, float]:
    """The inputs of a row: "P=0.15; p1=9/13" as numbers."""
    pairs = (part.split("=") for part in text.split(";"))
    return {name.strip(): float(Fraction(value.strip())) for name, value in pairs}


def computed(check_id: str, i: dict[str, float]) -> float:
    """The value of one row by the function that its check is about."""
    kind = check_id.split("_", maxsplit=1)[0] + ("_fin" if "_fin_" in check_id else "")
    return {
        "bayes": lambda: float(posterior_infected(i["P"], i["Se"], i["Sp"], int(i["k"]))),
        "cumse": lambda: cumulative_sensitivity(i["Se"], int(i["k"])),
        "lr": lambda: posterior_after_finding(i["P"], i["p1"], i["p0"]),
        "k": lambda: float(n_tests_needed(i["Se"], i["target"])),
        "hse": lambda: group_sensitivity(i["Se"], i["P"], int(i["n"])),
        "hse_fin": lambda: group_sensitivity_finite(i["Se"], i["P"], int(i["n"]), int(i["N"])),
        "pfree": lambda: probability_group_free(i["prior infected"], i["HSe"]),
        "intro": lambda: with_introduction(i["post"], i["pIntro"]),
    }[kind]()


@pytest.mark.parametrize("row", ROWS, ids=[row["check_id"] for row in ROWS])
def test_every_published_check_is_reproduced(row: dict[str, str]) -> None:
    """Expected: every row of clinical/quarantine_checks.csv, each with its formula and source."""
    assert computed(row["check_id"], inputs(row["inputs"])) == pytest.approx(float(row["expected"]), abs=1e-6)


def test_all_rows_were_read() -> None:
    """The table holds 32 checks (clinical/README.md)."""
    assert len(ROWS) == 32


@pytest.mark.parametrize(("share", "n"), [(0.05, 59), (0.1, 29)])
def test_sample_sizes_for_95_percent(share: float, n: int) -> None:
    """59 at 5 % and 29 at 10 %: the classic table (quarantine_checks.csv, hse_inf)."""
    assert group_sensitivity(1.0, share, n) >= 0.95 > group_sensitivity(1.0, share, n - 1)


@given(st.floats(0.01, 0.99), st.floats(0.5, 0.999))
def test_n_tests_needed_is_the_least_number(sensitivity: float, target: float) -> None:
    """One test fewer misses the target: 1 - (1 - Se)^k (closed form)."""
    n = n_tests_needed(sensitivity, target)

    assert cumulative_sensitivity(sensitivity, n) >= target - 1e-9
    assert cumulative_sensitivity(sensitivity, n - 1) < target + 1e-9


@given(st.floats(0.05, 0.95), st.floats(0.05, 0.9), st.integers(1, 8))
def test_dependent_misses_are_beta_binomial(sensitivity: float, dependence: float, k: int) -> None:
    """P(all k missed) against scipy.stats.betabinom with the same mean and correlation."""
    size = 1.0 / dependence - 1.0
    expected = stats.betabinom(k, sensitivity * size, (1.0 - sensitivity) * size).pmf(0)

    assert float(negative_ratio(sensitivity, 1.0, k, dependence)) == pytest.approx(expected, rel=1e-6)


@given(PROBABILITY, PROBABILITY, PROBABILITY, PROBABILITY, st.integers(0, 12))
def test_a_further_negative_never_raises_infection(
    prior: float, sensitivity: float, specificity: float, dependence: float, k: int
) -> None:
    """For every informative test and every dependence."""
    if sensitivity + specificity < 1:
        sensitivity, specificity = 1 - sensitivity, 1 - specificity
    after = [float(posterior_infected(prior, sensitivity, specificity, n, dependence)) for n in (k, k + 1)]

    assert all(0 <= p <= 1 for p in after)
    assert not after[1] > after[0] + 1e-9


def test_full_dependence_makes_repeats_worthless() -> None:
    """With correlation 1 the second test repeats the first (by definition)."""
    once, often = (posterior_infected(0.3, 0.6, 0.95, k, 1.0) for k in (1, 9))

    assert float(once) == pytest.approx(float(often))


def test_draws_are_taken_together() -> None:
    """One index is one possible world."""
    prior = np.array([0.1, 0.45])

    assert posterior_infected(prior, 0.6, 1.0, 1) == pytest.approx([0.1 * 0.4 / 0.94, 0.246575], abs=1e-6)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((1.2, 0.6, 1.0, 1), "prior lies from 0 to 1"),
        ((0.2, 60, 1.0, 1), "write 0.6 for 60 %"),
        ((0.2, float("nan"), 1.0, 1), "sensitivity lies from 0 to 1"),
        ((0.2, 0.1, 0.5, 1), "swapped"),
        ((0.2, 0.6, 1.0, -1), "cannot be negative"),
    ],
)
def test_impossible_tests_are_refused_in_words(
    arguments: tuple[float, float, float, int], words: str
) -> None:
    """An impossible sensitivity is never computed with."""
    with pytest.raises(ValueError, match=words):
        posterior_infected(*arguments)
