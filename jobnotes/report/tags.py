"""The structure of a tagged PDF, which reportlab does not write: elements, marks, metadata.

PDF/UA-1 (ISO 14289-1) asks that every piece of content is either marked as belonging to an element
of the structure tree or as an artifact; terms are those of PDF 1.7 (ISO 32000-1, section 14.7).
"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, Self

from reportlab.pdfbase.pdfdoc import (
    XMP,
    PDFArray,
    PDFDictionary,
    PDFName,
    PDFObjectReference,
    PDFString,
)
from reportlab.pdfgen.canvas import Canvas

from jobnotes.errors import AlternateTextError

CELLS = ("TH", "TD")
# By SWITCH a paragraph calls for another language while it is drawn, with OWN for its own again.
SWITCH, OWN = "language", "own"
Attributes = Mapping[str, Mapping[str, Any]]


@dataclass(frozen=True)
class Content:
    """One marked stretch of a page: the page's name in the file, and its number on that page."""

    page: str
    number: int


@dataclass
class Element:
    """An element of the structure tree; what is drawn for it is added while pages are made.

    `alt` stands for a figure, `actual` for letters that are not drawn in the order of reading;
    `language` is set where it is not that of the document.
    """

    role: str
    attributes: Attributes = field(default_factory=dict)
    alt: str = ""
    actual: str = ""
    language: str = ""
    kids: list["Element | Content"] = field(default_factory=list)
    box: tuple[float, float, float, float] | None = None

    def add(self, role: str, **more: Any) -> "Element":
        """Add an element as the last inside this; raises AlternateTextError for a bare figure."""
        if role == "Figure" and not more.get("alt", "").strip():
            raise AlternateTextError("A picture of the report has no words that stand for it.")
        kid = Element(role, **more)
        self.kids.append(kid)
        return kid

    def pruned(self) -> Self:
        """Drop the elements in which nothing was drawn; a cell stays, it holds its column."""
        elements = [kid.pruned() if isinstance(kid, Element) else kid for kid in self.kids]
        self.kids = [kid for kid in elements if isinstance(kid, Content) or kid.holds()]
        return self

    def holds(self) -> bool:
        """Say whether the element has anything to show."""
        return bool(self.kids) or self.role in CELLS


class TaggedCanvas(Canvas):
    """A canvas whose content is marked; what it draws outside of a mark must be an artifact."""

    _doc: Any
    _code: list[str]
    _pagesize: tuple[float, float]
    _curr_tx_info: dict[str, Any]

    def __init__(
        self, *args: Any, root: Element, title: str, author: str, language: str, **options: Any
    ) -> None:
        """Take the root of the structure tree, and what the metadata say."""
        super().__init__(*args, **options)
        self.root, self.title, self.author, self.language = root, title, author, language
        self.marks: list[Element] = []
        self.pages: list[tuple[Any, list[Element]]] = []
        self.inside: Element | None = None
        self.setNamedCB(SWITCH, _switch)

    @property
    def page_size(self) -> tuple[float, float]:
        """Return width and height of the page in points."""
        return self._pagesize

    @contextmanager
    def marking(self, element: Element, inside: Element | None = None) -> Iterator[None]:
        """Mark what is drawn inside as content of an element; a paragraph's own is `inside`."""
        self.inside = inside
        self._code.append(self._opened(element))
        yield
        self._code.append("EMC")
        self.inside = None

    def _opened(self, element: Element) -> str:
        """Return the code that begins a mark of an element."""
        number = len(self.marks)
        self.marks.append(element)
        element.kids.append(Content(self._doc.thisPageName(), number))
        return f"/{element.role} <</MCID {number}>> BDC"

    def switch(self, language: str) -> None:
        """Go on in a language, or in the paragraph's own; called while its words are drawn."""
        if self.inside is None:
            return
        element = self.inside
        if language != OWN:
            element = element.add("Span", language=language)
        self._curr_tx_info["tx"]._code += ["EMC", self._opened(element)]

    @contextmanager
    def artifact(self, kind: str = "/Type /Layout") -> Iterator[None]:
        """Mark what is drawn inside as of no meaning to a reader."""
        self._code.append(f"/Artifact <<{kind}>> BDC")
        yield
        self._code.append("EMC")

    def showPage(self) -> None:
        """End the page, and keep what was marked on it."""
        super().showPage()
        self.pages.append((self._doc.Pages[-1], self.marks))
        self.marks = []

    def save(self) -> None:
        """Write the structure and the metadata with the file."""
        if self._code:
            self.showPage()
        _write_structure(self._doc, self.root.pruned(), self.pages)
        _write_metadata(self._doc, self.title, self.author, self.language)
        super().save()


def _switch(canvas: Canvas, _kind: str | None, language: str) -> None:
    if isinstance(canvas, TaggedCanvas):
        canvas.switch(language)


def _write_structure(
    document: Any, root: Element, pages: Sequence[tuple[Any, list[Element]]]
) -> None:
    tree = PDFDictionary({"Type": PDFName("StructTreeRoot")})
    top = document.Reference(tree, "Structure")
    written: dict[int, PDFObjectReference] = {}
    tree["K"] = _write(document, root, top, written)
    nums: list[Any] = []
    for number, (page, marks) in enumerate(pages):
        page.__NoDefault__ = (*page.__NoDefault__, "StructParents", "Tabs")
        page.StructParents, page.Tabs = number, PDFName("S")
        nums += [number, PDFArray([written[id(element)] for element in marks])]
    tree["ParentTree"] = document.Reference(PDFDictionary({"Nums": PDFArray(nums)}), "Parents")
    tree["ParentTreeNextKey"] = len(pages)
    document.Catalog.StructTreeRoot = top
    document.Catalog.MarkInfo = PDFDictionary({"Marked": "true"})


def _write(
    document: Any,
    element: Element,
    parent: PDFObjectReference,
    written: dict[int, PDFObjectReference],
) -> PDFObjectReference:
    """Write an element and all inside it; return its reference."""
    entry = PDFDictionary({"Type": PDFName("StructElem"), "S": PDFName(element.role), "P": parent})
    reference: PDFObjectReference = document.Reference(entry, f"Element{len(written)}")
    written[id(element)] = reference
    entry["K"] = PDFArray(
        [
            _mark(kid) if isinstance(kid, Content) else _write(document, kid, reference, written)
            for kid in element.kids
        ]
    )
    texts = {"Alt": element.alt, "ActualText": element.actual, "Lang": element.language}
    for key, text in texts.items():
        if text:
            entry[key] = PDFString(text)
    if attributes := _attributes(element):
        entry["A"] = PDFArray(attributes)
    return reference


def _mark(content: Content) -> PDFDictionary:
    page = PDFObjectReference(content.page)
    return PDFDictionary({"Type": PDFName("MCR"), "Pg": page, "MCID": content.number})


def _attributes(element: Element) -> list[PDFDictionary]:
    """Return the attributes by owner; a figure's box on its page is one of them."""
    named: dict[str, dict[str, Any]] = {
        owner: {key: PDFName(value) for key, value in values.items()}
        for owner, values in element.attributes.items()
    }
    if element.box:
        named["Layout"] = {"BBox": PDFArray([round(side, 2) for side in element.box])}
    return [PDFDictionary({"O": PDFName(owner), **values}) for owner, values in named.items()]


_PACKET = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<pdfuaid:part>1</pdfuaid:part>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>"""


def _write_metadata(document: Any, title: str, author: str, language: str) -> None:
    """Say in XMP (ISO 16684-1) which standard the file keeps, and what it is called."""
    named = {"title": _plain(title), "author": _plain(author), "language": language}
    packet = _PACKET.format(**named).encode()
    document.Catalog.Metadata = XMP(creator=lambda _: packet)


def _plain(text: str) -> str:
    """Escape for XML, which has no place for control characters."""
    shown = "".join(char for char in text if char.isprintable())
    return shown.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
