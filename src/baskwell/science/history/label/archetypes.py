"""A label whose ingredients are not known: the spread over the feeds of its kind."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields

import numpy as np

from baskwell.evidence.rows.foods import LabelArchetype
from baskwell.science.history.label.guarantees import Guarantee, read_guarantees
from baskwell.science.history.label.inversion import Inversion, LabelTables, Manner, invert
from baskwell.science.history.label.materials import Pools
from baskwell.science.history.label.names import Ingredient, read_ingredients
from baskwell.science.history.label.sampler import Effort

KINDS = (
    "tortoise",
    "turtle",
    "iguana",
    "bearded",
    "gecko",
    "cat",
    "dog",
    "monkey",
    "gammarus",
    "calcium",
    "multivitamin",
)
SUPPLEMENTS = ("calcium", "multivitamin")
CHAINS, MOST_CHAINS, DRAWS_OF_A_CHAIN = 48, 256, 12
POOL = 512
COMMON_WORDS = {"dragon": "bearded", "kibble": "cat", "vitamin": "multivitamin", "terrapin": "turtle"}


def archetypes_for(words: str, archetypes: Mapping[str, LabelArchetype]) -> tuple[LabelArchetype, ...]:
    """The archetypes whose kind is named in ``words``; all complete feeds where none is.

    >>> from baskwell.evidence.loader import load_evidence
    >>> labels = load_evidence().labels
    >>> [kind.label_id for kind in archetypes_for("tortoise_pellet", labels)]
    ['L05', 'L06']
    >>> len(archetypes_for("pellet", labels))
    11
    """
    asked = set(re.findall(r"[a-z]+", words.lower()))
    kinds = {kind for kind in KINDS if kind in asked or kind + "s" in asked}
    kinds |= {kind for word, kind in COMMON_WORDS.items() if word in asked}
    matching = tuple(a for a in archetypes.values() if any(kind in a.type for kind in kinds))
    complete = (
        a for a in archetypes.values() if len(a.ingredients) > 1 and a.crude_protein_min_pct is not None
    )
    return matching or tuple(complete)


def invert_unknown(
    words: str,
    guarantees: Sequence[Guarantee],
    tables: LabelTables,
    rng: np.random.Generator,
    n_draws: int,
) -> Inversion:
    """Mix the archetypes of the kind, each under the printed guarantees and, where silent, its own."""
    chosen = archetypes_for(words, tables.evidence.labels)
    each = -(-n_draws // len(chosen))
    chains = min(MOST_CHAINS, max(CHAINS, each // DRAWS_OF_A_CHAIN))
    effort = Effort(chains, pilots=(4, 5), kept=max(8, -(-each // chains)), between=2, enough=0.0)
    lists = [read_ingredients(kind.ingredients, tables.names) for kind in chosen]
    found = [
        invert(
            items,
            _under(kind, guarantees, tables),
            tables,
            rng,
            each,
            Manner(effort, bands=False, pools=pools),
        )
        for kind, items, pools in zip(chosen, lists, _shared_pools(lists, tables, rng), strict=True)
    ]
    return _mixed(found, chosen, rng, n_draws)


def _shared_pools(
    lists: Sequence[Sequence[Ingredient]], tables: LabelTables, rng: np.random.Generator
) -> Iterator[Pools]:
    """Pools of each list, drawn once for all materials of all lists."""
    union = {(item.material_id, item.water_pct): item for items in lists for item in items}
    place = {key: i for i, key in enumerate(union)}
    pools = tables.materials.pools(tuple(union.values()), rng, POOL)
    for items in lists:
        rows = [place[item.material_id, item.water_pct] for item in items]
        yield Pools(pools.nutrients, pools.values[rows], pools.assumed[rows])


def _under(
    kind: LabelArchetype, guarantees: Sequence[Guarantee], tables: LabelTables
) -> tuple[Guarantee, ...]:
    """The printed guarantees, completed by those of the archetype for other nutrients."""
    columns = [item.name for item in fields(kind) if item.name.endswith(("_pct", "_per_kg"))]
    values = {name: getattr(kind, name) for name in columns if getattr(kind, name) is not None}
    own = read_guarantees(values, tables.evidence, kind.label_id)
    said = {item.nutrient for item in guarantees}
    return (*guarantees, *(item for item in own if item.nutrient not in said))


def _mixed(
    found: Sequence[Inversion], chosen: Sequence[LabelArchetype], rng: np.random.Generator, n_draws: int
) -> Inversion:
    shuffle = rng.permutation(sum(len(one.shares) for one in found))[:n_draws]
    draws = {name: np.concatenate([one.draws[name] for one in found])[shuffle] for name in found[0].draws}
    kinds = "; ".join(f"{kind.label_id} ({kind.type})" for kind in chosen)
    return Inversion(
        ingredients=(),
        shares=np.empty((n_draws, 0)),
        draws=draws,
        bands={},
        assumed={name: float(np.mean([one.assumed[name] for one in found])) for name in found[0].assumed},
        conflicts=(),
        notes=(f"The ingredients are not known: the spread over typical feeds stands in, {kinds}.",),
        not_knowable=tuple(dict.fromkeys(text for one in found for text in one.not_knowable)),
        effective_samples=min(float(n_draws), sum(one.effective_samples for one in found)),
        r_hat=max(one.r_hat for one in found),
    )
