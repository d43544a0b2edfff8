"""Which animals a taxon text covers: the small grammar of ``taxon_groups.csv`` and ``limits.csv``.

A cover is terms split by ``;`` of which any may hold. A term is parts joined by ``+`` (all must hold) or
taken out with ``-``. A part is ``all``, ``eligible``, or ``kind:word`` with the kinds ``clade``,
``family``, ``genus``, ``species`` and ``tag`` of ``taxa.csv``.
"""

import re
from difflib import get_close_matches
from functools import lru_cache

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.errors import UnknownKey
from baskwell.evidence.rows.clinical import Taxon

Part = tuple[str, str, str]  # sign, kind, word
KINDS = ("clade", "family", "genus", "species", "tag")
_PART = re.compile(r"([+-]?)\s*(?:(clade|family|genus|species|tag):)?([^+\-;:]+)")


@lru_cache(maxsize=2048)
def parse_cover(cover: str) -> tuple[tuple[Part, ...], ...]:
    """Split a cover into terms of (sign, kind, word).

    >>> parse_cover("clade:chelonian+tag:aquatic;species:boa_constrictor")
    ((('+', 'clade', 'chelonian'), ('+', 'tag', 'aquatic')), (('+', 'species', 'boa_constrictor'),))

    Raises ``ValueError`` where a part is not of the grammar.
    """
    return tuple(_parse_term(term.strip()) for term in cover.split(";"))


def _parse_term(term: str) -> tuple[Part, ...]:
    parts: list[Part] = []
    end = 0
    for found in _PART.finditer(term):
        sign, kind, word = found.group(1) or "+", found.group(2) or "", found.group(3).strip()
        if found.start() != end or (not kind and word not in ("all", "eligible")):
            break
        parts.append((sign, kind, word))
        end = found.end()
    if not parts or end != len(term):
        raise ValueError(f"'{term}' is not a cover: write all, or kind:word with one of {', '.join(KINDS)}.")
    return tuple(parts)


def cover_holds(cover: str, taxon: Taxon) -> bool:
    """Whether a cover holds for one species row.

    >>> from baskwell.evidence import load_evidence
    >>> taxa = load_evidence().taxa
    >>> cover_holds("all-tag:whole_prey", taxa["python_regius"])
    False
    """
    return any(_term_holds(term, taxon) for term in parse_cover(cover))


def _term_holds(term: tuple[Part, ...], taxon: Taxon) -> bool:
    return all(_part_holds(kind, word, taxon) == (sign == "+") for sign, kind, word in term)


def _part_holds(kind: str, word: str, taxon: Taxon) -> bool:
    if kind == "tag":
        return word in taxon.tags
    if kind == "species":
        return word == taxon.taxon_id
    if kind:
        return bool(getattr(taxon, kind) == word)
    return True


def species_beneath(evidence: Evidence, taxon_id: str) -> tuple[Taxon, ...]:
    """The species an animal named so may be: itself, or every species beneath a higher name.

    >>> from baskwell.evidence import load_evidence
    >>> [taxon.taxon_id for taxon in species_beneath(load_evidence(), "terrapene")]
    ['terrapene_ornata', 'terrapene_carolina', 'terrapene_triunguis']

    Raises ``UnknownKey`` for an id that is not in ``taxa.csv``.
    """
    taxon = _taxon(evidence, taxon_id)
    if taxon.rank == "species":
        return (taxon,)
    return tuple(other for other in evidence.taxa.values() if _is_beneath(other, taxon))


def _is_beneath(other: Taxon, higher: Taxon) -> bool:
    if other.rank != "species":
        return False
    names = ("clade", "family", "genus")
    return all(getattr(higher, name) in ("", getattr(other, name)) for name in names)


def _taxon(evidence: Evidence, taxon_id: str) -> Taxon:
    try:
        return evidence.taxa[taxon_id]
    except KeyError:
        raise UnknownKey(taxon_id, get_close_matches(taxon_id, evidence.taxa, n=3)) from None


def covers(evidence: Evidence, taxon_string: str, taxon_id: str) -> bool:
    """Whether the taxon text of a table covers this animal.

    A higher name such as ``testudo`` is covered if any species beneath it could be. ``eligible`` holds
    for every animal: look at the taxon text of the condition as well. Whether a row may be used for an
    animal in care is a second question, see ``use_for_animal`` of the group.

    >>> from baskwell.evidence import load_evidence
    >>> evidence = load_evidence()
    >>> covers(evidence, "box turtle", "terrapene_ornata"), covers(evidence, "snake", "terrapene_ornata")
    (True, False)

    Raises ``UnknownKey`` for a text that is not in ``taxon_groups.csv`` or an id not in ``taxa.csv``.
    """
    group = evidence.taxon_groups.get(taxon_string)
    if group is None:
        raise UnknownKey(taxon_string, get_close_matches(taxon_string, evidence.taxon_groups, n=3))
    return cover_reaches(evidence, group.covers, taxon_id)


def cover_reaches(evidence: Evidence, cover: str, taxon_id: str) -> bool:
    """Whether a cover holds for the animal, or for any species it may be.

    >>> from baskwell.evidence import load_evidence
    >>> cover_reaches(load_evidence(), "tag:herbivorous", "testudinidae")
    True
    """
    return any(cover_holds(cover, taxon) for taxon in species_beneath(evidence, taxon_id))
