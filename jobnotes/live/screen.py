"""What the technician sees while dictating: the words, and large, each figure as understood."""

from collections.abc import Iterator

from rich.console import Console, Group, RenderableType
from rich.panel import Panel
from rich.text import Text

from jobnotes.listing import described
from jobnotes.live.understanding import News
from jobnotes.record import AnyFact, Labour, Part, Private, Reading, Spec, Withdrawn
from jobnotes.report.figures import labour_time, reading_figure, spec_figure
from jobnotes.report.spans import clock
from jobnotes.speech.engine import NOT_CHECKED


def show(console: Console, news: News) -> None:
    """Print the words of a piece of speech, then a box for each figure that it brought."""
    console.print(Text(f"{clock(news.at_s)}  {news.words}"))
    for box in _boxes(news):
        console.print(box)


def _boxes(news: News) -> Iterator[RenderableType]:
    if news.lost:
        yield _box("Not understood", "Somebody spoke here: say it again.")
    for fact in news.facts:
        yield _fact_box(fact)
    for fact in news.gone:
        yield _box("No longer taken as said", " ".join(_lines(fact)[:2]), "dim")
    for photo in news.photos:
        yield _box("Photo", photo or "of what was named last")


def _fact_box(fact: AnyFact) -> Panel:
    title, *lines = _lines(fact)
    doubts = [flag.why for flag in fact.open_flags if flag.code != NOT_CHECKED.code]
    checked = NOT_CHECKED.code not in {flag.code for flag in fact.open_flags}
    body = Text(" ".join(lines).strip(), style="bold")
    told = [Text(f"! {why}") for why in doubts]
    below = None if checked else "not checked yet"
    style = "dim" if fact.kind == "withdrawn" else "none"
    return Panel(
        Group(body, *told), title=title, title_align="left", subtitle=below, border_style=style
    )


def _lines(fact: AnyFact) -> list[str]:
    """Return what a fact is, and what it says."""
    match fact:
        case Reading():
            told = [fact.what, fact.where, fact.when, fact.phase]
            return [", ".join(filter(None, told)), reading_figure(fact)]
        case Spec():
            return [", ".join(filter(None, ["limit", fact.what, fact.where])), spec_figure(fact)]
        case Part():
            count = f"{fact.quantity} x" if fact.quantity else ""
            return [f"part, {fact.status}", count, fact.number, fact.name]
        case Labour():
            return ["labour", labour_time(fact)]
        case Private():
            return ["private, stays in the office", fact.text]
        case Withdrawn():
            return ["taken back", fact.text]
        case _:
            return [fact.kind, described(fact)]


def _box(title: str, text: str, style: str = "none") -> Panel:
    return Panel(Text(text), title=title, title_align="left", border_style=style)
