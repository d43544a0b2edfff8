"""Test results as evidence: what the words of a result say about a condition (second pass)."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.rows.causes import TestKind, TestPerformance, TestWord
from baskwell.science.case.model import Case, TestResult
from baskwell.science.causes.factors import Factor
from baskwell.science.draws import Draws, pert

POSITIVE = ("positive", "found", "detected", "present")
NEGATIVE = ("negative", "not found", "none found", "not detected", "absent", "clear")


@dataclass(frozen=True)
class TestReading:
    """The factors that test results bring, and plain sentences on results that could not be read."""

    __test__ = False

    factors: tuple[Factor, ...]
    gaps: tuple[str, ...]


def read_tests(case: Case, evidence: Evidence, rng: np.random.Generator, n_draws: int) -> TestReading:
    """Read every test result of a case as factors on conditions.

    A result is first looked through for words that name a finding (``test_words.csv``); a plain "positive"
    or "negative" of a kind of test made for one condition counts by its sensitivity and specificity
    (``test_performance.csv``). A result that says neither is told as unread, never as normal.
    """
    factors: list[Factor] = []
    gaps: list[str] = []
    for test in case.exam.tests:
        found = list(_factors(test, evidence, rng, n_draws))
        factors += found
        if not found:
            gaps.append(f"Test '{test.test}' with the result '{test.result or 'unknown'}' could not be read.")
    return TestReading(tuple(_strongest(factors)), tuple(gaps))


def _factors(
    test: TestResult, evidence: Evidence, rng: np.random.Generator, n_draws: int
) -> Iterator[Factor]:
    kinds = _kinds(test, evidence)
    result = test.result.lower()
    words = [row for row in evidence.causes.test_words if _says(row, result, kinds)]
    for row in words:
        draws = np.exp(pert(rng, np.log(row.low), np.log(row.mode), np.log(row.high), n_draws))
        yield _factor(test, row.condition_id, row.source, draws)
    if not words:
        yield from _plain(test, kinds, evidence, rng, n_draws)


def _kinds(test: TestResult, evidence: Evidence) -> tuple[str, ...]:
    name = test.test.lower()
    return tuple(row.test_kind for row in evidence.causes.test_kinds if _named(row, name))


def _named(row: TestKind, name: str) -> bool:
    return any(re.search(rf"(?<![a-z]){re.escape(word)}", name) for word in row.words)


def _says(row: TestWord, result: str, kinds: tuple[str, ...]) -> bool:
    if row.test_kinds and not set(row.test_kinds) & set(kinds):
        return False
    if row.unless and any(word in result for word in row.unless.split("|")):
        return False
    return any(word in result for word in row.any_of.split("|"))


def _plain(
    test: TestResult, kinds: tuple[str, ...], evidence: Evidence, rng: np.random.Generator, n_draws: int
) -> Iterator[Factor]:
    """A bare positive or negative, or "negative for X", of a test whose target is known."""
    result = test.result.lower()
    negative = any(word in result for word in NEGATIVE)
    if not negative and not any(word in result for word in POSITIVE):
        return
    rows = [row for row in evidence.causes.test_performance if row.test_kind in kinds]
    named = [row for row in rows if _mentions(row, test, evidence)]
    if not negative and not named and len(rows) > 1:
        return
    for row in named or rows:
        yield _factor(test, row.condition_id, row.source, _likelihood_ratio(row, negative, rng, n_draws))


def _mentions(row: TestPerformance, test: TestResult, evidence: Evidence) -> bool:
    text = f"{test.test} {test.result}".lower()
    words = [row.condition_id, *evidence.conditions[row.condition_id].name.lower().split()]
    return any(len(word) > 4 and word[:7] in text for word in words)


def _likelihood_ratio(row: TestPerformance, negative: bool, rng: np.random.Generator, n_draws: int) -> Draws:
    """LR of a result: (1 - Se) / Sp when negative, Se / (1 - Sp) when positive."""
    sensitivity = pert(rng, row.sensitivity_low, row.sensitivity_mode, row.sensitivity_high, n_draws)
    specificity = pert(rng, row.specificity_low, row.specificity_mode, row.specificity_high, n_draws)
    return (1.0 - sensitivity) / specificity if negative else sensitivity / (1.0 - specificity)


def _factor(test: TestResult, condition: str, said_by: str, draws: Draws) -> Factor:
    text = f"{test.test.replace('_', ' ')}: {test.result}"
    return Factor(condition, "test", test.test, text, said_by, draws)


def _strongest(factors: list[Factor]) -> Iterator[Factor]:
    """Of several results that raise one condition only the strongest counts: they are rarely independent."""
    for condition in dict.fromkeys(f.target for f in factors):
        mine = [f for f in factors if f.target == condition]
        raising = [f for f in mine if f.log_odds > 0]
        yield from [f for f in mine if f.log_odds <= 0]
        if raising:
            yield max(raising, key=lambda f: f.log_odds)
