"""The job record as one HTML file: no script, nothing fetched, fit for a screen and for paper."""

import re
from base64 import b64encode
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined, Template

from jobnotes.report import plot
from jobnotes.report.english import rules
from jobnotes.report.photos import PhotoBytes
from jobnotes.report.record_content import Record, marks

PNG = b"\x89PNG"


def record_html(record: Record, photo_bytes: PhotoBytes) -> str:
    """Return the record as HTML; `photo_bytes` as for the PDF, set into the file itself."""
    pictures = {
        picture.photo.id: _address(photo_bytes(picture.photo))
        for chapter in record.chapters
        for picture in chapter.pictures
    }
    return _template().render(
        record=record,
        words=rules("record")["words"],
        pictures=pictures,
        marks=marks,
        plot=plot,
    )


@cache
def _template() -> Template:
    environment = Environment(
        loader=PackageLoader("jobnotes.report"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["visible"] = visible
    return environment.get_template("record.html")


def visible(text: str) -> str:
    """Return text without characters that HTML does not allow (HTML Standard, 13.2.3.5)."""
    return re.sub(r"[^\t\n\x20-\x7e\u00a0-\ufdcf\ufdf0-\ufffd\U00010000-\U0010fffd]", "", text)


def _address(picture: bytes) -> str:
    kind = "png" if picture.startswith(PNG) else "jpeg"
    return f"data:image/{kind};base64,{b64encode(picture).decode()}"
