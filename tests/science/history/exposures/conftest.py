"""What the tests of exposures share: a case with some facts, recalled and believed in."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from baskwell.evidence import Evidence, load_evidence
from baskwell.science.case.model import Animal, Case, Exam, History
from baskwell.science.history.belief import Exposure
from baskwell.science.history.care import reconstruct_care

Believe = Callable[..., dict[str, Exposure]]


@pytest.fixture(scope="session")
def evidence() -> Evidence:
    """The shipped tables."""
    return load_evidence()


@pytest.fixture(scope="session")
def believe(evidence: Evidence) -> Believe:
    """Beliefs by id about a case whose history is given by keywords."""

    def believed(
        taxon: str = "testudo_hermanni",
        animal: dict[str, Any] | None = None,
        exam: Exam | None = None,
        n_draws: int = 1000,
        seed: int = 1,
        **history: Any,
    ) -> dict[str, Exposure]:
        case = Case(Animal(taxon=taxon, **(animal or {})), History(**history), exam=exam or Exam())
        care = reconstruct_care(case, evidence, np.random.default_rng(seed), n_draws)
        return {exposure.exposure_id: exposure for exposure in care.exposures}

    return believed
