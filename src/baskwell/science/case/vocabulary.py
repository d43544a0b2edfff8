"""The words that may stand in a case file: ids of the evidence tables and other ways to write them."""

import difflib
import re
from collections.abc import Iterable, Mapping, Sequence

from baskwell.evidence import Evidence

_TABLES: Mapping[str, str] = {
    "@taxa": "an animal of the taxa table",
    "@foods": "a food",
    "@labels": "a label of this file",
    "@agents": "an agent",
    "@lamps": "a lamp or heat source",
    "@signs": "a sign",
    "@body_systems": "a body system",
    "@exposures": "an exposure",
}
_LONGEST = 60
_HIGHER = ", kind not known"


class Vocabulary:
    """The words of one file: those of the evidence and the labels that the file itself names.

    >>> from baskwell.evidence import load_evidence
    >>> words = Vocabulary(load_evidence())
    >>> words.resolve("Terrapene carolina", ["@taxa"])
    'terrapene_carolina'
    >>> words.suggest("beak_overgrwn", ["@signs"])
    ['beak_overgrown']
    """

    def __init__(self, evidence: Evidence, own_labels: Iterable[str] = ()) -> None:
        self._evidence = evidence
        self._own_labels = tuple(own_labels)
        self._spellings: dict[str, dict[str, str]] = {}
        self._names: dict[str, dict[str, list[str]]] = {}

    def ids(self, source: str) -> tuple[str, ...]:
        """Return the ids of one table (``"@foods"``), or the word itself where it is no table."""
        return tuple(dict.fromkeys(self._accepted(source).values()))

    def resolve(self, word: str, vocabulary: Sequence[str]) -> str | None:
        """Return the id that a word stands for; None where it stands for none.

        Case, spaces, hyphens and underscores do not matter. A taxon is also known by its scientific
        and its common names, an agent also by the aliases of its table.
        """
        spelling = tidy_spelling(word)
        for source in vocabulary:
            found = self._accepted(source).get(spelling)
            if found is not None:
                return found
        return None

    def suggest(self, word: str, vocabulary: Sequence[str], most: int = 3) -> list[str]:
        """Return the ids whose spelling or name lies nearest to a word, the nearest first."""
        known: dict[str, list[str]] = {}
        for source in vocabulary:
            for name, ids in self._known_names(source).items():
                known.setdefault(name, []).extend(ids)
        found = [id_ for name in nearest(word, known, most * 2) for id_ in known[name]]
        return list(dict.fromkeys(found))[:most]

    def describe(self, vocabulary: Sequence[str]) -> str:
        """Say in words what may stand: "a food, a label of this file, fruit or greens"."""
        return in_words([_TABLES.get(source, source) for source in vocabulary])

    def guarantees(self) -> Mapping[str, str]:
        """Map each name that a guarantee of a label may have to the name that is kept."""
        return guarantee_names(self._evidence)

    def _accepted(self, source: str) -> Mapping[str, str]:
        if source not in self._spellings:
            ids = _ids(source, self._evidence, self._own_labels)
            found = dict(_other_spellings(source, self._evidence))
            found.update({tidy_spelling(one): one for one in ids})
            self._spellings[source] = found
        return self._spellings[source]

    def _known_names(self, source: str) -> Mapping[str, list[str]]:
        """Map each spelling and name to its ids, an id first of all to itself."""
        if source not in self._names:
            found = {spelling: [id_] for spelling, id_ in self._accepted(source).items()}
            for name, id_ in _names(source, self._evidence):
                found.setdefault(tidy_spelling(name), []).append(id_)
            self._names[source] = found
        return self._names[source]


def tidy_spelling(word: str) -> str:
    """Write a word the one way in which words are compared.

    >>> tidy_spelling(" Terrapene-Carolina ")
    'terrapene carolina'
    """
    return re.sub(r"[\s_-]+", " ", word[: _LONGEST * 2]).strip().casefold()


def nearest(word: str, names: Iterable[str], most: int = 3) -> list[str]:
    """Return the names that lie nearest to a word: alike in letters, then holding it or held by it.

    A name that differs by a slip of the fingers stands alone.
    """
    wanted = tidy_spelling(word)[:_LONGEST]
    pool = {name.replace(" ", ""): name for name in names}
    pressed = wanted.replace(" ", "")
    same_but_a_slip = _alike(pressed, pool, 1, 0.88)
    if same_but_a_slip or not pressed:
        return same_but_a_slip
    holding = [name for name in pool.values() if _holds(name, wanted)] or _with_a_word_like(wanted, pool)
    by_length = sorted(holding, key=lambda name: abs(len(name) - len(wanted)))
    ordered = [*_alike(pressed, pool, most, 0.75), *by_length] or _alike(pressed, pool, most, 0.6)
    return list(dict.fromkeys(ordered))[:most]


def _alike(pressed: str, pool: Mapping[str, str], most: int, cutoff: float) -> list[str]:
    """Return the names whose letters, spaces apart, are much the same."""
    return [pool[one] for one in difflib.get_close_matches(pressed, pool, most, cutoff)]


def _with_a_word_like(wanted: str, pool: Mapping[str, str]) -> list[str]:
    """Return the names of several words of which one is nearly the word wanted."""
    words: dict[str, list[str]] = {}
    for name in pool.values():
        for word in name.split(" "):
            words.setdefault(word, []).append(name)
    return [name for word in difflib.get_close_matches(wanted, words, 2, 0.8) for name in words[word]]


def in_words(parts: Sequence[str]) -> str:
    """Join words for a sentence.

    >>> in_words(["red", "green", "blue"])
    'red, green or blue'
    """
    return ", ".join(parts[:-1]) + " or " + parts[-1] if len(parts) > 1 else "".join(parts)


def quoted(words: Sequence[str]) -> str:
    """Join words for a sentence, each as it is written in the file.

    >>> quoted(["low", "high"])
    '"low" or "high"'
    """
    return in_words([f'"{word}"' for word in words])


def _holds(name: str, wanted: str) -> bool:
    stem = wanted.removesuffix("s")
    return len(stem) >= 4 and (stem in name or (len(name) >= 4 and name in stem))


def body_systems(evidence: Evidence) -> tuple[str, ...]:
    """Return the body systems of the signs table: whole ("oral/keratin") and each part ("oral")."""
    whole = [sign.body_system for sign in evidence.signs.values() if sign.body_system]
    parts = [part for system in whole for part in system.split("/")]
    return tuple(dict.fromkeys([*parts, *whole]))


def guarantee_names(evidence: Evidence) -> dict[str, str]:
    """Map the names of guarantees, with the aliases of the table, to the name under which they are kept.

    >>> from baskwell.evidence import load_evidence
    >>> guarantee_names(load_evidence())["crude_fiber_max_pct"]
    'crude_fibre_max_pct'
    """
    found: dict[str, str] = {}
    for row in evidence.feed_labels.label_guarantees:
        side = "" if row.side == "value" else f"_{row.side}"
        for stem in (row.stem, *row.aliases):
            found[f"{stem}{side}_{row.suffix}"] = f"{row.stem}{side}_{row.suffix}"
    return found


def _ids(source: str, evidence: Evidence, own_labels: Sequence[str]) -> Iterable[str]:
    if source == "@labels":
        return [*own_labels, *evidence.labels]
    if source == "@body_systems":
        return body_systems(evidence)
    if source == "@exposures":
        return dict.fromkeys(effect.exposure_id for effect in evidence.exposure_effects)
    tables: Mapping[str, Iterable[str]] = {
        "@taxa": evidence.taxa,
        "@foods": evidence.foods,
        "@agents": evidence.agents,
        "@lamps": evidence.lamps,
        "@signs": evidence.signs,
    }
    return tables.get(source, (source,))


def _other_spellings(source: str, evidence: Evidence) -> Iterable[tuple[str, str]]:
    """Yield the further names by which an id may be written; a name of two ids stands for neither."""
    owners: dict[str, set[str]] = {}
    for name, id_ in _trusted_names(source, evidence):
        owners.setdefault(tidy_spelling(name), set()).add(id_)
    yield from ((name, next(iter(ids))) for name, ids in owners.items() if len(ids) == 1)


def _trusted_names(source: str, evidence: Evidence) -> Iterable[tuple[str, str]]:
    if source == "@taxa":
        for taxon in evidence.taxa.values():
            yield taxon.scientific_name, taxon.taxon_id
            yield from ((name.removesuffix(_HIGHER), taxon.taxon_id) for name in taxon.common_names)
    elif source == "@agents":
        for agent in evidence.agents.values():
            yield from ((name, agent.agent_id) for name in (*agent.aliases, agent.food_id) if name)


def _names(source: str, evidence: Evidence) -> Iterable[tuple[str, str]]:
    """Yield further names of ids, good enough to suggest an id and not good enough to stand for it."""
    if source == "@foods":
        yield from ((food.name.split(",")[0], food.food_id) for food in evidence.foods.values())
    elif source == "@lamps":
        yield from ((lamp.name, lamp.lamp_id) for lamp in evidence.lamps.values())
    elif source == "@signs":
        for sign in evidence.signs.values():
            yield from ((sign.name, sign.sign_id), (sign.lay_name, sign.sign_id))
    elif source == "@agents":
        yield from ((agent.name, agent.agent_id) for agent in evidence.agents.values())
    elif source == "@exposures":
        yield from ((effect.name, effect.exposure_id) for effect in evidence.exposure_effects)
