"""Draws of what nobody said, and of what was said, each from a stream of its own.

A stream has its own name, so that a fact added to the case leaves all other draws as they were.
"""

from dataclasses import dataclass, field
from hashlib import blake2b

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.rows.environment import LightPrior
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, pert


@dataclass(frozen=True)
class Priors:
    """The rows of ``environment/light_priors.csv`` with a seed (0 to 2^63 - 1) and a number of draws.

    >>> from baskwell.evidence import load_evidence
    >>> Priors(load_evidence(), seed=1, n_draws=4).one("meter_cv")
    0.2
    """

    evidence: Evidence
    seed: int
    n_draws: int
    _index: dict[tuple[str, str], LightPrior] = field(init=False, repr=False, compare=False)
    _drawn: dict[str, Draws] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        rows = {
            (row.quantity, word.strip()): row
            for row in self.evidence.light_priors
            for word in row.applies_to.split(";")
        }
        object.__setattr__(self, "_index", rows)
        object.__setattr__(self, "_drawn", {})

    def find(self, quantity: str, *words: str) -> LightPrior | None:
        """The row of a quantity for the first of ``words`` that has one, else the row for all."""
        found = (self._index.get((quantity, word)) for word in (*words, "all"))
        return next((row for row in found if row is not None), None)

    def row(self, quantity: str, *words: str) -> LightPrior:
        """As ``find``; LookupError where the table has no such row."""
        row = self.find(quantity, *words)
        if row is None:
            raise LookupError(f"light_priors.csv has no row for {quantity} of {', '.join(words) or 'all'}.")
        return row

    def one(self, quantity: str, *words: str) -> float:
        """The most likely value of a row."""
        return self.row(quantity, *words).mode

    def words(self, quantity: str) -> frozenset[str]:
        """All words that a quantity applies to."""
        return frozenset(word for known, word in self._index if known == quantity)

    def stream(self, name: str) -> np.random.Generator:
        """The random stream of a name; the same name gives the same numbers."""
        key = self.seed.to_bytes(8)
        return np.random.default_rng(int.from_bytes(blake2b(name.encode(), key=key, digest_size=16).digest()))

    def between(self, name: str, low: float, mode: float, high: float) -> Draws:
        """PERT draws ``(n_draws,)`` from the stream of a name; asked again, the same draws."""
        if low == high:
            return self.same(low)
        if name not in self._drawn:
            drawn = pert(self.stream(name), low, mode, high, self.n_draws)
            drawn.setflags(write=False)
            self._drawn[name] = drawn
        return self._drawn[name]

    def draw(self, name: str, quantity: str, *words: str) -> Draws:
        """PERT draws of a row; the stream is that of ``name`` and the quantity."""
        row = self.row(quantity, *words)
        return self.between(f"{name} {quantity}", row.low, row.mode, row.high)

    def same(self, value: float) -> Draws:
        """One value in every possible world."""
        return np.full(self.n_draws, float(value))

    def stated(self, name: str, span: Span | None, quantity: str, *words: str) -> Draws:
        """Draws of a stated number or range (flat between its ends), or of the row where nothing was said.

        An open end reaches to the end of the row, or to twice (half) the known end where that lies
        beyond it.
        """
        if span is None or (span.low is None and span.high is None):
            return self.draw(name, quantity, *words)
        if span.low is not None and span.low == span.high:
            return self.same(span.low)
        low, high = _closed(span, self.row(quantity, *words))
        return self.stream(f"{name} {quantity} stated").uniform(low, high, self.n_draws)


def _closed(span: Span, row: LightPrior) -> tuple[float, float]:
    if span.low is None:
        high = span.high or 0.0
        return (row.low if row.low < high else high / 2.0), high
    if span.high is None:
        return span.low, (row.high if row.high > span.low else 2.0 * span.low)
    return span.low, span.high
