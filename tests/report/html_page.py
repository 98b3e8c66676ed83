"""Reads an HTML page back with the parser of the standard library."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"meta", "img", "br", "hr", "link", "input"}  # HTML standard, 13.1.2, of those we could use


@dataclass
class Tag:
    """An element: its name, attributes and what is inside, texts and elements in order."""

    name: str
    attributes: dict[str, str]
    inside: list["Tag | str"] = field(default_factory=list)

    def walk(self) -> Iterator["Tag"]:
        yield self
        for kid in self.inside:
            if isinstance(kid, Tag):
                yield from kid.walk()

    def all(self, *names: str) -> list["Tag"]:
        return [tag for tag in self.walk() if tag.name in names]

    def text(self) -> str:
        """All words, none joined that stand in different elements, without style and drawings."""
        parts = [
            kid if isinstance(kid, str) else f" {kid.text()} "
            for kid in self.inside
            if isinstance(kid, str) or kid.name not in ("style", "svg", "title")
        ]
        return " ".join("".join(parts).replace("\N{NO-BREAK SPACE}", " ").split())


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open = [Tag("", {})]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        made = Tag(tag, {name: value or "" for name, value in attrs})
        self.open[-1].inside.append(made)
        if tag not in VOID:
            self.open.append(made)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open[-1].inside.append(Tag(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1].name == tag, f"</{tag}> inside <{self.open[-1].name}>"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        self.open[-1].inside.append(data)


def parsed(page: str) -> Tag:
    """Return the page; an end tag that does not fit its start fails."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    assert [tag.name for tag in reader.open] == [""]
    return reader.open[0]
