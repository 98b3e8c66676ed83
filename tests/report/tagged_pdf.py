"""Reads the structure of a tagged PDF back with pikepdf."""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

import pikepdf

PAINTING = {
    "Tj", "TJ", "'", '"', "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "Do", "EI",
}  # fmt: skip
"""Operators that put something on the page: ISO 32000-1, tables 57, 60, 77, 87, 92, 107."""


@dataclass(frozen=True)
class Node:
    """An element of the structure tree: its role, attributes, texts and children."""

    role: str
    attributes: dict[str, str]
    alt: str
    actual: str
    marks: tuple[tuple[int, int], ...]
    kids: tuple["Node", ...]

    def walk(self) -> Iterator["Node"]:
        yield self
        for kid in self.kids:
            yield from kid.walk()

    def roles(self) -> list[str]:
        return [node.role for node in self.walk()]


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(BytesIO(data))


def tree(data: bytes) -> Node:
    file = opened(data)
    pages = {page.objgen: n for n, page in enumerate(file.pages)}
    return _node(file.Root.StructTreeRoot.K, pages)


def _node(element: pikepdf.Dictionary, pages: dict[tuple[int, int], int]) -> Node:
    kids, marks = [], []
    for kid in element.get("/K", []):
        if str(kid.get("/Type")) == "/MCR":
            marks.append((pages[kid.Pg.objgen], int(kid.MCID)))
        else:
            kids.append(_node(kid, pages))
    attributes = {
        str(key): str(value)
        for owner in element.get("/A", [])
        for key, value in owner.items()
        if str(key) != "/O"
    }
    texts = [str(element.get(key, "")) for key in ("/Alt", "/ActualText")]
    return Node(str(element.S).lstrip("/"), attributes, *texts, tuple(marks), tuple(kids))


def unmarked(data: bytes) -> list[str]:
    """Return the painting operators outside of any mark or artifact, as "page: operator"."""
    found = []
    for number, page in enumerate(opened(data).pages):
        depth = 0
        for operands, operator in pikepdf.parse_content_stream(page):
            depth += {"BDC": 1, "BMC": 1, "EMC": -1}.get(str(operator), 0)
            if str(operator) in PAINTING and depth != 1:
                found.append(f"{number}: {operator} {list(operands)[:1]}")
        assert depth == 0
    return found


def empty_marks(data: bytes) -> list[tuple[int, int]]:
    """Return the marks (page, number) of an element inside of which nothing is painted."""
    found = []
    for number, page in enumerate(opened(data).pages):
        current, painted = None, False
        for operands, operator in pikepdf.parse_content_stream(page):
            if str(operator) == "BDC":
                current, painted = operands, False
            elif str(operator) in PAINTING:
                painted = True
            elif str(operator) == "EMC" and "/MCID" in current[1] and not painted:
                found.append((number, int(current[1].MCID)))
    return found


def marks_of_pages(data: bytes) -> set[tuple[int, int]]:
    """Return every mark (page, number) in the pages' content."""
    return {
        (number, int(operands[1].MCID))
        for number, page in enumerate(opened(data).pages)
        for operands, operator in pikepdf.parse_content_stream(page)
        if str(operator) == "BDC" and "/MCID" in operands[1]
    }
