"""Recipes that fit a label, drawn together with the composition of their ingredients.

The posterior of shares x, compositions c and moisture m is the product of a uniform prior of x over the
ordered simplex, the spread of c and m, and the likelihood of every clue about ratios of x. It is sampled by
slice-within-Gibbs: a level under each likelihood turns every clue into an interval (Neal 2003, Annals
of Statistics 31:705-767), within which x is uniform on a polytope (hit-and-run, ``polytope.walk``) and a
fresh draw of one ingredient's composition is taken if the intervals still hold. No clue is ever left
out or averaged, so there is no approximation but the finite pool of compositions and of sweeps.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from baskwell.science.history.label.clues import Clue
from baskwell.science.history.label.conflicts import feasible_shape
from baskwell.science.history.label.recipe import Recipe
from baskwell.science.polytope import (
    chebyshev_centre,
    effective_samples,
    from_weights,
    order_basis,
    split_r_hat,
    to_weights,
)
from baskwell.science.polytope.walk import first_directions, rounded_directions, sweep

Array = NDArray[np.float64]
Index = NDArray[np.intp]

MOST_ROUNDS = 4
SMALL = 0.1  # share below which a fresh composition is nearly always taken
TRIES = 4  # fresh compositions offered to an ingredient that is the whole feed


@dataclass(frozen=True)
class Effort:
    """How much to compute.

    Chains, sweeps of each pilot, draws kept of a chain, sweeps between them, effective draws asked for.
    """

    chains: int = 256
    pilots: tuple[int, ...] = (4, 4, 4, 4)
    kept: int = 16
    between: int = 4
    enough: float = 1000.0


@dataclass(frozen=True, eq=False)
class Drawn:
    """Draws of a recipe: ``shares`` (k, n), the pool entry of each ingredient (k, n), moisture (k,).

    ``fitting`` is the part of the draws that keep all limits; only those are kept. ``moisture`` is in
    percent of the feed as sold; zero for a feed that keeps its water.
    """

    shares: Array = field(repr=False)
    entries: Index = field(repr=False)
    moisture: Array = field(repr=False)
    effective_samples: float
    r_hat: float
    fitting: float


def draw_recipes(recipe: Recipe, rng: np.random.Generator, effort: Effort) -> Drawn:
    """Draw recipes and compositions that fit the clues; repeated rounds until enough are worth it."""
    walkers = _Walkers(recipe, rng, effort.chains)
    for sweeps in effort.pilots:
        walkers.advance(sweeps)
    traces: list[tuple[Array, Index, Array, Array]] = []
    worth, r_hat = -1.0, np.inf
    while worth < effort.enough and len(traces) < MOST_ROUNDS * effort.kept:
        for _ in range(effort.kept if not traces else effort.kept // 2):
            walkers.advance(effort.between)
            traces.append(walkers.state())
        worth, r_hat = _quality(traces)
    return _gather(recipe, traces, worth, r_hat)


def _quality(traces: list[tuple[Array, Index, Array, Array]]) -> tuple[float, float]:
    chains = np.stack([np.vstack([shares, ratios]).T for shares, _, _, ratios in traces])
    return float(effective_samples(chains).min()), float(split_r_hat(chains).max())


def _gather(
    recipe: Recipe, traces: list[tuple[Array, Index, Array, Array]], worth: float, r_hat: float
) -> Drawn:
    shares, entries, moisture, ratios = (np.concatenate(part, axis=-1) for part in zip(*traces, strict=True))
    least = np.array([[clue.least] for clue in recipe.clues]).reshape(-1, 1)
    most = np.array([[clue.most] for clue in recipe.clues]).reshape(-1, 1)
    fits = ((ratios >= least - 1e-9) & (ratios <= most + 1e-9)).all(axis=0)
    kept = fits if fits.any() else np.ones_like(fits)
    return Drawn(
        shares.T[kept], entries.T[kept], moisture[kept], worth * float(kept.mean()), r_hat, float(fits.mean())
    )


class _Walkers:
    """Many chains in step; the last axis of every array runs over chains."""

    def __init__(self, recipe: Recipe, rng: np.random.Generator, chains: int) -> None:
        self.rng = rng
        self.recipe = recipe
        self.chains = chains
        products = [clue for clue in recipe.clues if clue.nutrient]
        singles = [clue for clue in recipe.clues if not clue.nutrient]
        order = [recipe.clues.index(clue) for clue in (*products, *singles)]
        self.back = np.argsort(np.array(order, dtype=np.intp))
        self.product_count = len(products)
        self.columns = np.array([recipe.pools.column(clue.nutrient) for clue in products], dtype=np.intp)
        self.singles = np.array([clue.ingredient for clue in singles], dtype=np.intp)
        self.low, self.high, self.sd, self.least, self.most = _clue_columns([*products, *singles])
        self.size = recipe.pools.values.shape[2]
        self.parts = _parts(recipe, self.columns)
        self.directions = first_directions(recipe.n)
        self._start()

    def _start(self) -> None:
        first = np.maximum(to_weights(_centre(self.recipe)), 0.0)
        self.weights = np.repeat((first / first.sum())[:, None], self.chains, axis=1)
        self.entries = self.rng.integers(0, self.size, (self.recipe.n, self.chains))
        dried = self.recipe.moisture
        self.moisture = dried.draw(self.rng, self.chains) if dried else np.zeros(self.chains)
        self.content = np.stack(
            [pool[:, entry] for pool, entry in zip(self.parts, self.entries, strict=True)]
        )
        self._recount()

    def _recount(self) -> None:
        self.shares = from_weights(self.weights.T).T
        self.whole = np.einsum("npc,nc->pc", self.content, self.shares)

    @property
    def kept(self) -> Array:
        """Part of the feed as sold that is counted by ``solids``."""
        return 1.0 - self.moisture / 100.0

    def ratios(self) -> Array:
        """The value of every clue: products first, then shares in percent."""
        products = self.kept * self.whole[:-1] / self.whole[-1]
        return np.vstack([products, 100.0 * self.shares[self.singles]])

    def state(self) -> tuple[Array, Index, Array, Array]:
        """Shares, pool entries, moisture and clue values in the order of the recipe, as copies."""
        return self.shares.copy(), self.entries.copy(), self.moisture.copy(), self.ratios()[self.back]

    def advance(self, sweeps: int) -> None:
        """Renew slices, shares, compositions and moisture so many times, then the directions of moves.

        All chains together say how the shares spread; a single chain hardly moves that, so that it is
        left with what hit-and-run needs: directions that do not hang on its own place.
        """
        for _ in range(sweeps):
            self._cut_slices()
            if self.recipe.n > 1:
                self._move_shares(self.directions)
            self._renew_compositions()
            self._renew_moisture()
        if self.recipe.n > 1:
            self.directions = rounded_directions(self.weights.T)

    def _cut_slices(self) -> None:
        """An interval for each clue, holding the present value: what the slice level allows."""
        value = self.ratios()
        outside = np.maximum(np.maximum(self.low - value, value - self.high), 0.0) / self.sd
        reach = self.sd * np.sqrt(outside**2 + 2.0 * self.rng.standard_exponential(value.shape))
        self.floor = np.minimum(np.maximum(self.low - reach, self.least), value)
        self.ceiling = np.maximum(np.minimum(self.high + reach, self.most), value)

    def _move_shares(self, directions: Array) -> None:
        slack, slopes = self._room(directions)
        sweep(slack, slopes, self.rng.random((len(directions), self.chains)))
        moved = np.maximum(slack[: self.recipe.n], 0.0)
        self.weights = moved / moved.sum(axis=0)
        self._recount()

    def _room(self, directions: Array) -> tuple[Array, Array]:
        """Slack of every limit and how fast each direction uses it up."""
        steps = directions @ order_basis(self.recipe.n).T
        pace = (steps @ self.content.transpose(1, 0, 2)).transpose(1, 0, 2)
        single, alone = 100.0 * self.shares[self.singles], 100.0 * steps[:, self.singles, None]
        above, below = self._product_room(self.whole)
        gained, lost = self._product_room(pace)
        p = self.product_count
        slack = [self.weights, above, below, single - self.floor[p:], self.ceiling[p:] - single]
        parts = [-directions[:, :, None], -gained, -lost, -alone, alone]
        wide = [np.broadcast_to(part, (*part.shape[:2], self.chains)) for part in parts]
        return np.maximum(np.vstack(slack), 0.0), np.concatenate(wide, axis=1)

    def _product_room(self, whole: Array) -> tuple[Array, Array]:
        """Room above the floor and below the ceiling, linear in the last but one axis of ``whole``."""
        over, under = self.kept * whole[..., :-1, :], whole[..., -1:, :]
        p = self.product_count
        return over - self.floor[:p] * under, self.ceiling[:p] * under - over

    def _renew_compositions(self) -> None:
        """Offer each ingredient a fresh composition: large ones several times, small ones together."""
        typical = self.shares.mean(axis=1)
        for i in np.flatnonzero(typical > SMALL):
            for _ in range(1 + int(TRIES * typical[i])):
                self._renew(np.array([i]))
        rest = np.flatnonzero(typical <= SMALL)
        if rest.size:
            self._renew(rest)

    def _renew(self, block: Index) -> None:
        fresh = self.rng.integers(0, self.size, (block.size, self.chains))
        content = [self.parts[i].take(entry, axis=1) for i, entry in zip(block, fresh, strict=True)]
        whole = self.whole.copy()
        for i, new in zip(block, content, strict=True):
            whole += (new - self.content[i]) * self.shares[i]
        holds = self._within(self.kept * whole[:-1] / whole[-1])
        np.copyto(self.whole, whole, where=holds)
        for i, entry, new in zip(block, fresh, content, strict=True):
            np.copyto(self.entries[i], entry, where=holds)
            np.copyto(self.content[i], new, where=holds)

    def _renew_moisture(self) -> None:
        if self.recipe.moisture is None:
            return
        fresh = self.recipe.moisture.draw(self.rng, self.chains)
        holds = self._within((1.0 - fresh / 100.0) * self.whole[:-1] / self.whole[-1])
        self.moisture = np.where(holds, fresh, self.moisture)

    def _within(self, products: Array) -> NDArray[np.bool_]:
        p = self.product_count
        return np.asarray(((products >= self.floor[:p]) & (products <= self.ceiling[:p])).all(axis=0))


def _centre(recipe: Recipe) -> Array:
    """Shares in the middle of what average ingredients allow, loosened where that is nothing."""
    limits = recipe.average()
    found = chebyshev_centre(limits.shape)
    if found is None or found[1] <= 0.0:
        found = chebyshev_centre(feasible_shape(limits))
    return found[0] if found is not None else np.full(recipe.n, 1.0 / recipe.n)


def _clue_columns(clues: list[Clue]) -> tuple[Array, ...]:
    names = ("low", "high", "sd", "least", "most")
    return tuple(np.array([[getattr(clue, name)] for clue in clues]).reshape(-1, 1) for name in names)


def _parts(recipe: Recipe, columns: Index) -> Array:
    """What products are counted from, by pool entry: (n, products + 1, pool), the last row the solids.

    Solids are the dry matter fraction, or 1 for a feed that keeps its water.
    """
    water = recipe.pools.values[:, recipe.pools.column("water_g")]
    solids = 1.0 - water / 100.0 if recipe.moisture else np.ones_like(water)
    return np.concatenate([recipe.pools.values[:, columns], solids[:, None]], axis=1)
