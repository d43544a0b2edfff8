"""The grammar of source and grade cells."""

from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence.sourcing import head, items, source_ids

WORDS = st.text("ABCXYZ_019", min_size=1, max_size=8)
NOTES = st.text("abc; ,.", max_size=12)


@given(st.lists(st.tuples(WORDS, NOTES), min_size=1, max_size=5))
def test_items_and_notes_come_apart_again(parts: list[tuple[str, str]]) -> None:
    """Whatever stands in parentheses, the ids before them are found in order."""
    cell = "; ".join(f"{word} ({note})" for word, note in parts)
    assert [head(item) for item in items(cell)] == [word for word, _ in parts]
    assert source_ids(cell) == tuple(dict.fromkeys(word for word, _ in parts))


def test_words_for_no_source_become_pseudo_sources() -> None:
    """Judgement, practice, memory and arithmetic are sources of their own kind."""
    cell = "judgement; common practice (vets); from memory; computed"
    assert source_ids(cell) == ("JUDGEMENT", "COMMON_PRACTICE", "MEMORY", "CALC")


def test_counts_behind_quality_words_are_no_part_of_them() -> None:
    """``read:6`` of the food table is the grade ``read``."""
    assert [head(item) for item in items("from_memory:3; read:6")] == ["from_memory", "read"]
