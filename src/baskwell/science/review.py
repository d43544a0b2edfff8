"""One case reviewed: the frozen result that every page, paper and export renders."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.causes.flags import red_flags
from baskwell.science.causes.questions import next_questions
from baskwell.science.causes.rank import Setting, add_tests, rank_causes, set_up
from baskwell.science.causes.ranking import Flag, Ranking
from baskwell.science.causes.results import read_tests
from baskwell.science.history.finding import Finding
from baskwell.science.history.label import LabelReading
from baskwell.science.telling import SignLine, headline, sign_lines, who

if TYPE_CHECKING:
    from baskwell.science.history.care import CareHistory
    from baskwell.science.history.climate_log import ClimateLog

CAUTION = (
    "This supports a keeper's judgement. Diagnosis, injections, prescription drugs and ending a life "
    "belong to a licensed veterinarian; local law decides where it differs. Reptiles carry Salmonella: "
    "wash hands after each animal."
)
Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class Review:
    """Everything the tool has to say about one case, with what is needed to repeat it.

    ``who`` is one line (name, species, sex, age, mass, length). ``headline`` is the one sentence on
    top. ``ranking`` rests on history and examination; ``ranking_with_tests`` is the second pass, None
    where no test was readable. ``gaps`` are plain sentences on what could not be used and why.
    """

    who: str
    headline: str
    flags: tuple[Flag, ...]
    signs: tuple[SignLine, ...]
    findings: tuple[Finding, ...]
    labels: tuple[LabelReading, ...]
    ranking: Ranking
    ranking_with_tests: Ranking | None
    gaps: tuple[str, ...]
    caution: str
    seed: int
    n_draws: int
    code_version: str
    evidence_version: str


def review_case(
    case: Case,
    evidence: Evidence,
    *,
    seed: int = 1,
    n_draws: int = 4000,
    climate: "ClimateLog | None" = None,
    progress: Progress | None = None,
) -> Review:
    """Review one case: its past care, the causes of its state, what to ask next, what needs a vet now.

    The same case, evidence, seed and ``n_draws`` (100 or more) give the same review, byte for byte.
    ``progress`` is told the step and the share done. Raises ValueError for too few draws.
    """
    if n_draws < 100:
        raise ValueError(f"n_draws = {n_draws} is too few to tell an interval: use 100 or more.")
    tell = progress or (lambda step, share: None)
    history_rng, first_rng, second_rng = np.random.default_rng(seed).spawn(3)
    from baskwell.science.history.care import reconstruct_care

    tell("what it lived in", 0.1)
    care = reconstruct_care(case, evidence, history_rng, n_draws, climate)
    tell("why", 0.5)
    setting = set_up(case, evidence, care.exposures, first_rng, n_draws)
    ranking = rank_with_questions(setting, first_rng, n_draws)
    tell("with the tests", 0.8)
    second = _second_pass(setting, second_rng, n_draws)
    tell("done", 1.0)
    flags = red_flags(case, evidence)
    return _assemble(case, evidence, care, flags, ranking, second, seed, n_draws)


def rank_with_questions(setting: Setting, rng: np.random.Generator, n_draws: int) -> Ranking:
    """The ranking of a setting with its open questions, the best first."""
    return replace(rank_causes(setting, rng, n_draws), questions=next_questions(setting))


def _second_pass(setting: Setting, rng: np.random.Generator, n_draws: int) -> Ranking | None:
    if not read_tests(setting.case, setting.evidence, rng, 1).factors:
        return None
    return rank_with_questions(add_tests(setting, rng, n_draws), rng, n_draws)


def _assemble(
    case: Case,
    evidence: Evidence,
    care: "CareHistory",
    flags: tuple[Flag, ...],
    ranking: Ranking,
    second: Ranking | None,
    seed: int,
    n_draws: int,
) -> Review:
    from baskwell import __version__

    unread = read_tests(case, evidence, np.random.default_rng(seed), 1).gaps
    return Review(
        who=who(case, evidence),
        headline=headline(case, flags, ranking, second),
        flags=flags,
        signs=sign_lines(case, evidence),
        findings=care.findings,
        labels=tuple(care.labels.values()),
        ranking=ranking,
        ranking_with_tests=second,
        gaps=(*care.gaps, *unread),
        caution=CAUTION,
        seed=seed,
        n_draws=n_draws,
        code_version=__version__,
        evidence_version=evidence.version,
    )
