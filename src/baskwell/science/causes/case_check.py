"""Score the ranking on cases whose cause is known: how often, how high, how surely.

The key is kept apart from the case files and read only here; nothing is fitted to it.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass

from baskwell.science.causes.flags import red_flags
from baskwell.science.causes.rank import Setting

LEAST_PROBABILITY = 1e-6
TOPS = (1, 3, 5)


@dataclass(frozen=True)
class Answer:
    """The key to one case: its set, true and accepted conditions, blamed faults, urgency (y, n or empty)."""

    case_id: str
    set_name: str
    true_ids: tuple[str, ...]
    accept_ids: tuple[str, ...]
    faults: tuple[str, ...]
    vet_now: str


@dataclass(frozen=True)
class Placing:
    """Where the true cause stands in one pass (None = not among the animal's conditions)."""

    by_explaining: int | None
    by_posterior: int | None
    probability: float
    log_gain: float
    leaders: tuple[str, ...]


@dataclass(frozen=True)
class CaseScore:
    """One case scored, with and without its tests."""

    case_id: str
    set_name: str
    n_signs: int
    true_id: str
    without_tests: Placing
    with_tests: Placing
    vet_now_expected: str
    vet_now_flagged: bool
    fault_rank: int | None
    faults: tuple[str, ...]


def score_case(answer: Answer, without: Setting, with_tests: Setting, faults: Sequence[str]) -> CaseScore:
    """Score one case. ``faults`` are the ranked fault ids of the pass without tests, the first first."""
    flags = red_flags(without.case, without.evidence)
    ranks = [faults.index(f) + 1 for f in answer.faults if f in faults]
    return CaseScore(
        case_id=answer.case_id,
        set_name=answer.set_name,
        n_signs=len({s.sign for s in without.case.exam.signs if s.severity != 0}),
        true_id=answer.true_ids[0],
        without_tests=_placing(answer, without),
        with_tests=_placing(answer, with_tests),
        vet_now_expected=answer.vet_now,
        vet_now_flagged=any(flag.level == "vet now" for flag in flags),
        fault_rank=min(ranks, default=None),
        faults=answer.faults,
    )


def _placing(answer: Answer, setting: Setting) -> Placing:
    ids = setting.problem.condition_ids
    right = {answer.true_ids[0], *answer.accept_ids}
    order = sorted(range(len(ids)), key=lambda k: (-setting.explains[k], -setting.posterior[k]))
    likely = sorted(range(len(ids)), key=lambda k: -setting.posterior[k])
    probability, prior = _probabilities(answer.true_ids[0], setting)
    return Placing(
        by_explaining=_place(order, ids, right),
        by_posterior=_place(likely, ids, right),
        probability=probability,
        log_gain=math.log(max(probability, LEAST_PROBABILITY) / max(prior, LEAST_PROBABILITY)),
        leaders=tuple(ids[k] for k in order[:5]),
    )


def _probabilities(true_id: str, setting: Setting) -> tuple[float, float]:
    """Posterior, and the prior before anything but the taxon is known."""
    if true_id not in setting.problem.condition_ids:
        return 0.0, 0.0
    row = setting.problem.condition_ids.index(true_id)
    low, mode, high = setting.network.prior[row]
    return float(setting.posterior[row]), float(low + 4.0 * mode + high) / 6.0


def _place(order: Sequence[int], ids: Sequence[str], right: set[str]) -> int | None:
    return next((k + 1 for k, row in enumerate(order) if ids[row] in right), None)


def summarise_scores(scores: Sequence[CaseScore]) -> dict[str, object]:
    """The report: headline and thin apart, both orders, with and without tests, urgency, faults, cases."""
    headline = [s for s in scores if s.set_name == "headline" and s.n_signs >= 2]
    thin = [s for s in scores if s.set_name == "thin"]
    return {
        "headline": _tally(headline, lambda s: s.without_tests),
        "thin": _tally(thin, lambda s: s.without_tests),
        "headline_with_tests": _tally(headline, lambda s: s.with_tests),
        "thin_with_tests": _tally(thin, lambda s: s.with_tests),
        "vet_now": _urgency(scores),
        "faults": _faults(scores),
        "cases": [asdict(s) for s in scores],
    }


def _tally(scores: Sequence[CaseScore], which: Callable[[CaseScore], Placing]) -> dict[str, object]:
    n = len(scores)
    if n == 0:
        return {"n": 0}
    told: dict[str, object] = {"n": n}
    told |= {f"top{k}": _share(which(s).by_explaining for s in scores)(k) for k in TOPS}
    told["mean_log_gain"] = sum(which(s).log_gain for s in scores) / n
    told["by_posterior"] = {f"top{k}": _share(which(s).by_posterior for s in scores)(k) for k in TOPS}
    return told


def _share(places: Iterable[int | None]) -> Callable[[int], float]:
    found = list(places)
    return lambda k: sum(place is not None and place <= k for place in found) / len(found)


def _urgency(scores: Sequence[CaseScore]) -> dict[str, object]:
    urgent = [s for s in scores if s.vet_now_expected == "y"]
    calm = [s for s in scores if s.vet_now_expected == "n"]
    return {
        "n_urgent": len(urgent),
        "urgent_flagged": sum(s.vet_now_flagged for s in urgent),
        "n_calm": len(calm),
        "calm_flagged": sum(s.vet_now_flagged for s in calm),
        "missed": [s.case_id for s in urgent if not s.vet_now_flagged],
    }


def _faults(scores: Sequence[CaseScore]) -> dict[str, object]:
    blamed = [s for s in scores if s.faults]
    return {
        "n": len(blamed),
        "first": sum(s.fault_rank == 1 for s in blamed),
        "in_first_three": sum(s.fault_rank is not None and s.fault_rank <= 3 for s in blamed),
    }
