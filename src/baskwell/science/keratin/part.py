"""What may be cut of one nail or beak edge: never nearer to the quick than the margin."""

import math

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.evidence.rows.clinical_records import TrimFact
from baskwell.science.case.model import Case, MeasureTaken
from baskwell.science.keratin.choices import choice, part_kind
from baskwell.science.keratin.result import Cut, PartPlan, PartState, VetOnly

STEP_MM = 0.1
"""What a calliper on a moving animal can tell apart; cuts are rounded down to it."""


def plan_part(measure: MeasureTaken, case: Case, evidence: Evidence, vet: tuple[VetOnly, ...]) -> PartPlan:
    """The plan of one part; of ranges the end that cuts less is taken.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal
    >>> from baskwell.science.case.span import Span
    >>> nail = MeasureTaken("nail_front_left_3", Span.exactly(14), Span.exactly(10), Span.exactly(9))
    >>> plan = plan_part(nail, Case(Animal("testudo_graeca")), load_evidence(), ())
    >>> plan.safe_mm, plan.over_mm, [round(cut.to_mm, 1) for cut in plan.staged]
    (3.0, 4.0, [12.7, 11.4, 11.0])

    Raises ValueError where the part is neither nail nor beak.
    """
    kind = part_kind(measure.part)
    reserved = _left_alone(measure, case, evidence) or (
        _for_vet(measure.part, vet) if kind == "beak" else None
    )
    if reserved is not None:
        return reserved
    length = measure.length_mm.low if measure.length_mm else None
    quick = measure.quick_mm.high if measure.quick_mm else None
    healthy = measure.healthy_length_mm.high if measure.healthy_length_mm else None
    if length is None:
        return _plain(
            measure.part, "asks", "its length is not known: measure it from the base to the tip", ""
        )
    target = None if healthy is None else healthy + (_overlap(case, evidence) if kind == "beak" else 0.0)
    if quick is None:
        return _unseen(measure.part, length, target, case, evidence)
    if quick > length:
        words = (
            f"a part of {length:g} mm cannot have its quick at {quick:g} mm: measure both again from the base"
        )
        return _plain(measure.part, "refused", words, "")
    return _seen(measure.part, length, quick, target, evidence)


def margin_of(part: str, evidence: Evidence) -> TrimFact:
    """The row of the margin to the quick, or to the live bed of a beak."""
    return evidence.trims["margin_quick_nail" if part_kind(part) == "nail" else "margin_beak"]


def _overlap(case: Case, evidence: Evidence) -> float:
    return choice(evidence, case.animal.taxon, "leave_overlap").value


def _seen(part: str, length: float, quick: float, target: float | None, evidence: Evidence) -> PartPlan:
    """The quick is measured: the safe cut is the way to it less the margin."""
    row = margin_of(part, evidence)
    margin = row.value if row.value is not None else row.high or math.inf
    safe = _down(max(0.0, length - quick - margin))
    over = None if target is None else _down(max(0.0, length - target))
    wanted = safe if over is None else min(safe, over)
    remains = None if over is None else round(over - wanted, 1)
    if wanted <= 0:
        return PartPlan(
            part, "leave", safe, over, remains, (), (), _left(part, safe, over, margin), row.source
        )
    share = evidence.trims["stage_fraction"].value or 1.0
    staged = stages(part, length, wanted, share * (wanted if over is None else over))
    once = (Cut(part, 1, length, round(length - wanted, 9)),)
    words = _cut_words(part, safe, over, remains, margin)
    return PartPlan(part, "cut", safe, over, remains, staged, once, words, row.source)


def stages(part: str, length: float, wanted: float, step: float) -> tuple[Cut, ...]:
    """Cut ``wanted`` mm in steps of at most ``step`` mm, each rounded down.

    >>> [(cut.session, round(cut.cut_mm, 1)) for cut in stages("nails", 14.0, 3.0, 1.32)]
    [(1, 1.3), (2, 1.3), (3, 0.4)]
    """
    step = max(_down(step), STEP_MM)
    cuts: list[Cut] = []
    left = wanted
    while left >= STEP_MM / 2:
        now = min(step, left)
        start = cuts[-1].to_mm if cuts else length
        cuts.append(Cut(part, len(cuts) + 1, start, round(start - now, 9)))
        left = round(left - now, 9)
    return tuple(cuts)


def _down(value: float) -> float:
    return round(math.floor(value / STEP_MM + 1e-9) * STEP_MM, 1)


def _left(part: str, safe: float, over: float | None, margin: float) -> str:
    name = _name(part)
    if safe <= 0:
        return f"{name}: nothing may be cut, the quick is nearer than {margin:g} mm; let it draw back first."
    return f"{name}: not over its healthy length, nothing to cut (over {over or 0:g} mm)."


def _cut_words(part: str, safe: float, over: float | None, remains: float | None, margin: float) -> str:
    said = f"{_name(part)}: at most {safe:.1f} mm may be cut, {margin:g} mm short of the quick"
    if over is None:
        return (
            f"{said}; its healthy length is not known, so stop sooner when the tip just touches the ground."
        )
    kept = " with the overlap that lets it bite" if part_kind(part) == "beak" else ""
    rest = f"; {remains:.1f} mm wait until the quick has drawn back: measure again" if remains else ""
    return f"{said}; {over:.1f} mm are over its healthy length{kept}{rest}."


def _unseen(part: str, length: float, target: float | None, case: Case, evidence: Evidence) -> PartPlan:
    """The quick is not known: one thin slice of a nail that is surely too long, nothing of a beak."""
    row = margin_of(part, evidence)
    if part_kind(part) == "beak":
        words = f"the live bed is not known, so no cut is computed: {row.detail}; better a veterinarian"
        return _plain(part, "refused", words, row.source)
    look = choice(evidence, case.animal.taxon, "clear_nail_quick")
    where = f"on a clear nail look for a darker core about {look.value:g} mm along ({look.grade})"
    slice_ = choice(evidence, case.animal.taxon, "slice").value
    if target is None:
        words = f"neither its quick nor its healthy length is known, so no cut is computed; {where}"
        return _plain(part, "asks", words, row.source)
    over = _down(max(0.0, length - target))
    if over < slice_:
        return _plain(part, "leave", f"over its healthy length by {over:.1f} mm: nothing to cut", row.source)
    once = (Cut(part, 1, length, round(length - slice_, 9)),)
    words = (
        f"{_name(part)}: the quick is not known, so no safe cut is computed: one slice of "
        f"{slice_:g} mm, then stop and look ({row.detail}); {where}."
    )
    return PartPlan(part, "slice", None, over, round(over - slice_, 9), once, once, words, row.source)


def _for_vet(part: str, vet: tuple[VetOnly, ...]) -> PartPlan | None:
    """A beak is for a veterinarian where a case applies, and waits where nobody looked for it."""
    cases = [v for v in vet if v.case in ("soft jaw", "severe beak")]
    there = [v for v in cases if v.applies]
    if there:
        return _plain(
            part, "refused", f"a {there[0].case} is for a veterinarian alone, image first", there[0].said_by
        )
    unknown = [v.case for v in cases if v.applies is None]
    if unknown:
        words = f"look first whether there is a {' or a '.join(unknown)}; until then nothing is cut"
        return _plain(part, "asks", words, cases[0].said_by)
    return None


def _left_alone(measure: MeasureTaken, case: Case, evidence: Evidence) -> PartPlan | None:
    """The long front claws of male sliders are not trimmed for length; an unknown sex is asked for."""
    row = evidence.trims["nail_male_slider"]
    part, taxon = measure.part, case.animal.taxon
    hind = any(word in part.lower() for word in ("hind", "rear", "back"))
    if (
        part_kind(part) == "beak"
        or hind
        or not covers(evidence, row.taxon, taxon)
        or case.animal.sex == "female"
    ):
        return None
    if case.animal.sex is None:
        words = "front claws of males are long by nature: say its sex before anything is cut"
        return _plain(part, "asks", words, row.source)
    return _plain(
        part, "leave", "front claws of males are long by nature: not trimmed for length", row.source
    )


def _plain(part: str, state: PartState, words: str, said_by: str) -> PartPlan:
    return PartPlan(part, state, None, None, None, (), (), f"{_name(part)}: {words}.", said_by)


def _name(part: str) -> str:
    words = part.replace("_", " ")
    return words[0].upper() + words[1:]
