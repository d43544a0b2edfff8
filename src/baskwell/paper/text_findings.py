"""The part of the text that tells what an animal lived in and what was in its feed."""

from collections.abc import Callable, Sequence

from baskwell.paper import telling
from baskwell.paper.marks import bar_of
from baskwell.paper.plain import Page
from baskwell.paper.sources import Sources
from baskwell.paper.words import capital, say_got, sentence
from baskwell.science.history.finding import Finding, Verdict
from baskwell.science.history.label import LabelReading
from baskwell.science.review import Review

BAR_CELLS = 40
NOTHING_TOLD = "What it ate and where it lived: nothing was told, so nothing is known."
_PAINT = {"does not fit": "out", "doubtful": "bold", "fits": "act", "not known": "bold"}


def lived_in(page: Page, review: Review, sources: Sources, full: bool) -> None:
    """Every finding under its verdict, the worst first; in short, what fits is only named."""
    page.heading("What it lived in")
    if not review.findings:
        page.say(NOTHING_TOLD, indent=2)
    for verdict, findings in telling.findings_by_verdict(review):
        page.gap()
        page.say(f"{capital(verdict)} ({len(findings)})", paint=_PAINT[verdict])
        if full:
            for finding in findings:
                _at_length(page, finding)
                page.said(sources, finding.wanted.said_by if finding.wanted else "", indent=4)
        else:
            _IN_SHORT[verdict](page, findings)


def _misfits(page: Page, findings: Sequence[Finding]) -> None:
    for finding in findings:
        _at_length(page, finding)


def _doubts(page: Page, findings: Sequence[Finding]) -> None:
    for finding in findings:
        if telling.is_measured(finding):
            _name(page, finding)
            _figures(page, finding)
        else:
            page.say(finding.sentence, indent=2, hang=2)


def _fits(page: Page, findings: Sequence[Finding]) -> None:
    page.say(sentence(telling.fold_words("fits", tuple(findings))), indent=2)


def _not_known(page: Page, findings: Sequence[Finding]) -> None:
    open_ones, reckoned = telling.split_for_page("not known", list(findings))
    for finding in open_ones:
        page.item("?", f"{capital(finding.name)}. {finding.ask or finding.sentence}")
    if reckoned:
        page.say(sentence(telling.fold_words("not known", reckoned)), indent=2, hang=2)


_IN_SHORT: dict[Verdict, Callable[[Page, Sequence[Finding]], None]] = {
    "does not fit": _misfits,
    "doubtful": _doubts,
    "fits": _fits,
    "not known": _not_known,
}


def _at_length(page: Page, finding: Finding) -> None:
    if not telling.is_measured(finding):
        page.say(finding.sentence, indent=2, hang=2)
    else:
        _name(page, finding)
        _figures(page, finding)
        _bar(page, finding)
        page.say(finding.sentence, indent=4, paint="soft")
    if finding.verdict == "not known" and finding.ask:
        page.item("?", finding.ask, indent=4)


def _name(page: Page, finding: Finding) -> None:
    chance = telling.chance_words(finding)
    page.say(f"{capital(finding.name)}: {chance}" if chance else capital(finding.name), indent=2, hang=2)


def _figures(page: Page, finding: Finding) -> None:
    unit = telling.unit_words(finding.unit)
    if finding.got is None:
        page.say(f"wanted {telling.wanted_range(finding)}{unit}", indent=4, hang=2)
    else:
        page.say(
            f"wanted {telling.wanted_range(finding)}, got {say_got(finding.got)}{unit}", indent=4, hang=2
        )


def _bar(page: Page, finding: Finding) -> None:
    bar, marks = bar_of(finding), page.style.marks
    if bar is not None:
        cells = min(BAR_CELLS, page.style.width - 8)
        page.lines.append("    " + bar.drawn(cells, marks.line, marks.wanted, marks.got, marks.median))


def label_in_short(page: Page, label: LabelReading) -> None:
    """The likely recipe in one paragraph, and what does not add up."""
    _label_heading(page, label)
    parts = (f"{part.printed} {telling.share_words(part)}" for part in label.ingredients)
    page.say(f"Likely shares as fed (90 %): {'; '.join(parts)}.", indent=2, hang=2)
    _listed(page, "!", label.conflicts)


def label_in_full(page: Page, label: LabelReading) -> None:
    """Shares, nutrients, conflicts, what cannot be known."""
    _label_heading(page, label)
    page.say("Shares as fed, most likely (90 % interval):", indent=2, paint="soft")
    for part in label.ingredients:
        note = f"; {part.note}" if part.note else ""
        page.item("-", f"{part.printed}: {telling.share_words(part)}{note}")
    page.say("What an animal gets from it:", indent=2, paint="soft")
    for nutrient in label.nutrients:
        got = (
            "not knowable"
            if nutrient.got is None
            else say_got(nutrient.got) + telling.unit_words(nutrient.unit)
        )
        note = f"; {nutrient.note}" if nutrient.note else ""
        page.item("-", f"{nutrient.name}: {got}{note}")
    _listed(page, "!", label.conflicts)
    _listed(page, "*", label.notes)
    _listed(page, "?", tuple(f"not knowable from the label: {what}" for what in label.not_knowable))


def _label_heading(page: Page, label: LabelReading) -> None:
    page.heading(f"What is in the feed: {label.label_id.replace('_', ' ')}")


def _listed(page: Page, mark: str, texts: Sequence[str]) -> None:
    for text in texts:
        page.item(mark, text)
