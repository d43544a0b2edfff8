"""Everything a rule may look at: the case, what the other parts found, and judgement as draws."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.rows.clinical import Taxon
from baskwell.science.case.model import Case
from baskwell.science.draws import Draws, pert
from baskwell.science.history.exposures.opinion import Opinion
from baskwell.science.history.exposures.parts import DietPart, LightPart, Part, SurroundingsPart
from baskwell.science.history.finding import Finding


@dataclass(frozen=True)
class Facts:
    """The facts of one case, as the rules see them.

    Draws of judgement values, of priors and of the meaning of words come from a stream of their own each,
    so that a fact added or taken away leaves the draws of all others as they were. Make it with
    ``gather``.
    """

    case: Case
    evidence: Evidence
    taxon: Taxon
    diet: DietPart | None
    light: LightPart
    lived: SurroundingsPart
    findings: Mapping[str, Finding]
    n_draws: int
    seed: int = field(repr=False)
    _drawn: dict[str, Draws] = field(default_factory=dict, repr=False, compare=False)

    def constant(self, probability: float) -> Draws:
        """The same probability in every possible world."""
        return np.full(self.n_draws, probability)

    def yes(self, because: str) -> Opinion:
        """The exposure is stated."""
        return Opinion(self.constant(1.0), because)

    def no(self, because: str) -> Opinion:
        """The contrary is stated."""
        return Opinion(self.constant(0.0), because)

    def likely(self, judgement_id: str, because: str) -> Opinion:
        """The facts make it as probable as a judgement value says."""
        return Opinion(self.judgement(judgement_id), because)

    def judgement(self, judgement_id: str) -> Draws:
        """Draws of one row of ``clinical/exposure_judgements.csv``."""
        row = self.evidence.exposure_judgements[judgement_id]
        return self.between("judgement " + judgement_id, row.low, row.mode, row.high)

    def prior(self, exposure_id: str) -> Draws:
        """Draws of the share of animals exposed, from ``clinical/exposure_priors.csv``."""
        row = self.evidence.exposure_priors[exposure_id]
        return self.between("prior " + exposure_id, row.low, row.mode, row.high)

    def between(self, name: str, low: float, mode: float, high: float) -> Draws:
        """PERT draws under a name; the same name gives the same draws within one case."""
        if name not in self._drawn:
            stream = np.random.default_rng([self.seed, *name.encode()])
            self._drawn[name] = pert(stream, low, mode, high, self.n_draws)
        return self._drawn[name]

    def found(self, finding_id: str) -> Draws | None:
        """Draws of a finding of diet, light or surroundings; None where it is not known."""
        finding = self.findings.get(finding_id)
        if finding is None or finding.draws is None or bool(np.isnan(finding.draws).all()):
            return None
        return finding.draws

    def wanted_low(self, finding_id: str) -> float | None:
        """The lowest value wanted of a finding; None where no source gives one."""
        finding = self.findings.get(finding_id)
        return finding.wanted.low if finding is not None and finding.wanted is not None else None

    def has_tag(self, *tags: str) -> bool:
        """Whether the animal's kind carries one of the tags of ``clinical/taxa.csv``."""
        return any(tag in self.taxon.tags for tag in tags)


def gather(
    case: Case,
    evidence: Evidence,
    diet: DietPart | None,
    light: LightPart,
    surroundings: SurroundingsPart,
    n_draws: int,
    rng: np.random.Generator,
) -> Facts:
    """Bring a case and the parts of its history together. Raises KeyError for a taxon without a row."""
    taxon = evidence.taxa[case.animal.taxon]
    parts: tuple[Part, ...] = (light, surroundings) if diet is None else (light, surroundings, diet)
    findings = {found.finding_id: found for part in parts for found in part.findings}
    return Facts(
        case, evidence, taxon, diet, light, surroundings, findings, n_draws, int(rng.integers(2**63))
    )
