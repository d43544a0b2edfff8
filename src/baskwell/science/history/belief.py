"""How far an exposure of the evidence tables is believed to have been there."""

from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from baskwell.science.draws import Draws

State = Literal["known", "unknown"]


@dataclass(frozen=True)
class Exposure:
    """One exposure of ``clinical/exposures.csv`` for this animal.

    ``probability`` has shape ``(n_draws,)``, each in [0, 1]: how likely the animal was exposed in that
    possible world (0 or 1 where the world settles it). ``state`` is "unknown" where nothing was said
    that bears on it: such an exposure neither raises nor lowers anything, and is worth asking about.
    ``because`` says in one plain sentence what it rests on; ``finding_ids`` name the findings behind it.
    """

    exposure_id: str
    state: State
    because: str
    probability: Draws = field(repr=False, compare=False)
    finding_ids: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.probability.size and not bool(np.all((self.probability >= 0) & (self.probability <= 1))):
            raise ValueError(f"exposure {self.exposure_id}: probabilities must lie in [0, 1].")

    @property
    def mean(self) -> float:
        """The mean probability over the draws."""
        return float(self.probability.mean())
