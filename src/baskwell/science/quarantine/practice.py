"""How it is kept apart: separate air, tools, order of work, cleaning, people; all from the evidence."""

from collections.abc import Iterator

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.evidence.rows.clinical_records import QuarantineFact
from baskwell.science.quarantine.result import Practice

ORDER = ("rule", "order of work", "disinfection", "disinfectant", "caution", "salmonella")


def practice_of(evidence: Evidence, taxon_id: str) -> tuple[Practice, ...]:
    """The rows of ``quarantine.csv`` on keeping apart that cover the animal, as sentences, in their order.

    >>> from baskwell.evidence import load_evidence
    >>> [p.fact_id for p in practice_of(load_evidence(), "python_regius") if p.kind == "order of work"]
    ['order_work']
    """
    rows = [row for row in evidence.quarantine.values() if row.kind in ORDER]
    rows = [row for row in rows if covers(evidence, row.taxon, taxon_id)]
    rows.sort(key=lambda row: ORDER.index(row.kind))
    return tuple(Practice(r.kind, sentence_of(r), r.item_id, r.grade, r.source) for r in rows)


def sentence_of(row: QuarantineFact) -> str:
    """One row in words: what, for how long, against what."""
    text = ": ".join(part for part in _parts(row) if part)
    return f"{text[0].upper()}{text[1:]}{'' if text.endswith('.') else '.'}"


def _parts(row: QuarantineFact) -> Iterator[str]:
    if row.kind == "disinfectant":
        yield f"against {row.agent}"
    time = f"{row.value:g} {row.unit}" if row.value is not None and row.unit else ""
    yield ", ".join(part for part in (row.value_text, time) if part)
    yield row.detail
