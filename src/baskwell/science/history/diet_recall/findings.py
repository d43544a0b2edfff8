"""Each quantity of the diet against what is wanted, with who brought it and what to ask."""

from collections.abc import Mapping, Sequence

import numpy as np

from baskwell.science.draws import Draws, Summary, against, summarise
from baskwell.science.history.diet_recall.lines import COMPLETE_FEED, short
from baskwell.science.history.diet_recall.mixture import Mixture, known_part
from baskwell.science.history.diet_recall.plate import NUTRIENTS, Plate
from baskwell.science.history.diet_recall.priors import Priors
from baskwell.science.history.diet_recall.quantities import QUANTITIES, Quantity, measure
from baskwell.science.history.diet_recall.result import Contribution
from baskwell.science.history.diet_recall.sentences import listed, told
from baskwell.science.history.diet_recall.wanted import Eater, wanted_of
from baskwell.science.history.finding import Finding, Topic, Wanted, judge

HALF = 0.5  # a quantity is known where the tables know it for at least half of the dry matter
LARGE_PART = 0.3
TINY_PART = 0.03
WORTH_TELLING = 0.1
WORTH_ASKING = 0.1
RATIOS = ("ca_p_ratio",)


def contributions_of(
    mixture: Mixture, plates: Sequence[Plate], amounts: Mapping[str, Draws], carotene_used: Draws
) -> tuple[Contribution, ...]:
    """What each line brought of each quantity; ratios have no contributions."""
    names = {plate.key: plate.name for plate in plates}
    dry = {key: summarise(mixture.of_line(key)[1]) for key in names}
    found = []
    for quantity in QUANTITIES:
        total = amounts[quantity.finding_id]
        holds = total > 0
        if quantity.finding_id in RATIOS or not holds.any():
            continue
        parts = np.array([measure(quantity.finding_id, mixture.brought[key], carotene_used) for key in names])
        low, median, high = np.quantile(parts[:, holds] / total[holds], (0.05, 0.5, 0.95), axis=1)
        for k, (key, name) in enumerate(names.items()):
            share = Summary(float(median[k]), float(low[k]), float(high[k]))
            found.append(Contribution(quantity.finding_id, key, name, share, dry[key]))
    return tuple(found)


class Judge:
    """Turns the quantities of one diet into findings."""

    def __init__(
        self,
        mixture: Mixture,
        plates: Sequence[Plate],
        contributions: Sequence[Contribution],
        carotene_used: Draws,
        eater: Eater,
        priors: Priors,
    ) -> None:
        self._mixture = mixture
        self._plates = plates
        self._contributions = contributions
        self._carotene_used = carotene_used
        self._eater = eater
        self._priors = priors

    def finding(self, quantity: Quantity, draws: Draws) -> Finding:
        """One finding; "not known" where the tables are silent on most of the food."""
        known = min(known_part(self._plates, self._mixture, column) for column in quantity.rests_on)
        wanted = wanted_of(quantity, self._eater, self._priors.evidence)
        ask = self._question(quantity, draws)
        if known >= HALF:
            return self._judged(quantity, draws, wanted, ask)
        sentence = f"{quantity.name}: not known; {self._silent_on(quantity)}."
        head = _head(quantity)
        return Finding(*head, wanted, None, None, "not known", sentence, ask)

    def _judged(self, quantity: Quantity, draws: Draws, wanted: Wanted | None, ask: str) -> Finding:
        got = summarise(draws)
        chances = against(draws, wanted.low, wanted.high) if wanted is not None else None
        verdict = judge(chances)
        sentence = told(quantity, got, wanted, chances) + self._brought_by(quantity)
        asked = "" if verdict == "fits" else ask
        head = _head(quantity)
        return Finding(*head, wanted, got, chances, verdict, sentence, asked, draws)

    def borrowed_gap(self, quantity: Quantity) -> str:
        """A phrase on foods for which other foods of their kind stood in; empty where none matters."""
        names = self._silent_names(quantity, least=WORTH_TELLING, feeds=False)
        return f"{_lower(quantity.name)} of {listed(names)}" if names else ""

    def _silent_on(self, quantity: Quantity) -> str:
        return f"the tables hold no value for {listed(self._silent_names(quantity))}"

    def _silent_names(self, quantity: Quantity, least: float = 0.0, feeds: bool = True) -> list[str]:
        """Foods without a value of their own that make up more than ``least`` of the dry matter."""
        rows = [NUTRIENTS.index(column) for column in quantity.rests_on]
        parts = [part for plate in self._plates if plate.weighs for part in plate.parts]
        names = [
            short(part.food.name)
            for part, portion in zip(parts, self._mixture.portions, strict=True)
            if any(part.borrowed[j] for j in rows)
            and portion.mean_dry > least
            and (feeds or part.food.group != COMPLETE_FEED)
        ]
        return list(dict.fromkeys(names))

    def _brought_by(self, quantity: Quantity) -> str:
        """Who carries it, and which large part of the food brought next to none."""
        mine = [row for row in self._contributions if row.finding_id == quantity.finding_id]
        if len(mine) < 2:
            return ""
        first = max(mine, key=lambda row: row.share.median)
        poor = [r for r in mine if r.dry_share.median >= LARGE_PART and r.share.median <= TINY_PART]
        words = f" Most of it came from {short(first.name)}." if first.share.median > HALF else ""
        return f"{words} Next to none came from {listed([short(r.name) for r in poor])}." if poor else words

    def _question(self, quantity: Quantity, draws: Draws) -> str:
        """The question of the line that makes up most of the spread of this quantity over the worlds."""
        best, question = WORTH_ASKING, ""
        for plate in (plate for plate in self._plates if plate.question):
            held = self._mixture.brought[plate.key]
            parts = [held[NUTRIENTS.index(column)] for column in quantity.rests_on]
            moved = max(_part_of_spread(draws, part) for part in parts)
            if moved > best:
                best, question = moved, plate.question
        return question


def _head(quantity: Quantity) -> tuple[str, Topic, str, str]:
    return quantity.finding_id, "diet", quantity.name, quantity.unit


def _part_of_spread(draws: Draws, part: Draws) -> float:
    """Squared correlation of what a line brought with the whole; 0 where either is constant."""
    whole, mine = draws - draws.mean(), part - part.mean()
    scale = float((whole @ whole) * (mine @ mine))
    return float(whole @ mine) ** 2 / scale if scale > 0 else 0.0


def _lower(name: str) -> str:
    return name[:1].lower() + name[1:]
