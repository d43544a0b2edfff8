"""What to lay out and mind before a trim: tools, styptic, limits of a session, aftercare."""

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.evidence.rows.clinical_records import TrimFact
from baskwell.science.keratin.choices import PartKind
from baskwell.science.keratin.result import Advice

TOPICS = ("tool", "haemostasis", "limit", "handling", "staging", "aftercare", "prevention")
BEAK_ONLY = ("tool_burr", "tool_dental", "restraint", "leave_bite", "prevent_slate")
SAFETY = ("bleed_1", "bleed_2", "bleed_3", "session", "temp_session")
"""Rows that are told for any part and any animal: what to do when it bleeds, and when to stop."""


def prepare_for(evidence: Evidence, taxon_id: str, kinds: tuple[PartKind, ...]) -> tuple[Advice, ...]:
    """The rows of ``trims.csv`` on how to work that cover the animal and the parts to be cut.

    >>> from baskwell.evidence import load_evidence
    >>> told = [a.fact_id for a in prepare_for(load_evidence(), "testudo_graeca", ("beak",))]
    >>> "tool_burr" in told, "bleed_2" in told
    (True, True)
    """
    rows = [row for row in evidence.trims.values() if row.topic in TOPICS and row.value is None]
    rows = [row for row in rows if row.item_id in SAFETY or covers(evidence, row.taxon, taxon_id)]
    if "beak" not in kinds:
        rows = [row for row in rows if row.item_id not in BEAK_ONLY]
    rows.sort(key=lambda row: TOPICS.index(row.topic))
    extra = [evidence.trims["bleed_dry"]] if covers(evidence, "aquatic turtle", taxon_id) else []
    safety = [evidence.trims[item] for item in SAFETY if evidence.trims[item] not in rows]
    return tuple(_advice(row) for row in (*rows, *safety, *extra))


def _advice(row: TrimFact) -> Advice:
    parts = (row.parameter, row.value_text, _range(row), row.detail)
    text = ": ".join(part for part in parts if part)
    return Advice(row.topic, f"{text[0].upper()}{text[1:]}.", row.item_id, row.grade, row.source)


def _range(row: TrimFact) -> str:
    if row.low is None or row.high is None:
        return f"{row.value:g} {row.unit}" if row.value is not None else ""
    return f"{row.low:g} to {row.high:g} {row.unit}"
