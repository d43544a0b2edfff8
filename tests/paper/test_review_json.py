"""The review as JSON: stable keys, no NaN, no draws, documented."""

import json
import math
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from baskwell.paper.review_json import FORMAT, plain, review_as_json
from baskwell.science.draws import Summary
from baskwell.science.review import Review

DOCUMENTED = Path(__file__).parents[2] / "docs" / "review-json.md"


def _keys(value: Any) -> set[str]:
    if isinstance(value, dict):
        return set(value) | {key for item in value.values() for key in _keys(item)}
    if isinstance(value, list):
        return {key for item in value for key in _keys(item)}
    return set()


def test_every_field_of_the_review_is_a_key(sample_review: Review) -> None:
    """Nothing that the review says is lost on the way."""
    told = json.loads(review_as_json(sample_review))
    assert set(told) == {"format", *(field.name for field in fields(Review))}
    assert told["format"] == FORMAT


def test_every_key_is_documented(sample_review: Review) -> None:
    """A key without a line in docs/review-json.md is not promised to anyone."""
    documented = DOCUMENTED.read_text(encoding="utf-8")
    missing = {
        key for key in _keys(json.loads(review_as_json(sample_review))) if f"`{key}`" not in documented
    }
    assert not missing


def test_draws_are_left_out(sample_review: Review) -> None:
    """Thousands of numbers a finding have no place in an export."""
    finding = replace(sample_review.findings[0], draws=np.zeros(4000))
    told = json.loads(review_as_json(replace(sample_review, findings=(finding,))))
    assert "draws" not in _keys(told)


def test_nan_and_infinity_become_null(sample_review: Review) -> None:
    """JSON has no NaN; a reader would stop at it."""
    odd = replace(sample_review.findings[0], got=Summary(math.nan, -math.inf, math.inf))
    told = json.loads(review_as_json(replace(sample_review, findings=(odd,))))
    assert told["findings"][0]["got"] == {"median": None, "low": None, "high": None}


def test_floats_keep_six_digits() -> None:
    """Enough for any figure here, and the same text on every machine."""
    assert plain(1 / 3) == 0.333333
    assert plain(np.float64(123456.789)) == 123457.0
    assert plain(np.int64(4)) == 4
    assert plain({"a": (np.bool_(True), None)}) == {"a": [True, None]}


def test_what_has_no_json_form_is_refused() -> None:
    """A new type in a result must be decided on, not guessed at."""
    with pytest.raises(TypeError, match="has no place"):
        plain(object())


def test_the_same_review_gives_the_same_text(sample_review: Review) -> None:
    """Byte for byte, so that two runs can be compared."""
    assert review_as_json(sample_review) == review_as_json(sample_review)


def test_hostile_names_survive_the_round_trip(sample_review: Review) -> None:
    """Quotes, newlines and angle brackets come back as they went in."""
    name = 'T"</script>\n\u202e\u0000é'
    assert json.loads(review_as_json(replace(sample_review, who=name)))["who"] == name
