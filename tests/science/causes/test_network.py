"""The network takes from the evidence what holds for the animal."""

import numpy as np
import pytest

from baskwell.evidence import load_evidence
from baskwell.evidence.covers import covers
from baskwell.science.causes.network import REMAINDER, build_network

EVIDENCE = load_evidence()
TAXA = [t.taxon_id for t in EVIDENCE.taxa.values()]


@pytest.mark.parametrize(
    ("taxon", "condition", "there"),
    [
        ("terrapene_carolina", "hypovit_a", True),
        ("python_regius", "shell_rot", False),
        ("python_regius", "ibd", True),
        ("pantherophis_guttatus", "ibd", False),
        ("pogona_vitticeps", "adenovirus", True),
        ("testudo", "herpesvirus", True),
    ],
)
def test_conditions_follow_the_taxa_column(taxon: str, condition: str, there: bool) -> None:
    """Expected: the taxa column of clinical/conditions.csv (boas and pythons have IBD, colubrids not)."""
    assert (condition in build_network(EVIDENCE, taxon).condition_ids) == there


def test_the_most_specific_link_row_wins() -> None:
    """Of rows for "all" and for the taxon the one that covers fewer species is used (n_taxa)."""
    network = build_network(EVIDENCE, "terrapene_carolina")
    rows = [
        link
        for link in EVIDENCE.links
        if (link.condition_id, link.sign_id) == ("hypovit_a", "palpebral_oedema")
        and covers(EVIDENCE, link.taxon_group, "terrapene_carolina")
    ]
    expected = min(rows, key=lambda link: EVIDENCE.taxon_groups[link.taxon_group].n_taxa).p_recommended

    found = network.link_mean[
        network.condition_ids.index("hypovit_a"), network.sign_index(["palpebral_oedema"])
    ]

    assert found[0] == expected


@pytest.mark.parametrize("taxon", TAXA)
def test_every_taxon_has_a_sound_network(taxon: str) -> None:
    """All parameters are probabilities, intervals are ordered, the remainder stands last."""
    network = build_network(EVIDENCE, taxon)

    assert network.condition_ids[-1] == REMAINDER
    for interval in (network.prior, network.leak):
        assert np.all((interval >= 0) & (interval < 1))
        assert np.all(np.diff(interval, axis=1) >= 0)
    assert np.all((network.link_mean >= 0) & (network.link_mean < 1))
    assert np.all(network.link_size > 0)
