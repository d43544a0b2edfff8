"""Draws for what a diet history leaves open, from the tables of judgement and the spans that were told."""

from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.covers import cover_reaches
from baskwell.evidence.rows.diet import DietPrior
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, pert

NORMAL_MEAN_SHIFT = 0.5  # half the log variance: keeps the mean of a log-normal factor at 1


@dataclass(frozen=True)
class Priors:
    """The evidence, the taxon and the generator that one recall draws from."""

    evidence: Evidence
    taxon_id: str
    n_draws: int
    rng: np.random.Generator = field(repr=False)

    def of(self, prior_id: str) -> Draws:
        """Draws of one row of ``history/diet_priors.csv``. Raises KeyError where there is no such row."""
        row = self._row(prior_id)
        return pert(self.rng, row.low, row.mode, row.high, self.n_draws)

    def anywhere(self, prior_id: str) -> Draws:
        """Flat draws between the ends of a row: nothing speaks for its middle."""
        row = self._row(prior_id)
        return self.rng.uniform(row.low, row.high, self.n_draws)

    def told(self, span: Span, lowest: float, highest: float) -> Draws:
        """Draws of a number or range that was told; an open end runs to the given bound."""
        low = span.low if span.low is not None else lowest
        high = span.high if span.high is not None else max(highest, low)
        return pert(self.rng, low, (low + high) / 2.0, high, self.n_draws)

    def error(self, prior_id: str) -> Draws:
        """A log-normal factor of mean 1 whose coefficient of variation is itself drawn."""
        variance = np.log1p(self.of(prior_id) ** 2)
        noise = self.rng.standard_normal(self.n_draws)
        return np.exp(np.sqrt(variance) * noise - NORMAL_MEAN_SHIFT * variance)

    def reaches(self, cover: str) -> bool:
        """Whether a cover of the evidence holds for the animal, or for a species that it may be."""
        return cover_reaches(self.evidence, cover, self.taxon_id)

    def _row(self, prior_id: str) -> DietPrior:
        for row in self.evidence.diet_tables.diet_priors:
            if row.prior_id == prior_id:
                return row
        raise KeyError(f"diet_priors.csv has no row {prior_id!r}.")

    def constant(self, value: float) -> Draws:
        """The same value in every possible world."""
        return np.full(self.n_draws, value)
