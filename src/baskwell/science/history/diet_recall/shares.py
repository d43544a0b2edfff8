"""Shares of food groups against what the taxon is fed by those who publish a diet.

Wild stomach contents, volumes and frequencies are other bases and are not compared: only rows of
``diet_mix.csv`` that state a share as fed of a captive diet are.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from baskwell.evidence.lookup import names_of, species_beneath
from baskwell.evidence.rows.diet import FoodGroup
from baskwell.evidence.rows.nutrition import DietShare
from baskwell.science.draws import Draws, against, summarise
from baskwell.science.history.diet_recall.mixture import Mixture
from baskwell.science.history.diet_recall.priors import Priors
from baskwell.science.history.diet_recall.quantities import Quantity
from baskwell.science.history.diet_recall.sentences import told
from baskwell.science.history.finding import Finding, Wanted, judge

AS_FED = "as fed (% of intake)"
YOUNG = ("hatchling", "juvenile")
ABOUT = 15.0  # points either way of a share printed as one number: the width of the amount word "half"
STAPLE = 50.0  # per cent of the food from which a group is its main food
PERCENT = 100.0


def group_shares(mixture: Mixture, priors: Priors) -> tuple[dict[str, Draws], dict[str, Draws]]:
    """Dry-matter and as-fed share of every group word."""
    dry: dict[str, Draws] = {}
    as_fed: dict[str, Draws] = {}
    for group in priors.evidence.diet_tables.food_groups:
        mine = [portion for portion in mixture.portions if group.holds(portion.food)]
        zero = priors.constant(0.0)
        dry[group.group_word] = sum((portion.dry for portion in mine), zero)
        as_fed[group.group_word] = sum((portion.as_fed for portion in mine), zero)
    return dry, as_fed


def share_findings(
    dry: Mapping[str, Draws], as_fed: Mapping[str, Draws], life_stage: str, priors: Priors
) -> tuple[Finding, ...]:
    """One finding for each group that was fed, then one for each published share as fed."""
    groups = {group.group_word: group for group in priors.evidence.diet_tables.food_groups}
    least = float(priors.of("never_mind_share")[0])
    fed = [word for word in groups if float(dry[word].mean()) >= least]
    told_of = [_dry_finding(groups[word], dry[word]) for word in fed]
    rows = _published(life_stage, groups, priors)
    against_rows = [_published_finding(row, words, groups, as_fed) for row, words in rows]
    return (*told_of, *(found for found in against_rows if _is_worth_telling(found)))


def _is_worth_telling(finding: Finding) -> bool:
    """Not where something that need not be fed was not fed."""
    unneeded = finding.wanted is None or not finding.wanted.low
    return not (unneeded and finding.got is not None and finding.got.high == 0.0)


def _dry_finding(group: FoodGroup, share: Draws) -> Finding:
    draws = share * PERCENT
    quantity = Quantity(
        f"share_{group.group_word}_pct_dm", _capital(group.name), "% of the dry matter", "", ()
    )
    got = summarise(draws)
    sentence = f"{told(quantity, got, None, None).partition(';')[0]}."
    return Finding(
        quantity.finding_id,
        "diet",
        quantity.name,
        quantity.unit,
        None,
        got,
        None,
        "not known",
        sentence,
        draws=draws,
    )


@dataclass(frozen=True)
class _Published:
    row: DietShare
    low: float
    high: float | None


def _published(
    life_stage: str, groups: Mapping[str, FoodGroup], priors: Priors
) -> list[tuple[_Published, tuple[str, ...]]]:
    """The captive shares of the nearest name that has any, for this life stage, whose words are all known."""
    for name in _diet_names(priors):
        rows = [row for row in priors.evidence.diet_mix if row.taxon == name and _is_usable(row, life_stage)]
        read = [(row, _words(row, groups)) for row in rows]
        if any(words for _, words in read):
            return [(_range(row, words), words) for row, words in read if words]
    return []


def _diet_names(priors: Priors) -> list[str]:
    kinds = species_beneath(priors.evidence, priors.taxon_id)
    if len(kinds) != 1:
        return []
    return [name.name for name in names_of(priors.evidence, kinds[0].taxon_id, "diet_mix")]


def _is_usable(row: DietShare, life_stage: str) -> bool:
    if (
        row.basis != AS_FED
        or "captive" not in row.life_stage
        or row.share_low is None
        or row.share_high is None
    ):
        return False
    if row.life_stage == "captive":
        return True
    return row.life_stage.startswith("juvenile") == (life_stage in YOUNG)


def _words(row: DietShare, groups: Mapping[str, FoodGroup]) -> tuple[str, ...]:
    """The group words behind a text such as "greens+vegetables"; empty where one of them is not known."""
    terms = [term.strip() for term in row.food_group.split("+")]
    found = [[word for word, group in groups.items() if group.is_called(term)] for term in terms]
    return tuple(word for words in found for word in words) if all(found) else ()


def _range(row: DietShare, words: Sequence[str]) -> _Published:
    """Read a printed share for what it can forbid.

    One number is read as about that much; a share of pellets as at most that much; and where a group is
    to make up most of the food, more of it is no fault.
    """
    low, high = row.share_low or 0.0, row.share_high or 0.0
    if tuple(words) == ("complete_feed",):
        return _Published(row, 0.0, high)
    if low == high:
        return _Published(row, max(0.0, low - ABOUT), min(PERCENT, high + ABOUT))
    return _Published(row, low, None if low >= STAPLE else high)


def _published_finding(
    published: _Published, words: Sequence[str], groups: Mapping[str, FoodGroup], as_fed: Mapping[str, Draws]
) -> Finding:
    draws = np.sum([as_fed[word] for word in words], axis=0) * PERCENT
    name = _capital(" + ".join(groups[word].name for word in words))
    row = published.row
    wanted = Wanted(
        published.low, published.high, f"{row.source_id} ({row.taxon}, {row.basis})", row.evidence_grade
    )
    chances = against(draws, wanted.low, wanted.high)
    quantity = Quantity(f"share_{'_'.join(words)}_pct_as_fed", name, "% of the food as fed", "", ())
    got = summarise(draws)
    return Finding(
        quantity.finding_id,
        "diet",
        name,
        quantity.unit,
        wanted,
        got,
        chances,
        judge(chances),
        told(quantity, got, wanted, chances),
        draws=draws,
    )


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]
