"""The job record as one HTML file: no script, nothing fetched, fit for a screen and for paper."""

from functools import partial

from jobnotes.report import plot
from jobnotes.report.english import rules
from jobnotes.report.html import page, photo_shown
from jobnotes.report.record_form import Record, marks
from jobnotes.report.story import PhotoBytes


def record_html(record: Record, photo_bytes: PhotoBytes) -> str:
    """Return the record as HTML; `photo_bytes` as for the PDF, set into the file itself."""
    made: str = page("record.html").render(
        record=record,
        words=rules("record")["words"],
        photo=partial(photo_shown, photo_bytes=photo_bytes),
        marks=marks,
        plot=plot,
    )
    return made
