"""What the examination found: signs present, signs absent, signs nobody looked for."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.evidence.rows.causes import ImpliedSign
from baskwell.evidence.rows.clinical import Sign
from baskwell.science.case.model import Case, SignSeen


@dataclass(frozen=True)
class Observed:
    """Three different things kept apart: present (with what was said of it), absent, not examined.

    ``set_aside`` holds present signs that name a finding already counted under a more telling sign.
    """

    present: Mapping[str, SignSeen] = field(default_factory=dict)
    absent: tuple[str, ...] = ()
    not_examined: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()


def observe(case: Case, evidence: Evidence) -> Observed:
    """Sort every sign of the evidence into present, absent or not examined.

    One finding is scored once: of the signs that name the same finding (``sign_sets.csv``) the most
    severe counts, of equals the most exact; the others are set aside. The general state and the body
    condition score stand in for a sign that nobody scored (``implied_signs.csv``). A sign of severity 0
    was looked for and is absent. What is in none of ``signs``, ``absent`` and ``examined`` is not examined.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, Case, Exam
    >>> exam = Exam(signs=(SignSeen("lethargy", severity=2),), absent=("anorexia",))
    >>> seen = observe(Case(Animal("terrapene_ornata"), exam=exam), load_evidence())
    >>> list(seen.present), seen.absent, "tremor" in seen.not_examined
    (['lethargy'], ('anorexia',), True)
    """
    named = {sign.sign: sign for sign in case.exam.signs if sign.severity != 0}
    named |= {sign.sign: sign for sign in _implied(case, named, evidence)}
    kept, aside = _one_sign_a_finding(named, evidence)
    possible = [s.sign_id for s in evidence.signs.values() if covers(evidence, s.taxa, case.animal.taxon)]
    looked = [sign for sign in _looked_for(case, evidence) if sign not in named]
    told = {member for sign in named for member in _same_finding(sign, evidence)}
    absent = tuple(sign for sign in dict.fromkeys(looked) if sign in possible and sign not in told)
    open_ = tuple(s for s in possible if s not in named and s not in absent and s not in told)
    return Observed(kept, absent, open_, aside)


def _implied(case: Case, named: Mapping[str, SignSeen], evidence: Evidence) -> Iterable[SignSeen]:
    """Signs that the general state or the body condition score states, where nobody scored the finding."""
    scored = {*named, *case.exam.absent, *(sign.sign for sign in case.exam.signs)}
    for row in evidence.causes.implied_signs:
        same = (row.sign_id, *_same_finding(row.sign_id, evidence))
        if _states(row, case) and not scored.intersection(same):
            scored.add(row.sign_id)
            yield SignSeen(row.sign_id, severity=row.severity)


def _states(row: ImpliedSign, case: Case) -> bool:
    if row.field == "general":
        return case.exam.general == row.word
    score = case.exam.body_condition
    if score is None or row.low is None or row.high is None:
        return False
    return row.low <= score.middle <= row.high


def _one_sign_a_finding(
    named: Mapping[str, SignSeen], evidence: Evidence
) -> tuple[dict[str, SignSeen], tuple[str, ...]]:
    aside = [sign for sign in named if any(_outdoes(o, sign, named, evidence) for o in named if o != sign)]
    return {k: v for k, v in named.items() if k not in aside}, tuple(aside)


def _outdoes(one: str, other: str, named: Mapping[str, SignSeen], evidence: Evidence) -> bool:
    """Whether ``one`` names the same finding as ``other`` and tells more of it."""
    for ranks in _shared_sets(one, other, evidence):
        if _telling(one, named, ranks) > _telling(other, named, ranks):
            return True
    return False


def _telling(sign: str, named: Mapping[str, SignSeen], ranks: Mapping[str, int]) -> tuple[int, int]:
    severity = named[sign].severity
    return (2 if severity is None else severity, -ranks[sign])


def _shared_sets(one: str, other: str, evidence: Evidence) -> Iterable[Mapping[str, int]]:
    """The sets that hold both; of a composite only pairs with the composite itself clash."""
    for name in dict.fromkeys(m.set_id for m in evidence.causes.sign_sets):
        members = [m for m in evidence.causes.sign_sets if m.set_id == name]
        ranks = {m.sign_id: m.exactness for m in members}
        whole = max(ranks, key=lambda sign: ranks[sign])
        if one in ranks and other in ranks and (not members[0].composite or whole in (one, other)):
            yield ranks


def _same_finding(sign: str, evidence: Evidence) -> tuple[str, ...]:
    sets = {m.set_id for m in evidence.causes.sign_sets if m.sign_id == sign and not m.composite}
    return tuple(m.sign_id for m in evidence.causes.sign_sets if m.set_id in sets)


def _looked_for(case: Case, evidence: Evidence) -> Iterable[str]:
    """Signs that were looked for: named absent, of severity 0, or covered by ``examined``."""
    yield from case.exam.absent
    yield from (sign.sign for sign in case.exam.signs if sign.severity == 0)
    for word in case.exam.examined:
        yield from (s.sign_id for s in evidence.signs.values() if _examined_by(word, s))


def _examined_by(word: str, sign: Sign) -> bool:
    return word in ("all", sign.sign_id, sign.body_system) or word in sign.body_system.split("/")
