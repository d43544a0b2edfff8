"""How much of what was offered each food of the history was, as fed, over the year.

The rules are those of the case file: a word is a prior for a share, shares of one diet are scaled to add to
one, foods with a word or a share take theirs first and foods without an amount share what is left.
"""

from collections.abc import Sequence

import numpy as np

from baskwell.science.case.model import Amount, DietItem
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, pert
from baskwell.science.history.diet_recall.priors import Priors

WEEK = 7.0
MOST_GRAMS = 100_000.0


def yearly_shares(
    items: Sequence[DietItem], priors: Priors, meals_per_week: Span | None = None
) -> tuple[Draws, ...]:
    """Share of each item in what was offered over the year, as fed; each of shape ``(n_draws,)``.

    The shares of one possible world add to one. Foods of one season only count by the length of that
    season; where one season names no food at all, the other speaks for the year.

    >>> from baskwell.evidence.loader import load_evidence
    >>> priors = Priors(load_evidence(), "terrapene_ornata", 100, np.random.default_rng(1))
    >>> shares = yearly_shares([DietItem("apple"), DietItem("kale", amount=Amount(word="mostly"))], priors)
    >>> bool(np.allclose(shares[0] + shares[1], 1.0)), bool(np.median(shares[1]) > 0.6)
    (True, True)
    """
    weights = _Weights(items, priors, meals_per_week)
    summer = [item.period != "winter" for item in items]
    winter = [item.period != "summer" for item in items]
    if all(summer) and all(winter):
        return weights.scaled(summer)
    if not any(summer) or not any(winter):
        return weights.scaled(summer if any(summer) else winter)
    part = priors.of("summer_share")
    warm, cold = weights.scaled(summer), weights.scaled(winter)
    return tuple(part * a + (1.0 - part) * b for a, b in zip(warm, cold, strict=True))


class _Weights:
    """Draws behind each item, made once so that both seasons speak of the same world."""

    def __init__(self, items: Sequence[DietItem], priors: Priors, meals_per_week: Span | None) -> None:
        self._priors = priors
        self._stated: dict[int, Draws] = {}
        self._grams: dict[int, Draws] = {}
        self._open: dict[int, Draws] = {}
        for k, item in enumerate(items):
            self._sort(k, item.amount)
        self._block = self._unknown()
        self._days = [self._day_share(item, meals_per_week) for item in items]
        self._error = [priors.error(_error_prior(item)) for item in items]

    def scaled(self, chosen: Sequence[bool]) -> tuple[Draws, ...]:
        """Shares of the chosen items, scaled to add to one; the others are zero."""
        weights = [
            weight * days * error
            for weight, days, error in zip(self._filled(chosen), self._days, self._error, strict=True)
        ]
        total = np.sum(weights, axis=0)
        empty = total <= 0.0
        count = max(1, sum(chosen))
        even = [self._priors.constant(float(on) / count) for on in chosen]
        return tuple(
            np.where(empty, e, w / np.where(empty, 1.0, total)) for w, e in zip(weights, even, strict=True)
        )

    def _sort(self, k: int, amount: Amount | None) -> None:
        if amount is not None and amount.grams is not None:
            self._grams[k] = self._priors.told(amount.grams, 0.0, _triple(amount.grams))
        elif amount is not None and amount.share is not None:
            self._stated[k] = self._priors.told(amount.share, 0.0, 1.0)
        else:
            self._put_word(k, amount.word if amount is not None else None)

    def _put_word(self, k: int, word: str | None) -> None:
        row = self._priors.evidence.amount_words.get(word or "unknown")
        if row is None or row.low is None or row.mode is None or row.high is None:
            self._open[k] = self._unknown()
        else:
            self._stated[k] = pert(self._priors.rng, row.low, row.mode, row.high, self._priors.n_draws)

    def _unknown(self) -> Draws:
        low, high = self._wide()
        return self._priors.rng.uniform(low, high, self._priors.n_draws)

    def _wide(self) -> tuple[float, float]:
        row = self._priors.evidence.amount_words["unknown"]
        return row.low or 0.0, row.high or 1.0

    def _filled(self, chosen: Sequence[bool]) -> list[Draws]:
        """Weights before days and error: stated shares first, what is left to the rest."""
        zero = self._priors.constant(0.0)
        claimed = sum((w for k, w in self._stated.items() if chosen[k]), zero)
        open_ = {k: w for k, w in self._open.items() if chosen[k]}
        grams = {k: w for k, w in self._grams.items() if chosen[k]}
        block = [self._block] if grams else []
        claims = sum([*open_.values(), *block], zero)
        floor = self._wide()[0] * (len(open_) + len(block))
        per_claim = np.maximum(1.0 - claimed, floor) / np.where(claims > 0, claims, 1.0)
        weights = {k: w * per_claim for k, w in open_.items()}
        weighed = sum(grams.values(), zero)
        for k, w in grams.items():
            weights[k] = self._block * per_claim * w / np.where(weighed > 0, weighed, 1.0)
        weights |= {k: w for k, w in self._stated.items() if chosen[k]}
        return [weights.get(k, zero) for k in range(len(chosen))]

    def _day_share(self, item: DietItem, meals_per_week: Span | None) -> Draws:
        if item.days_per_week is not None:
            return self._priors.told(item.days_per_week, 0.0, WEEK) / WEEK
        if meals_per_week is not None:
            return np.minimum(self._priors.told(meals_per_week, 0.0, WEEK), WEEK) / WEEK
        return self._priors.constant(1.0)


def _triple(grams: Span) -> float:
    return min(MOST_GRAMS, 3.0 * (grams.low or 1.0))


def _error_prior(item: DietItem) -> str:
    weighed = item.amount is not None and item.amount.grams is not None
    return "weighed_error_cv" if weighed else "recall_error_cv"
