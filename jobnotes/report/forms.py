"""The forms that a story can take, by the ending of the file's name."""

from pathlib import Path

from jobnotes.errors import OutputError
from jobnotes.report.story import PageSize, PhotoBytes, Story

PDF = ".pdf"
HTML = (".html", ".htm")


def printed(story: Story, photo_bytes: PhotoBytes, out: Path, page: PageSize = "A4") -> bytes:
    """Return the story in the form that the ending of a file's name asks for.

    `page` matters to the PDF alone. Raises OutputError for any other ending, and
    AlternateTextError.
    """
    ending = out.suffix.lower()
    if ending == PDF:
        from jobnotes.report.pdf import pdf

        return pdf(story, photo_bytes, page)
    if ending in HTML:
        from jobnotes.report.html import html

        return html(story, photo_bytes).encode()
    raise OutputError(
        f"No report is written to {out}.", "Give it a name that ends in .pdf or .html."
    )
