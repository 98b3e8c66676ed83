"""Flowables that know their element of the structure tree, and keep it when a page parts them."""

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph, Table

from jobnotes.report.languages.quoting import plain, stretches
from jobnotes.report.lettering import drawn_as_read, fitting, markup
from jobnotes.report.tags import OWN, SWITCH, Element, TaggedCanvas

SAID_IN = "en"  # the language of words that have no translation


class Words(Paragraph):
    """A paragraph that belongs to an element; a head that is repeated on the next page does not."""

    tag: Element
    starts: Element
    canv: TaggedCanvas
    drawn = False

    def split(self, width: float, height: float) -> list[Flowable]:
        """Split as a paragraph does; the parts are content of one element."""
        parts = super().split(width, height)
        for part in (part for part in parts if isinstance(part, Words)):
            part.tag = part.starts = self.tag
        if parts and isinstance(parts[0], Words):
            parts[0].starts = self.starts
        return parts

    def draw(self) -> None:
        """Draw the words as content of the element, once."""
        canvas = self.canv
        if self.drawn:
            with canvas.artifact("/Type /Pagination"):
                super().draw()
        else:
            with canvas.marking(self.starts, inside=self.tag):
                super().draw()
        self.drawn = True


class Step(Words):
    """A paragraph with its number beside its first line; the number is an element of its own."""

    number = ""
    label: Element | None = None

    def split(self, width: float, height: float) -> list[Flowable]:
        """Split as words do; the number stays with the first part."""
        parts = super().split(width, height)
        if parts and isinstance(parts[0], Step):
            parts[0].number, parts[0].label = self.number, self.label
        return parts

    def draw(self) -> None:
        """Draw the number, then the words."""
        if self.label:
            with self.canv.marking(self.label):
                self._draw_number()
        super().draw()

    def _draw_number(self) -> None:
        style = self.style
        self.canv.setFillColor(style.textColor)
        self.canv.setFont(style.bulletFontName, style.bulletFontSize)
        self.canv.drawString(0, self.height - style.fontSize, self.number)


class Ruled(Table):
    """A table whose rules are artifacts."""

    canv: TaggedCanvas

    def _drawLines(self) -> None:
        with self.canv.artifact():
            super()._drawLines()  # type: ignore[misc]


class Drawn(Flowable):
    """Base of what is drawn as one figure: `figure` draws it, its box is told to the element."""

    canv: TaggedCanvas

    def __init__(self, tag: Element) -> None:
        """Take the figure's element."""
        super().__init__()
        self.tag = tag

    def draw(self) -> None:
        """Draw as content of the element."""
        left, bottom = self.canv.absolutePosition(0, 0)
        self.tag.box = (left, bottom, left + self.width, bottom + self.height)
        with self.canv.marking(self.tag):
            self.figure(self.canv)

    def figure(self, canvas: TaggedCanvas) -> None:
        """Draw from (0, 0) to (width, height)."""
        raise NotImplementedError


def words(text: str, style: ParagraphStyle, tag: Element) -> Words:
    """Return a paragraph of plain words in a style, as content of an element."""
    made = Words(_marked(text, style.fontName), fitting(style, text))
    _tag(made, text, tag)
    return made


def step(number: int, text: str, style: ParagraphStyle, label: Element, body: Element) -> Step:
    """Return a numbered paragraph as the label and the body of a list item."""
    made = Step(_marked(text, style.fontName), fitting(style, text))
    made.number, made.label = f"{number}.", label
    _tag(made, text, body.add("P"))
    return made


def _marked(text: str, face: str) -> str:
    """Return a text as markup that tells the canvas where another language begins and ends."""
    parts: list[str] = []
    for stretch, foreign in stretches(text):
        if parts:
            parts.append(f'<onDraw name="{SWITCH}" label="{SAID_IN if foreign else OWN}"/>')
        parts.append(markup(stretch, face))
    return "".join(parts)


def _tag(made: Words, text: str, tag: Element) -> None:
    """Put words into their element; letters drawn otherwise than read are given to it as read."""
    made.tag = made.starts = tag
    read = plain(text)
    if not drawn_as_read(read):
        tag.actual = read
    if next(stretches(text), ("", False))[1]:
        made.starts = tag.add("Span", language=SAID_IN)
