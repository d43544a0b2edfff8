"""Gates of examination and tests: signs, veterinarian, faecal tests, agents of the kind, infection."""

import datetime as dt
from collections.abc import Sequence

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.evidence.rows.quarantine import FreedomAgent
from baskwell.science.case.model import DoseGiven
from baskwell.science.causes.flags import red_flags
from baskwell.science.causes.observed import observe
from baskwell.science.quarantine.agents import last_found
from baskwell.science.quarantine.gates_time import gate
from baskwell.science.quarantine.result import Freedom, Gate, State
from baskwell.science.quarantine.stay import Stay, spaced
from baskwell.science.quarantine.tested import Outcome, Tested, agents_of, day_of, kinds_of

FIT = ("no findings", "nothing found", "normal", "healthy", "fit", "cleared", "signed off", "negative")
UNFIT = ("not fit", "unfit", "not healthy", "unhealthy", "abnormal", "not cleared", "not normal")


def signs_gate(stay: Stay) -> Gate:
    """No wound, discharge, neurologic or other sign that keeps it here, looked for of late."""
    seen = observe(stay.case, stay.evidence)
    rows = stay.evidence.quarantine_tables.quarantine_signs
    urgent = {f.key for f in red_flags(stay.case, stay.evidence) if f.level != "watch"}
    there = [s for s in seen.present if s in urgent or s in [r.sign_id for r in rows]]
    unseen = [r.sign_id for r in rows if r.sign_id in seen.not_examined]
    old = not is_recent(stay, stay.case.exam.date)
    meet = f"An examination in the last {stay.choice('exam_valid'):g} days that looks for all of them."
    state: State = "not met" if there or urgent - set(there) else "not known" if unseen or old else "met"
    words = _signs_words(stay, there or sorted(urgent), unseen, old)
    return gate(stay, "signs", "No sign of illness", state, (words, meet), "clear_8")


def _signs_words(stay: Stay, there: list[str], unseen: list[str], old: bool) -> str:
    if there:
        return f"Found: {_names(there, stay.evidence)}."
    if unseen:
        return f"Not looked for: {_names(unseen, stay.evidence)}."
    date = stay.case.exam.date
    if old:
        return f"Last examined {f'on {date}' if date else 'on an unknown day'}: too long ago to say."
    return "Looked for and not found: wounds, discharge, neurologic signs, mites, worms, loose faeces."


def _names(signs: Sequence[str], evidence: Evidence) -> str:
    names = [evidence.signs[s].lay_name if s in evidence.signs else s.replace("_", " ") for s in signs[:5]]
    more = f" and {len(signs) - 5} more" if len(signs) > 5 else ""
    return ", ".join(names) + more


def is_recent(stay: Stay, day: dt.date | None) -> bool:
    """Whether a day lies within the time for which an examination counts."""
    return day is not None and 0 <= (stay.today - day).days <= stay.choice("exam_valid")


def vet_gate(stay: Stay) -> Gate:
    """A veterinarian examined it of late and found nothing against."""
    exams = [t for t in stay.case.exam.tests if "vet_examination" in kinds_of(t, stay.evidence)]
    recent = [t for t in exams if is_recent(stay, day_of(stay.case, t))]
    told = [t.result.lower().replace("_", " ") for t in recent]
    against = [words for words in told if any(word in words for word in UNFIT)]
    fit = [words for words in told if any(word in words for word in FIT)]
    state: State = "not met" if against else "met" if fit else "not known"
    meet = (
        "A veterinarian examines it and signs off: write it as a test 'vet_examination' with the result "
        f"'no findings', dated within the last {stay.choice('exam_valid'):g} days."
    )
    said = (
        f"Examined: {'; '.join(against or fit or told)}." if told else "No recent examination is on record."
    )
    return gate(stay, "vet", "A veterinarian signs off", state, (said, meet), "clear_8")


def faecal_gate(stay: Stay, tested: Tested) -> Gate:
    """Consecutive negative faecal tests, far enough apart, the last long enough after any treatment."""
    name = "Faecal tests"
    needed, gap = int(stay.choice("faecal_negatives")), stay.fact("faecal_gap").value or 0.0
    all_ = [o for o in tested.outcomes if o.test_kind == "faecal"]
    meet = (
        f"{needed} negative faecal tests in a row at least {gap:g} days apart, "
        f"the last at least {gap:g} days after any treatment."
    )
    if not all_:
        return gate(stay, "faecal", name, "not known", ("No faecal test is on record.", meet), "clear_5")
    good, why_not = _trailing(all_, gap)
    treated, undated = _last_drug(stay)
    last = max((o.at for o in all_ if not o.found and o.at is not None), default=None)
    late = treated is None or (last is not None and (last - treated).days >= gap)
    state: State = "not met"
    if good >= needed and late:
        state = "not known" if undated else "met"
    words = f"{good} of {needed} negative tests in a row{why_not}."
    if not late:
        words += f" The last lies less than {gap:g} days after the treatment of {treated}."
    words += " A drug was given on an unknown day." if undated else ""
    return gate(stay, "faecal", name, state, (words, meet), "clear_5")


def _trailing(outcomes: Sequence[Outcome], gap: float) -> tuple[int, str]:
    """Negative tests since the last finding that are far enough apart; an undated finding is the last."""
    found = [o.at for o in outcomes if o.found]
    dated = {o.at for o in outcomes if not o.found and o.at is not None}
    if None in found:
        return 0, ", after something found on an unknown day"
    last = max((day for day in found if day is not None), default=None)
    since = [day for day in dated if last is None or day > last]
    undated = any(o.at is None and not o.found for o in outcomes)
    count = spaced(since, gap) if since else int(undated and last is None)
    said = f", since something was found on {last}" if last else ""
    return count, said + (", tests without a day count as one" if undated else "")


def _last_drug(stay: Stay) -> tuple[dt.date | None, bool]:
    """The day of the last drug given here, and whether one was given on an unknown day."""
    drugs = [d for d in stay.case.days.doses if _may_be_drug(d, stay.evidence)]
    days = [d.at.date() for d in drugs if d.at is not None and d.at <= stay.now]
    return max(days, default=None), any(d.at is None for d in drugs)


def _may_be_drug(dose: DoseGiven, evidence: Evidence) -> bool:
    """Whatever is not known to be a vitamin, mineral, fluid or food may be a drug."""
    word = dose.agent.lower().replace(" ", "_")
    row = evidence.agents.get(word)
    return row is None or row.kind in ("drug", "unknown", "mixture")


def agents_gate(stay: Stay, tested: Tested) -> Gate | None:
    """The repeated tests that tortoises and box turtles, or snakes and geckos, need; None for others."""
    taxon = stay.case.animal.taxon
    for fact_id, plan in (("clear_6", _chelonian_plan(stay)), ("clear_7", _snake_plan(stay))):
        if covers(stay.evidence, stay.fact(fact_id).taxon, taxon):
            return _plan_gate(stay, tested, fact_id, plan)
    return None


Plan = tuple[tuple[str, int, float], ...]


def _chelonian_plan(stay: Stay) -> Plan:
    n, gap = int(stay.choice("virus_tests")), stay.choice("virus_gap")
    return (("mycoplasmosis", n, gap), ("herpesvirus", n, gap))


def _snake_plan(stay: Stay) -> Plan:
    n, gap = int(stay.choice("agent_tests")), stay.choice("agent_gap")
    papers = int(stay.choice("paper_checks"))
    return (("ectoparasites", papers, 1.0), ("cryptosporidiosis", n, gap), ("serpentovirus", n, gap))


def _plan_gate(stay: Stay, tested: Tested, fact_id: str, plan: Plan) -> Gate:
    agents = {a.condition_id: a for a in agents_of(stay.evidence, stay.case.animal.taxon)}
    mine = [step for step in plan if step[0] in agents]
    states = [_step_state(agents[a], tested.of(a), n, gap) for a, n, gap in mine]
    state: State = "not met" if "not met" in states else "not known" if "not known" in states else "met"
    done = [f"{agents[a].name}: {s}" for (a, _, _), s in zip(mine, states, strict=True)]
    meet = "; ".join(
        f"{agents[a].name}: {n} negative tests at least {gap:g} days apart" for a, n, gap in mine
    )
    words = ("; ".join(done)[:1].upper() + "; ".join(done)[1:] + ".", meet + ".")
    return gate(stay, "agents", "Viruses, mites and other agents", state, words, fact_id)


def _step_state(agent: FreedomAgent, outcomes: Sequence[Outcome], needed: int, gap: float) -> State:
    """Negative tests of one kind since it was last found; what cannot be cleared stays found."""
    found, when = last_found(outcomes)
    if found and (not agent.clearable or when is None):
        return "not met"
    days: dict[str, list[dt.date]] = {}
    for o in outcomes:
        if not o.found and o.at is not None and (when is None or o.at > when):
            days.setdefault(o.test_kind, []).append(o.at)
    best = max((spaced(tested_on, gap) for tested_on in days.values()), default=0)
    return "met" if best >= needed else "not met" if outcomes else "not known"


def infection_gate(stay: Stay, freedom: Sequence[Freedom]) -> Gate:
    """Every agent that leaving depends on is unlikely enough."""
    asked = [f for f in freedom if f.gate]
    states = [f.state for f in asked]
    state: State = "not met" if "not met" in states else "not known" if "not known" in states else "met"
    free = [f.name for f in asked if f.state == "met"]
    open_ = [f.name for f in asked if f.state != "met"]
    words = f"Unlikely enough: {', '.join(free) or 'none yet'}. Open: {', '.join(open_) or 'none'}."
    meet = "See the tests still needed for each."
    return gate(stay, "infection", "Infection unlikely enough", state, (words, meet), "clear_9")
