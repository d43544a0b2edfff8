"""The trim plan of one animal: staged and at once side by side."""

import math
from collections.abc import Iterator

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.science.case.model import Case
from baskwell.science.keratin.choices import choice, part_kind
from baskwell.science.keratin.part import plan_part
from baskwell.science.keratin.prepare import prepare_for
from baskwell.science.keratin.result import Cut, Option, PartPlan, TrimPlan
from baskwell.science.keratin.vet_only import vet_only


def plan_trims(case: Case, evidence: Evidence) -> TrimPlan:
    """Plan the trims of all nails and beak edges that were measured.

    Nothing is ever cut nearer to the quick than the margin of ``trims.csv``, in either way. What is not
    known is told per part, in ``gaps`` what was left out.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, Exam, MeasureTaken
    >>> from baskwell.science.case.span import Span
    >>> nail = MeasureTaken("nail_front_left_3", Span.exactly(14), Span.exactly(10), Span.exactly(9))
    >>> plan = plan_trims(Case(Animal("testudo_graeca"), exam=Exam(measures=(nail,))), load_evidence())
    >>> plan.staged.sessions, plan.at_once.sessions
    (3, 1)
    """
    vet = vet_only(case, evidence)
    measures = [m for m in case.exam.measures if _is_keratin(m.part)]
    parts = tuple(plan_part(measure, case, evidence, vet) for measure in measures)
    kinds = tuple(dict.fromkeys(part_kind(p.part) for p in parts if p.staged))
    return TrimPlan(
        parts,
        _option("staged", parts, case, evidence),
        _option("in one session", parts, case, evidence),
        prepare_for(evidence, case.animal.taxon, kinds) if kinds else (),
        vet,
        tuple(_gaps(case, evidence, parts)),
    )


def _is_keratin(part: str) -> bool:
    return part.lower().startswith(("nail", "claw", "beak"))


def _option(name: str, parts: tuple[PartPlan, ...], case: Case, evidence: Evidence) -> Option | None:
    """One way of doing all cuts; None where there is none."""
    cuts = tuple(cut for p in parts for cut in (p.staged if name == "staged" else p.at_once))
    if not cuts:
        return None
    taxon = case.animal.taxon
    first = [cut for cut in cuts if cut.session == 1]
    minutes = (_minutes(first, case, evidence, "low"), _minutes(first, case, evidence, "high"))
    most = evidence.trims["session"].high or minutes[1]
    sittings = max(1, math.ceil(minutes[1] / most))
    sessions = max(cut.session for cut in cuts)
    weeks = (sessions - 1) * (evidence.trims["stage_gap"].value or 0.0)
    people = int(choice(evidence, taxon, "people").value)
    words = _option_words(name, sessions, weeks, minutes, sittings, people, most)
    return Option(name, cuts, sessions, minutes, sittings, people, weeks, words)


def _minutes(cuts: list[Cut], case: Case, evidence: Evidence, end: str) -> float:
    rows = [choice(evidence, case.animal.taxon, f"minutes_{part_kind(cut.part)}") for cut in cuts]
    return sum(row.value if (m := getattr(row, end)) is None else m for row in rows)


def _option_words(
    name: str,
    sessions: int,
    weeks: float,
    minutes: tuple[float, float],
    sittings: int,
    people: int,
    most: float,
) -> str:
    time = f"{minutes[0]:g} to {minutes[1]:g} minutes, {people} people"
    split = f", in {sittings} sittings of at most {most:g} minutes" if sittings > 1 else ""
    if name == "staged":
        over = f"{sessions} sessions over {weeks:g} weeks" if sessions > 1 else "1 session"
        return f"Staged: {over}, {time} each{split}; measure the quick again before each session."
    return (
        f"In one session: {time}{split}; for a person to choose where the length stops the animal walking or "
        "eating: harder on the animal, bleeding is prepared for, and it still stops short of the quick."
    )


def _gaps(case: Case, evidence: Evidence, parts: tuple[PartPlan, ...]) -> Iterator[str]:
    if not case.exam.measures:
        yield "No nail or beak was measured: give length and quick in mm under exam.measures."
    for measure in case.exam.measures:
        if not _is_keratin(measure.part):
            yield f"'{measure.part or 'a part without name'}' is neither nail nor beak and is left out."
    beaks = [p for p in parts if part_kind(p.part) == "beak"]
    row = evidence.trims["hooked_beak"]
    if beaks and covers(evidence, row.taxon, case.animal.taxon):
        yield f"{row.parameter[0].upper()}{row.parameter[1:]}: {row.detail} ({row.grade})."
    if parts:
        yield "No rate of growth and no normal length of beak or nails of any reptile was found published."
