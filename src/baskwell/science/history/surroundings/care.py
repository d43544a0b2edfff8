"""Findings in words: substrate, water, shelters, air, cleanliness, rough ground, shelter outdoors."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from baskwell.evidence.covers import cover_holds
from baskwell.evidence.rows.surroundings import CareRule, Substrate
from baskwell.science.history.finding import Finding, Verdict, Wanted
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.wants import source_names
from baskwell.science.history.surroundings.wording import WHEN, Quantity, plain, unknown

_HARSHEST: tuple[Verdict, ...] = ("does not fit", "doubtful", "fits", "not known")
_SAYS = {"fits": "That fits", "doubtful": "That is doubtful", "does not fit": "That does not fit"}

WATER = Quantity("water", "water", "water", "", "What water can it reach: dish, pool, drips, none?")
HIDES = Quantity(
    "hides", "space", "hiding places", "", "How many places has it to hide in, and at which end?"
)
MOIST_HIDE = Quantity("moist_hide", "humidity", "moist hide", "", "Has it a hide with damp moss or soil?")
VENTILATION = Quantity("ventilation", "hygiene", "air exchange", "", "Is the top open, vented or closed?")
CLEANLINESS = Quantity(
    "cleanliness", "hygiene", "cleanliness", "", "How often is it cleaned, and was it clean?"
)
ROUGH = Quantity(
    "abrasive_surface", "substrate", "rough ground", "", "Does it walk or feed on stone or slate?"
)
SHELTER = Quantity(
    "outdoor_shelter", "heat", "shelter outdoors", "", "What shelter has it outdoors: heated or not?"
)
SUBSTRATE = Quantity("substrate", "substrate", "substrate", "", "What covers the floor?")


@dataclass(frozen=True)
class Judged:
    """A rule that spoke, and the answer on which it did."""

    rule: CareRule
    said: str


def care_findings(scene: Scene) -> tuple[Finding, ...]:
    """Water, shelters, air, cleanliness, rough ground and outdoor shelter; what is not known is asked for.

    Where nothing was said and no rule speaks for the animal, there is no finding.
    """
    place = scene.place
    findings = [
        _finding(scene, WATER, place.water),
        _finding(
            scene, HIDES, None if place.hides is None else str(min(place.hides, 2)), _count(place.hides)
        ),
        _finding(scene, MOIST_HIDE, _yes_no(place.moist_hide)),
        _finding(scene, VENTILATION, None if scene.outdoors else place.ventilation),
        _finding(scene, CLEANLINESS, place.cleanliness),
        _finding(scene, ROUGH, _yes_no(place.abrasive_surface)),
        _finding(scene, SHELTER, place.outdoor_shelter) if _needs_shelter(scene) else None,
    ]
    return tuple(finding for finding in findings if finding is not None)


def _yes_no(value: bool | None) -> str | None:
    return None if value is None else ("y" if value else "n")


def _count(hides: int | None) -> str:
    return "" if hides is None else f"{hides}"


def _needs_shelter(scene: Scene) -> bool:
    """Outdoors for at least part of the year, other than in summer alone."""
    return scene.when != "summer" and (scene.outdoors is True or scene.place.outdoor == "part")


def _finding(scene: Scene, what: Quantity, answer: str | None, said: str = "") -> Finding | None:
    rules = [rule for rule in scene.tables.care_rules if rule.finding_id == what.finding_id]
    if answer is None:
        return unknown(scene, what) if any(_matters(scene, rule) for rule in rules) else None
    rule = narrowest(scene, [rule for rule in rules if rule.answer == answer])
    if rule is None:
        return None
    words = said or {"y": "yes", "n": "no"}.get(answer, answer)
    name = f"{what.name}{WHEN[scene.when]}"
    sentence = f"{name[:1].upper()}{name[1:]}: {words}. {_SAYS[rule.verdict]}: {rule.because}."
    return plain(scene, what, _verdict(rule), sentence, _said(scene, [rule]))


def _matters(scene: Scene, rule: CareRule) -> bool:
    """Whether an answer could say that this animal lacks something: then it is asked for."""
    return rule.verdict != "fits" and rule.answer != "y" and scene.covered(rule.covers)


def narrowest(scene: Scene, rules: Iterable[CareRule]) -> CareRule | None:
    """The rule with the narrowest cover that holds for the animal; None where none does."""
    holding = [rule for rule in rules if scene.covered(rule.covers)]
    return min(holding, key=lambda rule: _width(scene, rule.covers), default=None)


def _width(scene: Scene, cover: str) -> int:
    species = (taxon for taxon in scene.evidence.taxa.values() if taxon.rank == "species")
    return sum(cover_holds(cover, taxon) for taxon in species)


def _verdict(rule: CareRule) -> Verdict:
    return next(word for word in _HARSHEST if word == rule.verdict)


def _said(scene: Scene, rules: list[CareRule]) -> Wanted:
    sources = tuple(dict.fromkeys(id_ for rule in rules for id_ in rule.source_id.split(";")))
    who = source_names(scene.evidence, sources)
    grades = "/".join(sorted({rule.evidence_grade for rule in rules}))
    return Wanted(None, None, who, grades, tuple(rule.rule_id for rule in rules))


def read_substrates(scene: Scene) -> tuple[tuple[Substrate, ...], tuple[str, ...]]:
    """The materials named, in order of time, and the words that are in no table."""
    found, unread = [], []
    for said in scene.place.substrate:
        row = find_substrate(scene.tables.substrates, said)
        if row is None:
            unread.append(said)
        else:
            found.append(row)
    return tuple(found), tuple(unread)


def find_substrate(rows: Iterable[Substrate], said: str) -> Substrate | None:
    """The material that a word stands for, None where it is in no table.

    Its id, name or one of its words; else the longest of the words that the text contains.

    >>> from baskwell.evidence import load_evidence
    >>> find_substrate(load_evidence().surroundings.substrates, "Orchid bark, 5 cm").substrate_id
    'bark'
    """
    text = " ".join(said.lower().replace("_", " ").replace("-", " ").split())
    words = [
        (word, row) for row in rows for word in (row.substrate_id.replace("_", " "), row.name, *row.words)
    ]
    exact = next((row for word, row in words if word == text), None)
    if exact is not None:
        return exact
    inside = [(len(word), row) for word, row in words if f" {word} " in f" {text.replace(',', ' ')} "]
    return max(inside, key=lambda found: found[0], default=(0, None))[1]


def substrate_finding(scene: Scene) -> Finding:
    """The finding on what covered the floor: the harshest rule that speaks of any material named."""
    rows, unread = read_substrates(scene)
    if not rows:
        return _unread(scene, unread)
    judged = [one for row in rows for one in _judge(scene, row)]
    names = ", then ".join(row.name for row in rows)
    if not judged:
        return plain(scene, SUBSTRATE, "fits", f"Substrate: {names}. That fits: no rule speaks against it.")
    verdict = min((_verdict(one.rule) for one in judged), key=_HARSHEST.index)
    reasons = "; ".join(dict.fromkeys(f"{one.rule.because} ({one.said})" for one in judged))
    sentence = f"Substrate: {names}. {_SAYS[verdict]}: {reasons}."
    return plain(scene, SUBSTRATE, verdict, sentence, _said(scene, [one.rule for one in judged]))


def _unread(scene: Scene, unread: tuple[str, ...]) -> Finding:
    bare = unknown(scene, SUBSTRATE)
    if not unread:
        return bare
    words = ", ".join(f'"{word}"' for word in unread)
    return replace(bare, sentence=f"The substrate {words} is in no table, so nothing is said of it.")


def _judge(scene: Scene, row: Substrate) -> list[Judged]:
    rules = [rule for rule in scene.tables.care_rules if rule.finding_id == "substrate"]
    found = (narrowest(scene, [rule for rule in rules if rule.answer == answer]) for answer in _answers(row))
    return [Judged(rule, row.name) for rule in found if rule is not None]


def _answers(row: Substrate) -> list[str]:
    """What a material is, in the words of ``care_rules.csv``."""
    answers = {
        row.substrate_id: True,
        "fine_loose": row.fine_loose,
        "coarse_swallowable": row.coarse_swallowable,
        "dry": row.holds_moisture is False,
        "undiggable": row.diggable is False,
    }
    return [answer for answer, holds in answers.items() if holds]
