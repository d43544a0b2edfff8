"""What is wanted of one quantity, as scalars or per possible world, and who says so."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence import Evidence
from baskwell.evidence.lookup import WantedRow, wanted_environment
from baskwell.science.draws import Against, Draws
from baskwell.science.history.finding import Wanted
from baskwell.science.history.surroundings.scene import Scene

_LONGEST_CITATION = 60
_SHORT = {
    "COMMON_PRACTICE": "common practice",
    "JUDGEMENT": "cautious limit, judgement",
    "MEMORY": "from memory",
}
_BORROWED = ("same_genus", "same_family", "same_habit", "analogue", "group")


@dataclass(frozen=True)
class Want:
    """A wanted range; None = that side is not limited.

    ``low`` and ``high`` have shape ``(n_draws,)`` where they differ between the species that the animal
    may be, else they are plain numbers.
    """

    low: float | Draws | None
    high: float | Draws | None
    wanted: Wanted

    def compare(self, draws: Draws) -> Against:
        """Probability of lying below, inside and above, world by world."""
        below = float(np.mean(draws < self.low)) if self.low is not None else 0.0
        above = float(np.mean(draws > self.high)) if self.high is not None else 0.0
        return Against(below, max(0.0, 1.0 - below - above), above)

    def inside(self, draws: Draws) -> NDArray[np.bool_]:
        """Which worlds lie inside."""
        fits = np.ones(draws.shape, dtype=bool)
        if self.low is not None:
            fits &= draws >= self.low
        if self.high is not None:
            fits &= draws <= self.high
        return fits


def wanted_of(scene: Scene, parameter: str) -> Want | None:
    """The wanted range of a parameter under the cautious limits; None = not known.

    A species has the first row of the lookup. Where only a higher name is known, each world takes one
    of the species it may be.
    """
    rows = wanted_environment(scene.evidence, scene.taxon_id, parameter)
    rows = tuple(row for row in rows if row.low is not None or row.high is not None)
    if not rows:
        return None
    firsts = [
        row for row in {row.taxon_id: row for row in reversed(rows)}.values() if row.relation == "member"
    ]
    return _of_members(scene, firsts) if len(firsts) > 1 else _of_one(scene.evidence, rows[0])


def _sides(row: WantedRow) -> tuple[float | None, float | None]:
    if row.bound == "minimum":
        return row.low, None
    if row.bound in ("maximum", "ceiling"):
        return None, row.high if row.high is not None else row.low
    return row.low, row.high


def _of_one(evidence: Evidence, row: WantedRow) -> Want:
    low, high = _sides(row)
    return Want(low, high, Wanted(low, high, said_by(evidence, row), row.grade, row.keys))


def _of_members(scene: Scene, rows: list[WantedRow]) -> Want:
    sides = [_sides(row) for row in rows]
    which = scene.streams["wanted"].integers(len(rows), size=scene.n_draws)
    lows = np.array([-np.inf if low is None else low for low, _ in sides])
    highs = np.array([np.inf if high is None else high for _, high in sides])
    keys = tuple(key for row in rows for key in row.keys)
    text = f"the ranges of the {len(rows)} species it may be"
    return Want(
        lows[which],
        highs[which],
        Wanted(_finite(lows.min()), _finite(highs.max()), text, rows[0].grade, keys),
    )


def _finite(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def said_by(evidence: Evidence, row: WantedRow) -> str:
    """Who says so, in words: short citations, and the relation where the row is another taxon's."""
    names = source_names(evidence, row.source_ids)
    if row.relation not in _BORROWED:
        return names
    other = evidence.taxa[row.taxon_id].common_names[0]
    return f"{names}, for the {other} ({row.relation.replace('_', ' ')})"


def source_names(evidence: Evidence, source_ids: Sequence[str]) -> str:
    """Up to two sources by name, the others by number."""
    names = [source_name(evidence, source_id) for source_id in source_ids]
    more = f" and {len(names) - 2} more" if len(names) > 2 else ""
    return "; ".join(names[:2]) + more


def source_name(evidence: Evidence, source_id: str) -> str:
    """A source in at most 60 characters, for a line."""
    if source_id in _SHORT:
        return _SHORT[source_id]
    source = evidence.sources.get(source_id)
    citation = source.citation if source else source_id
    if len(citation) <= _LONGEST_CITATION:
        return citation
    return citation[:_LONGEST_CITATION].rsplit(" ", 1)[0].rstrip(" ,.;:(") + " ..."
