"""Red flags: rules outside the network that fire on a sign or a state alone and always stand first."""

from collections.abc import Iterable, Iterator

from baskwell.evidence import Evidence
from baskwell.evidence.rows.causes import FlagRule
from baskwell.science.case.model import Case, SignSeen
from baskwell.science.causes.factors import age_class
from baskwell.science.causes.ranking import Flag

ORDER = ("vet now", "within days", "watch")
SEVERITY_WORDS = {1: "mild", 2: "moderate", 3: "severe"}
STATES = {
    "critical": "The animal is critical.",
    "collapsed": "The animal has collapsed.",
    "weak": "The animal is weak as a whole.",
    "dead": "The animal is dead: a post-mortem protects the others; keep the body cool, not frozen.",
}


def red_flags(case: Case, evidence: Evidence) -> tuple[Flag, ...]:
    """Every urgency that the signs and the general state call for, the most urgent first.

    A severity that was not stated counts as one that needs the veterinarian, until it is scored: unknown
    is never treated as fine.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, Exam
    >>> exam = Exam(signs=(SignSeen("tremor", severity=1),))
    >>> red_flags(Case(Animal("pogona_vitticeps"), exam=exam), load_evidence())[0].level
    'vet now'
    """
    rules = {rule.sign_id: rule for rule in evidence.causes.flag_rules}
    signs = {sign.sign: sign for sign in case.exam.signs if sign.severity != 0}
    found = [
        *_state_flags(case),
        *(_sign_flag(sign, rules[sign.sign], signs, case, evidence) for sign in signs.values()),
    ]
    return tuple(sorted(found, key=lambda flag: ORDER.index(flag.level)))


def _state_flags(case: Case) -> Iterator[Flag]:
    general = case.exam.general
    if general in STATES:
        yield Flag("vet now", f"general_{general}", STATES[general], "common practice")


def _sign_flag(
    sign: SignSeen, rule: FlagRule, signs: dict[str, SignSeen], case: Case, evidence: Evidence
) -> Flag:
    name = evidence.signs[sign.sign].lay_name
    said_by = f"signs.{sign.sign}"
    why = _vet_now(sign, rule, signs, case, evidence)
    if why:
        return Flag("vet now", sign.sign, f"{name[0].upper()}{name[1:]}{why}.", said_by)
    soon = rule.within_days_from is not None and (sign.severity or 3) >= rule.within_days_from
    words = f"{name[0].upper()}{name[1:]}{_graded(sign)}"
    if soon:
        return Flag("within days", sign.sign, f"{words}: a veterinarian within days.", said_by)
    return Flag("watch", sign.sign, f"{words}: watch it.", said_by)


def _graded(sign: SignSeen) -> str:
    return (
        f", {SEVERITY_WORDS[sign.severity]}" if sign.severity in SEVERITY_WORDS else ", severity not scored"
    )


def _vet_now(
    sign: SignSeen, rule: FlagRule, signs: dict[str, SignSeen], case: Case, evidence: Evidence
) -> str:
    """Why this sign needs a veterinarian now, in words that follow its name; empty where it does not."""
    if rule.vet_now_from is not None and (sign.severity or 3) >= rule.vet_now_from:
        unscored = sign.severity is None and rule.vet_now_from > 1
        return _graded(sign) + (" (until it is scored it counts as severe)" if unscored else "")
    together = _first(other for other in rule.vet_now_with if other in signs)
    if together:
        return f" together with {evidence.signs[together].lay_name}"
    age = age_class(case, evidence)
    if rule.vet_now_at_age and (age is None or age in rule.vet_now_at_age):
        return f" in an animal of this age ({age or 'age not known'})"
    return ""


def _first(words: Iterable[str]) -> str | None:
    return next(iter(words), None)
