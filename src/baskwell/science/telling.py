"""Plain words about one case: who it is, what was found, and the one sentence on top."""

from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.science.case.model import Animal, Case, SignSeen
from baskwell.science.case.span import Span
from baskwell.science.causes.network import REMAINDER
from baskwell.science.causes.ranking import Cause, Flag, Ranking

LENGTHS = (
    ("straight_carapace_length_mm", "shell"),
    ("snout_vent_length_mm", "snout to vent"),
    ("total_length_mm", "total length"),
)
WIDE = 6
"""In twentieths: a range of a probability from which its ends alone say too little."""


@dataclass(frozen=True)
class SignLine:
    """One sign found, in words: name, severity word with its criterion, and urgency."""

    sign_id: str
    name: str
    severity: int | None
    criterion: str
    detail: str
    urgency: str


def who(case: Case, evidence: Evidence) -> str:
    """One line on the animal; what is not known is left out.

    >>> from baskwell.evidence import load_evidence
    >>> fern = Animal("python_regius", name="Fern", sex="female", mass_g=Span.exactly(1210))
    >>> who(Case(fern), load_evidence())
    'Fern, ball python, female, 1210 g'
    """
    animal = case.animal
    taxon = evidence.taxa[animal.taxon]
    parts = [animal.name, taxon.common_names[0] if taxon.common_names else taxon.scientific_name]
    parts += [animal.sex or "", _age(animal), _quantity(animal.mass_g, "g")]
    for field, words in LENGTHS:
        length = _quantity(getattr(animal, field), "mm")
        parts.append(f"{words} {length}" if length else "")
    return ", ".join(part for part in parts if part)


def _age(animal: Animal) -> str:
    return _quantity(animal.age_years, "years") or animal.age_class or ""


def _quantity(span: Span | None, unit: str) -> str:
    if span is None:
        return ""
    if span.low is None or span.high is None:
        return f"{'under' if span.low is None else 'over'} {span.middle:g} {unit}"
    return f"{span.low:g} {unit}" if span.low == span.high else f"{span.low:g}-{span.high:g} {unit}"


def sign_lines(case: Case, evidence: Evidence) -> tuple[SignLine, ...]:
    """The signs found, the most severe first; a severity that was not stated stands last, as not scored."""
    found = [s for s in case.exam.signs if s.severity != 0]
    ordered = sorted(found, key=lambda s: -(s.severity or 0))
    return tuple(_sign_line(sign, evidence) for sign in ordered)


def _sign_line(sign: SignSeen, evidence: Evidence) -> SignLine:
    row = evidence.signs[sign.sign]
    criterion = getattr(row, f"score_{sign.severity}") if sign.severity is not None else ""
    since = _quantity(sign.since_days, "days")
    details = [
        f"{sign.side} side" if sign.side in ("left", "right") else sign.side or "",
        f"for {since}" if since else "",
        sign.course,
    ]
    detail = ", ".join(d.replace("both", "both sides") for d in details if d)
    return SignLine(sign.sign, row.name, sign.severity, criterion, detail, row.urgency)


def headline(case: Case, flags: tuple[Flag, ...], ranking: Ranking, second: Ranking | None) -> str:
    """What matters now, in one sentence: urgency, the leading cause and how sure, the open question."""
    name = case.animal.name or "This animal"
    urgent = any(flag.level == "vet now" for flag in flags)
    start = f"{name} needs a veterinarian now" if urgent else name
    if not ranking.signs_present:
        return f"{start + '; n' if urgent else name + ': n'}o sign is scored yet, so nothing can be ranked."
    told = _leading(second or ranking)
    joined = f"{start}; {told}" if urgent else f"{name}: {told}"
    return f"{joined}{_open_question(ranking)}."


def _leading(ranking: Ranking) -> str:
    listed = [c for c in ranking.causes if c.condition_id != REMAINDER]
    first, rest = ranking.causes[0], listed[1:2]
    if first.condition_id == REMAINDER:
        return "no listed cause explains well what is seen"
    most = first.explains.median >= len(ranking.signs_present) / 2.0
    part = "most of what is seen" if most else "more of what is seen than anything else"
    words = f"{_lower(first)} explains {part} ({how_sure(first)})"
    close = [c for c in rest if c.explains.median >= 0.6 * first.explains.median]
    return words + (f", closely followed by {_lower(close[0])}" if close else "")


def _lower(cause: Cause) -> str:
    name = cause.name
    return name if name[1:2].isupper() else name[0].lower() + name[1:]


def how_sure(cause: Cause) -> str:
    """The probability of a cause in words, with its range in 20; a wide one after the best estimate."""
    low, best, high = (
        round(20 * p) for p in (cause.posterior.low, cause.posterior.median, cause.posterior.high)
    )
    if high - low > WIDE:
        spread = f"about {best} in 20, anywhere from {low} to {high}"
    else:
        spread = f"about {low} in 20" if low == high else f"about {low} to {high} in 20"
    return f"{probability_word(cause.posterior.median)}, {spread}"


def probability_word(probability: float) -> str:
    """A word for a probability; the bounds are our own choice.

    >>> probability_word(0.92), probability_word(0.5), probability_word(0.02)
    ('very likely', 'as likely as not', 'very unlikely')
    """
    for bound, word in ((0.9, "very likely"), (0.7, "likely"), (0.4, "as likely as not"), (0.1, "unlikely")):
        if probability >= bound:
            return word
    return "very unlikely"


def _open_question(ranking: Ranking) -> str:
    best = next((q for q in ranking.questions if q.kind == "exposure"), None)
    if best is None or best.chance_top_changes < 0.1:
        return ""
    return f". Ask while the owner is here: {best.text.rstrip('?.')}"
