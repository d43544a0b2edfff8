"""One case reviewed: the frozen result that every page, paper and export renders."""

from dataclasses import dataclass

from baskwell.science.causes.ranking import Flag, Ranking
from baskwell.science.history.finding import Finding
from baskwell.science.history.label import LabelReading

CAUTION = (
    "This supports a keeper's judgement. Diagnosis, injections, prescription drugs and ending a life "
    "belong to a licensed veterinarian; local law decides where it differs. Reptiles carry Salmonella: "
    "wash hands after each animal."
)


@dataclass(frozen=True)
class SignLine:
    """One sign found, in words: name, severity word with its criterion, and urgency."""

    sign_id: str
    name: str
    severity: int | None
    criterion: str
    detail: str
    urgency: str


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
