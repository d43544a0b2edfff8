"""The review as a page: one file, readable by everyone, nothing from outside, names are text."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baskwell.evidence import Evidence, load_evidence
from baskwell.paper.review_html import review_as_html, reviews_index
from baskwell.science.review import Review

LARGEST = 400_000
VOID = {"meta", "link", "br", "img", "input", "hr"}


@dataclass
class Element:
    """One element of the page with what stands in it."""

    tag: str
    attributes: dict[str, str | None]
    children: list["Element"] = field(default_factory=list)
    text: str = ""

    def find(self, tag: str) -> Iterator["Element"]:
        """Every element of this tag, at any depth."""
        for child in self.children:
            if child.tag == tag:
                yield child
            yield from child.find(tag)

    def said(self) -> str:
        """All the text in it."""
        return self.text + "".join(child.said() for child in self.children)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.open = [Element("root", {})]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, dict(attrs))
        self.open[-1].children.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open[-1].children.append(Element(tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            assert self.open[-1].tag == tag, f"</{tag}> closes <{self.open[-1].tag}>"
            self.open.pop()

    def handle_data(self, data: str) -> None:
        self.open[-1].text += data


def read(page: str) -> Element:
    """Parse a page; an element closed out of order fails."""
    reader = _Reader()
    reader.feed(page)
    assert len(reader.open) == 1
    return reader.open[0]


def test_the_page_is_well_formed_and_says_its_language(sample_review: Review) -> None:
    """Elements close in order; a screen reader knows which voice to take."""
    root = read(review_as_html(sample_review))
    assert [html.attributes.get("lang") for html in root.find("html")] == ["en"]
    assert next(root.find("title")).said().startswith("Teasel")


def test_headings_and_landmarks_are_in_order(sample_review: Review) -> None:
    """One h1, no level left out, one main, header, footer, nav."""
    page = review_as_html(sample_review)
    root = read(page)
    assert len(list(root.find("h1"))) == 1
    for landmark in ("main", "header", "footer", "nav"):
        assert len(list(root.find(landmark))) == 1
    levels = [int(level) for level in re.findall(r"<h([1-6])", page)]
    assert all(later - earlier <= 1 for earlier, later in pairwise(levels))


def test_every_picture_has_words(sample_review: Review) -> None:
    """A drawing either says what it shows or stands beside words and is hidden."""
    root = read(review_as_html(sample_review))
    pictures = list(root.find("svg"))
    assert len(pictures) > 10
    for picture in pictures:
        named = picture.attributes.get("role") == "img" and picture.attributes.get("aria-label")
        assert named or picture.attributes.get("aria-hidden") == "true"
    assert not list(root.find("img"))


def test_the_dot_row_draws_the_interval(sample_review: Review) -> None:
    """13 full, 3 hatched, 4 empty, and the same in words."""
    root = read(review_as_html(sample_review))
    row = next(svg for svg in root.find("svg") if svg.attributes.get("class") == "dots")
    used = [use.attributes["href"] for use in row.find("use")]
    assert [used.count(f"#dot-{kind}") for kind in ("full", "hatched", "empty")] == [13, 3, 4]
    assert row.attributes["aria-label"] == "about 13 to 16 in 20"


def test_ids_are_unique_and_links_on_the_page_lead_somewhere(sample_review: Review) -> None:
    """Every skip and contents link has a target."""
    page = review_as_html(sample_review)
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', page)) <= set(ids)
    assert set(re.findall(r'aria-labelledby="([^"]+)"', page)) <= set(ids)


def test_nothing_is_fetched_from_outside(sample_review: Review) -> None:
    """The page works with the network gone and tells nobody that it was read."""
    page = review_as_html(sample_review)
    assert "<script" not in page
    assert not re.search(r"""(?:src|href)\s*=\s*["'](?!#|data:)""", page)
    assert all(
        target.startswith("data:font/woff2") or target.startswith("#")
        for target in re.findall(r"url\(([^)]*)\)", page)
    )
    assert "default-src 'none'" in page
    assert "@import" not in page


def test_the_page_is_small_enough_to_mail(sample_review: Review) -> None:
    """Fonts and all under 400 kB."""
    assert len(review_as_html(sample_review).encode()) < LARGEST


def test_who_says_so_can_be_opened_for_every_range_flag_and_reason(sample_review: Review) -> None:
    """Each number nobody here measured opens its source."""
    root = read(review_as_html(sample_review))
    openings = [details.said() for details in root.find("details") if not list(details.find("details"))]
    with_source = [text for text in openings if "invented handbook, table 4" in text]
    expected = len(sample_review.flags) + len(sample_review.findings) + len(sample_review.ranking.causes)
    assert len(with_source) == expected


def test_a_bare_case_leaves_no_empty_boxes(bare_review: Review) -> None:
    """Parts without content are not there, nor linked to."""
    page = review_as_html(bare_review)
    read(page)
    assert "What is in the feed" not in page
    assert "Ask next" not in page
    assert "No cause stands out" in page


@pytest.mark.parametrize(
    "hostile", ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "{{ 7*7 }}", "</style><b>"]
)
def test_names_are_text_everywhere(sample_review: Review, hostile: str) -> None:
    """Whatever an owner types is shown, not run, wherever it stands."""
    cause = replace(sample_review.ranking.causes[0], name=hostile, settled_by=(hostile,))
    label = replace(sample_review.labels[0], label_id=hostile, conflicts=(hostile,))
    finding = replace(sample_review.findings[0], name=hostile, unit=hostile, sentence=hostile)
    sign = replace(sample_review.signs[0], name=hostile, detail=hostile, urgency=hostile)
    review = replace(
        sample_review,
        who=hostile, headline=hostile, gaps=(hostile,), labels=(label,), findings=(finding,), signs=(sign,),
        ranking=replace(sample_review.ranking, causes=(cause,), notes=(hostile,)),
    )  # fmt: skip
    root = read(review_as_html(review))
    assert not list(root.find("script"))
    assert not list(root.find("img"))
    assert not list(root.find("b"))
    assert hostile in next(root.find("h1")).said()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25, deadline=None)
@given(text=st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=60))
def test_any_text_gives_a_well_formed_page(sample_review: Review, text: str) -> None:
    """No text breaks the page, and it comes back as it was typed."""
    root = read(review_as_html(replace(sample_review, headline=text)))
    assert next(root.find("h1")).said() == text


def test_the_index_puts_what_is_urgent_first_and_counts(sample_review: Review, bare_review: Review) -> None:
    """What matters now is the sentence on top."""
    page = reviews_index("Harrow Mill", [("calm.html", bare_review), ("teasel.html", sample_review)])
    root = read(page)
    assert next(root.find("h1")).said() == "1 animal of 2 should see a vet now."
    assert [a.attributes["href"] for a in root.find("a")] == ["teasel.html", "calm.html"]


def test_names_are_text_on_the_index_too(sample_review: Review) -> None:
    """The same escaping everywhere."""
    page = reviews_index("<b>", [("a.html", replace(sample_review, who="<script>x</script>, a turtle"))])
    root = read(page)
    assert not list(root.find("script"))
    assert not list(root.find("b"))


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    """The shipped tables."""
    return load_evidence()


def test_with_evidence_sources_are_cited_once_and_linked(sample_review: Review, evidence: Evidence) -> None:
    """A source id becomes a citation, every mention leads to its place in the list at the end."""
    reason = replace(sample_review.ranking.causes[0].reasons_for[0], said_by="MERCK_MET; judgement (a step)")
    cause = replace(sample_review.ranking.causes[0], reasons_for=(reason, reason))
    review = replace(sample_review, ranking=replace(sample_review.ranking, causes=(cause,)))
    page = review_as_html(review, evidence)
    root = read(page)
    listed = [item.attributes.get("id") for item in root.find("li") if item.attributes.get("id")]
    assert listed == ["src-JUDGEMENT", "src-MERCK_MET"]
    assert page.count('href="#src-MERCK_MET"') == 2
    assert evidence.sources["MERCK_MET"].citation in root.said()


def test_links_out_are_only_followed_by_a_person(sample_review: Review, evidence: Evidence) -> None:
    """A citation may link to its place in the world: https, no referrer, never loaded by itself."""
    reason = replace(sample_review.ranking.causes[0].reasons_for[0], said_by="MERCK_MET")
    cause = replace(sample_review.ranking.causes[0], reasons_for=(reason,))
    review = replace(sample_review, ranking=replace(sample_review.ranking, causes=(cause,)))
    links = [a.attributes for a in read(review_as_html(review, evidence)).find("a")]
    outside = [link for link in links if not (link.get("href") or "").startswith("#")]
    assert outside
    assert all((link.get("href") or "").startswith("https://") for link in outside)
    assert all(link.get("rel") == "noreferrer" for link in outside)
