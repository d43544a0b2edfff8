"""Who says so: the sources and grades named in a cell.

A cell holds items joined by ``;``. An item is an id of ``sources.csv`` (or a grade word), and may be
followed by a note in parentheses: ``WIKIVET_BEAK; judgement (score steps)``.
"""

import re
from collections.abc import Iterator
from functools import lru_cache

PSEUDO = {
    "judgement": "JUDGEMENT",
    "common practice": "COMMON_PRACTICE",
    "common_practice": "COMMON_PRACTICE",
    "from memory": "MEMORY",
    "from_memory": "MEMORY",
    "calculated": "CALC",
    "computed": "CALC",
    "arithmetic": "CALC",
    "derived": "CALC",
    "definition": "DEFINITION",
}
_NOTE = re.compile(r"\s*\([^()]*(?:\([^()]*\)[^()]*)*\)\s*$")
_COUNT = re.compile(r":\d+$")


def items(cell: str) -> tuple[str, ...]:
    """Split a cell at the semicolons outside parentheses.

    >>> items("TVP2018; judgement (frequency; score)")
    ('TVP2018', 'judgement (frequency; score)')
    """
    if "(" not in cell:
        return tuple(part for part in map(str.strip, cell.split(";")) if part)
    return tuple(part for part in map(str.strip, _outside(cell)) if part)


def _outside(cell: str) -> Iterator[str]:
    depth, start = 0, 0
    for position, letter in enumerate(cell):
        depth += (letter == "(") - (letter == ")")
        if letter == ";" and depth == 0:
            yield cell[start:position]
            start = position + 1
    yield cell[start:]


def head(item: str) -> str:
    """An item without its note and count.

    >>> head("judgement (score steps)"), head("read:6")
    ('judgement', 'read')
    """
    return _COUNT.sub("", _NOTE.sub("", item)).strip()


@lru_cache(maxsize=8192)
def source_ids(cell: str) -> tuple[str, ...]:
    """The ids of ``sources.csv`` that a cell names; words such as "judgement" become pseudo-sources.

    >>> source_ids("WIKIVET_BEAK; judgement (score steps)")
    ('WIKIVET_BEAK', 'JUDGEMENT')
    """
    heads = (head(item) for item in items(cell))
    return tuple(dict.fromkeys(PSEUDO.get(word, PSEUDO.get(word.lower(), word)) for word in heads))
