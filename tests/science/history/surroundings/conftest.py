"""One way to recall the surroundings of an animal in a test."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, History
from baskwell.science.case.model_care import Surroundings
from baskwell.science.case.span import Span
from baskwell.science.history.climate_log import ClimateLog
from baskwell.science.history.finding import Finding
from baskwell.science.history.surroundings import SurroundingsHistory, recall_surroundings

Recall = Callable[..., SurroundingsHistory]


def _span(value: Any) -> Any:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return Span.exactly(float(value))
    return Span(*value) if isinstance(value, list) else value


def _kept(name: str, value: Any) -> Any:
    return value if name in ("hides", "group_size") else _span(value)


@pytest.fixture
def recalled() -> Recall:
    """Recall a taxon's surroundings: numbers and ``[low, high]`` lists become spans, words stay."""

    def recall(
        taxon: str,
        animal: dict[str, Any] | None = None,
        history: dict[str, Any] | None = None,
        climate: ClimateLog | None = None,
        seed: int = 1,
        n_draws: int = 4000,
        **place: Any,
    ) -> SurroundingsHistory:
        who = Animal(taxon, **{name: _kept(name, value) for name, value in (animal or {}).items()})
        where = Surroundings(**{name: _kept(name, value) for name, value in place.items()})
        case = Case(who, History(surroundings=where, **(history or {})))
        return recall_surroundings(case, load_evidence(), np.random.default_rng(seed), n_draws, climate)

    return recall


@pytest.fixture
def pick() -> Callable[[SurroundingsHistory, str], Finding]:
    """The finding of an id."""

    def one(past: SurroundingsHistory, finding_id: str) -> Finding:
        return next(finding for finding in past.findings if finding.finding_id == finding_id)

    return one
