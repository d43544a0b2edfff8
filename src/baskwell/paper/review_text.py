"""A review as text for a terminal: what matters now first, then found, lived in, why, what to ask."""

from baskwell.evidence import Evidence
from baskwell.paper import telling
from baskwell.paper.plain import Page, Style
from baskwell.paper.sources import Sources
from baskwell.paper.text_causes import faults, questions, second_pass, together, why
from baskwell.paper.text_findings import label_in_full, label_in_short, lived_in
from baskwell.paper.words import capital, join_words
from baskwell.science.history.label import LabelReading
from baskwell.science.review import Review
from baskwell.science.telling import SignLine

ABSENT_TOLD = 8


def review_as_text(
    review: Review, style: Style | None = None, evidence: Evidence | None = None, *, full: bool = False
) -> str:
    """Render a review as text, no line longer than ``style.width`` (80 cells by default).

    ``full`` tells every finding, reason and nutrient; else what fits is named only and the lesser causes
    get fewer reasons. ``evidence`` gives signs their plain names, and sources their citations.
    """
    page, sources = Page(style or Style()), Sources(evidence)
    _top(page, review, sources, full)
    _found(page, review, sources, full)
    lived_in(page, review, sources, full)
    for label in review.labels:
        (label_in_full if full else label_in_short)(page, label)
    why(page, review.ranking, sources, full)
    together(page, review.ranking)
    faults(page, review.ranking, sources, full)
    questions(page, review.ranking)
    if review.ranking_with_tests is not None:
        second_pass(page, review.ranking, review.ranking_with_tests)
    _gaps(page, review)
    _bottom(page, review)
    return page.text()


def label_as_text(label: LabelReading, style: Style | None = None) -> str:
    """Render one label reading as text, in full."""
    page = Page(style or Style())
    label_in_full(page, label)
    return page.text()


def _top(page: Page, review: Review, sources: Sources, full: bool) -> None:
    page.say(review.who, paint="soft")
    page.gap()
    page.say(review.headline, paint="bold")
    page.gap()
    for flag in review.flags:
        if flag.level == "vet now":
            page.say(f"VET NOW: {flag.sentence}", hang=9, paint="out")
        else:
            page.item("-", flag.sentence, indent=0)
        if full:
            page.said(sources, flag.said_by, indent=2)


def _found(page: Page, review: Review, sources: Sources, full: bool) -> None:
    page.heading("What was found")
    if not review.signs:
        page.say("No sign was written down.", indent=2)
    for sign in review.signs:
        _sign(page, sign, full)
    derived = telling.counted_as_well(review)
    if derived:
        names = join_words(tuple(sources.sign(sign) for sign in derived))
        page.say(f"Counted as well, as it follows from the rest: {names}.", indent=2, hang=2)
    page.say(_absent(review, sources, full), indent=2, hang=2, paint="soft")


def _sign(page: Page, sign: SignLine, full: bool) -> None:
    detail = telling.sign_detail(sign)
    urgency = f" [{sign.urgency}]" if full and sign.urgency else ""
    told = capital(telling.sign_words(sign)) + urgency
    page.say(f"{told}: {detail}" if detail else told, indent=2, hang=2)


def _absent(review: Review, sources: Sources, full: bool) -> str:
    names = tuple(sources.sign(sign) for sign in review.ranking.signs_absent)
    left = len(names) - ABSENT_TOLD
    if not full and left > 1:
        names = (*names[:ABSENT_TOLD], f"{left} more")
    return telling.absent_words(names, review.ranking.signs_not_examined)


def _gaps(page: Page, review: Review) -> None:
    if review.gaps:
        page.heading("What could not be used")
        for gap in review.gaps:
            page.item("-", gap)
    aside = join_words(tuple(sign.replace("_", " ") for sign in review.ranking.signs_set_aside))
    if aside:
        page.item("-", f"Not used to rank: {aside}.")


def _bottom(page: Page, review: Review) -> None:
    page.heading("Bounds")
    page.say(review.caution)
    page.gap()
    page.say(telling.versions_words(review), paint="soft")
