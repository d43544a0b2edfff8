"""Cases for a veterinarian alone: a crooked or soft jaw, bleeding that does not stop, sedation."""

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.causes.observed import Observed, observe
from baskwell.science.keratin.result import VetOnly

SOFT_BONE = ("jaw_deform", "shell_soft", "limb_swelling", "fracture")
"""Signs of soft bone: ``jaw_deform`` is the jaw itself, the others make a crooked bite suspect of it."""


def vet_only(case: Case, evidence: Evidence) -> tuple[VetOnly, ...]:
    """Every such case by name, with whether it applies to this animal.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal
    >>> [v.applies for v in vet_only(Case(Animal("testudo_graeca")), load_evidence())]
    [None, None, None, None]
    """
    seen = observe(case, evidence)
    return (
        _named(
            "soft jaw",
            _soft_jaw(seen),
            "A soft jaw, or a crooked bite with soft bone",
            "image_first",
            evidence,
        ),
        _named("severe beak", _severe(seen), "A severely overgrown or skewed beak", "image_first", evidence),
        _named("bleeding", None, "Bleeding that does not stop", "bleed_3", evidence),
        _named("sedation", None, "Sedation", "sedate_when", evidence),
    )


def _named(case: str, applies: bool | None, start: str, fact_id: str, evidence: Evidence) -> VetOnly:
    row = evidence.trims[fact_id]
    words = "; ".join(part for part in (row.value_text, row.detail) if part)
    who = {True: "this animal has it", False: "not found here", None: "look for it"}[applies]
    sentence = f"{start} is for a veterinarian alone ({who}): {row.parameter}: {words}."
    return VetOnly(case, applies, sentence, fact_id, row.source)


def _soft_jaw(seen: Observed) -> bool | None:
    """Present where the jaw is soft, or the bite crooked and any bone soft; absent only where looked for."""
    crooked = "beak_deviation" in seen.present
    if "jaw_deform" in seen.present or (crooked and any(sign in seen.present for sign in SOFT_BONE)):
        return True
    if "jaw_deform" not in seen.absent:
        return None
    return None if crooked and "shell_soft" in seen.not_examined else False


def _severe(seen: Observed) -> bool | None:
    """Overgrown at 3 or crooked at 2 and more; a severity that was not scored counts as severe."""
    beak, bite = seen.present.get("beak_overgrown"), seen.present.get("beak_deviation")
    if beak is not None and (beak.severity or 3) >= 3:
        return True
    if bite is not None and (bite.severity or 3) >= 2:
        return True
    looked = beak is not None or "beak_overgrown" in seen.absent
    return False if looked and "beak_deviation" in (*seen.absent, *seen.present) else None
