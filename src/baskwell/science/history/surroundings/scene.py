"""One place and time to be judged: the case, the evidence, and a random stream for each quantity."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.covers import cover_holds, species_beneath
from baskwell.evidence.rows.clinical import Taxon
from baskwell.evidence.rows.surroundings import SurroundingsTables
from baskwell.science.case.model import Case
from baskwell.science.case.model_care import Surroundings
from baskwell.science.draws import Draws, pert

QUANTITIES = (
    "thermometer", "basking_surface_c", "warm_side_c", "cool_side_c", "night_c", "hygrometer", "humidity",
    "length", "floor", "height", "depths", "wanted", "judged", "log",
)  # fmt: skip
OUTDOOR_CONTAINERS = ("pen", "garden", "balcony", "pond")


@dataclass(frozen=True)
class Scene:
    """What is looked at: one animal in one place at one time.

    ``when`` is "" for the usual place, else ``summer``, ``winter`` or ``before``. Every quantity draws
    from a stream of its own, so that one answer more or less leaves the draws of all others as they
    were. ``species`` are those that the animal may be: one, unless only a higher name is known.
    """

    case: Case
    evidence: Evidence
    place: Surroundings
    when: str
    n_draws: int
    streams: Mapping[str, np.random.Generator] = field(repr=False)
    species: tuple[Taxon, ...] = field(repr=False)

    @classmethod
    def of(
        cls,
        case: Case,
        evidence: Evidence,
        place: Surroundings,
        when: str,
        n_draws: int,
        rng: np.random.Generator,
    ) -> "Scene":
        """Build a scene; ``rng`` is split into one stream a quantity."""
        streams = dict(zip(QUANTITIES, rng.spawn(len(QUANTITIES)), strict=True))
        species = species_beneath(evidence, case.animal.taxon)
        return cls(case, evidence, place, when, n_draws, streams, species)

    @property
    def tables(self) -> SurroundingsTables:
        """The tables on heat, humidity, space and substrate."""
        return self.evidence.surroundings

    @property
    def taxon_id(self) -> str:
        """The animal's taxon."""
        return self.case.animal.taxon

    @property
    def kind(self) -> str:
        """The animal's kind in words, for a sentence."""
        taxon = self.evidence.taxa[self.taxon_id]
        return taxon.common_names[0] if taxon.common_names else taxon.scientific_name

    @property
    def outdoors(self) -> bool | None:
        """Whether it lives outdoors; None for part of the time, or where nothing tells."""
        stated = self.place.outdoor
        if stated == "part":
            return None
        if stated is not None:
            return bool(stated)
        return True if self.place.container in OUTDOOR_CONTAINERS else None

    def covered(self, cover: str) -> bool:
        """Whether a cover holds for the animal, or for every species that it may be."""
        return all(cover_holds(cover, taxon) for taxon in self.species)

    def prior(self, prior_id: str, stream: str) -> Draws:
        """Draws of one judged range of ``surroundings_priors.csv``, shape ``(n_draws,)``."""
        row = self.tables.prior(prior_id)
        return pert(self.streams[stream], row.low, row.mode, row.high, self.n_draws)

    def judged(self, *words: str) -> int:
        """1 where one of these fields of care was judged right without figures, -1 where wrong, else 0."""
        history = self.case.history
        good = any(word in history.judged_good for word in words)
        poor = any(word in history.judged_poor for word in words)
        return int(good) - int(poor)
