"""The limits that hold for one animal and substance, each on its own basis."""

from collections.abc import Iterator
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.lookup import cover_reaches
from baskwell.evidence.rows.dosing import CeilingRule
from baskwell.science.case.model import Animal
from baskwell.science.dosing.substances import SUBSTANCES

MG_PER_KG_IN_PERCENT = 10_000.0
BASIS_WORDS = {
    "single": "per kg of animal in one dose",
    "animal": "per kg of animal",
    "diet_dm": "per kg of dry matter of the whole diet",
}


@dataclass(frozen=True)
class Ceiling:
    """One limit: ``value`` in the substance's unit on ``rule.basis`` (over ``rule.per_days``)."""

    rule: CeilingRule
    value: float
    proposed: float | None
    kind: str
    said_by: str
    why: str

    @property
    def windows(self) -> tuple[float, ...]:
        """The windows in days over which it is summed; empty for one dose or the diet."""
        return tuple(float(days) for days in self.rule.windows)

    def over(self, days: float) -> float:
        """The most per kg of animal in a window of ``days``."""
        return self.value * days / (self.rule.per_days or 1.0)

    @property
    def unit(self) -> str:
        """Unit and basis in words."""
        name = SUBSTANCES[self.rule.nutrient].unit
        if self.rule.basis != "animal":
            return f"{name} {BASIS_WORDS[self.rule.basis]}"
        days = self.rule.per_days or 1.0
        return f"{name} per kg of animal {'a day' if days == 1 else f'in {days:g} days'}"


def ceilings_for(evidence: Evidence, animal: Animal, nutrient: str) -> tuple[Ceiling, ...]:
    """All limits of a nutrient that hold for an animal, in the order of ``ceilings.csv``.

    A higher name gets every limit that could hold for a species beneath it.

    >>> from baskwell.evidence import load_evidence
    >>> found = ceilings_for(load_evidence(), Animal("terrapene_ornata"), "vitamin_A")
    >>> [(one.rule.evidence_id, one.value) for one in found][:2]
    [('va_single_block_turtle', 2000.0), ('va_week_block', 2000.0)]
    """
    return tuple(
        ceiling
        for rule in evidence.dosing.ceilings
        if rule.nutrient == nutrient and not _is_excepted(rule, animal)
        for ceiling in _resolved(rule, evidence, animal.taxon)
    )


def _is_excepted(rule: CeilingRule, animal: Animal) -> bool:
    """Laying females are excepted from the calcium warning (limits.csv, ca_diet_warn)."""
    return rule.nutrient == "calcium" and animal.reproductive in ("gravid", "laid")


def _resolved(rule: CeilingRule, evidence: Evidence, taxon_id: str) -> Iterator[Ceiling]:
    if rule.table == "safety_limits":
        limit = evidence.limits[rule.evidence_id]
        if limit.value is not None and cover_reaches(evidence, limit.covers, taxon_id):
            value = limit.value * (MG_PER_KG_IN_PERCENT if limit.unit.startswith("%") else 1.0)
            yield Ceiling(
                rule, value, None, limit.kind, "cautious limit of this tool (judgement)", limit.reason
            )
        return
    dose = next(row for row in evidence.doses if row.row_id == rule.evidence_id)
    if dose.dose_high is not None and cover_reaches(evidence, rule.covers, taxon_id):
        proposed = dose.dose_low if rule.role == "default" else None
        yield Ceiling(rule, dose.dose_high, proposed, dose.tool_use, dose.source_id, dose.caution)
