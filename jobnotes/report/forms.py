"""The forms that a story or a job record can take, by the ending of the file's name."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TypeVar

from jobnotes.errors import OutputError
from jobnotes.report.english import joined
from jobnotes.report.record_form import Record
from jobnotes.report.story import PageSize, PhotoBytes, Story

Form = TypeVar("Form")


def by_ending(out: Path, forms: Mapping[str, Form]) -> Form:
    """Return the form that stands for the ending of a file's name, such as ".pdf".

    Raises OutputError, which names the endings that there are, for any other.
    """
    found = forms.get(out.suffix.lower())
    if found is None:
        endings = joined(list(forms), "or")
        raise OutputError(f"{out} is not written.", f"Give it a name that ends in {endings}.")
    return found


def printed(
    told: Story | Record, photo_bytes: PhotoBytes, out: Path, page: PageSize = "A4"
) -> bytes:
    """Return a story or record in the form that the ending of a file's name asks for.

    `page` matters to the PDF alone. Raises OutputError for any other ending, and
    AlternateTextError.
    """
    forms: dict[str, Callable[[], bytes]] = {
        ".pdf": lambda: _pdf(told, photo_bytes, page),
        ".html": lambda: _html(told, photo_bytes).encode(),
        ".htm": lambda: _html(told, photo_bytes).encode(),
    }
    return by_ending(out, forms)()


def _pdf(told: Story | Record, photo_bytes: PhotoBytes, page: PageSize) -> bytes:
    if isinstance(told, Record):
        from jobnotes.report.record_pdf import record_pdf

        return record_pdf(told, photo_bytes, page)
    from jobnotes.report.pdf import pdf

    return pdf(told, photo_bytes, page)


def _html(told: Story | Record, photo_bytes: PhotoBytes) -> str:
    if isinstance(told, Record):
        from jobnotes.report.record_html import record_html

        return record_html(told, photo_bytes)
    from jobnotes.report.html import html

    return html(told, photo_bytes)
