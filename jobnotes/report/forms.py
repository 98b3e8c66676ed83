"""The forms that a story or a job record can take, by the ending of the file's name."""

from pathlib import Path

from jobnotes.errors import OutputError
from jobnotes.report.record_content import Record
from jobnotes.report.story import PageSize, PhotoBytes, Story

PDF = ".pdf"
HTML = (".html", ".htm")


def printed(
    told: Story | Record, photo_bytes: PhotoBytes, out: Path, page: PageSize = "A4"
) -> bytes:
    """Return a story or record in the form that the ending of a file's name asks for.

    `page` matters to the PDF alone. Raises OutputError for any other ending, and
    AlternateTextError.
    """
    ending = out.suffix.lower()
    if ending == PDF:
        return _pdf(told, photo_bytes, page)
    if ending in HTML:
        return _html(told, photo_bytes).encode()
    raise OutputError(f"{out} is not written.", "Give it a name that ends in .pdf or .html.")


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
