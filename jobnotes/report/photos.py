"""Photos on the page: whole, captioned, two beside each other, never clipped."""

from collections.abc import Sequence
from math import ceil

from reportlab.platypus import Table

from jobnotes.photos.marks import part
from jobnotes.record import Photo
from jobnotes.report import styles
from jobnotes.report.heads import PLAIN
from jobnotes.report.ink import Photograph
from jobnotes.report.story import PhotoBytes, Picture
from jobnotes.report.tagged import words
from jobnotes.report.tags import Element

GAP = 12.0
# Greatest height of a photo in points: alone in the column, and beside another.
ALONE, BESIDE = 178.0, 178.0
DOTS_AN_INCH = 300  # of a printed photo; common practice, no source


def photo_rows(
    pictures: Sequence[Picture], width: float, photo_bytes: PhotoBytes, tag: Element
) -> list[Table]:
    """Return tables of one or two photos, each fitted whole into its share of the width."""
    return [_row(row, width, photo_bytes, tag) for row in _rows(pictures)]


def _rows(pictures: Sequence[Picture]) -> list[tuple[Picture, ...]]:
    """Take two pictures a row; a "before" and its "after" are never parted."""
    rows, rest = [], list(pictures)
    while rest:
        pair = len(rest) > 1 and not _parts_pair(rest)
        count = 2 if pair else 1
        rows.append(tuple(rest[:count]))
        del rest[:count]
    return rows


def _parts_pair(rest: Sequence[Picture]) -> bool:
    """Say whether taking two would part a before from its after behind it."""
    return rest[0].phase != "before" and rest[1].phase == "before" and len(rest) > 2


def _row(row: Sequence[Picture], width: float, photo_bytes: PhotoBytes, tag: Element) -> Table:
    share = (width - GAP) / 2 if len(row) > 1 else width
    height = BESIDE if len(row) > 1 else ALONE
    images, captions = [], []
    for picture in row:
        figure = tag.add("Figure", alt=picture.alt)
        images.append(_fitted(picture.photo, share, height, photo_bytes, figure))
        captions.append(words(picture.caption.text, styles.CAPTION, tag.add("P")))
    widths = [share] if len(row) == 1 else [share + GAP, share]
    table = Table([images, captions], colWidths=widths, hAlign="LEFT")
    table.setStyle(
        [
            *PLAIN,
            ("NOSPLIT", (0, 0), (-1, -1)),
            ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
            ("TOPPADDING", (0, 1), (-1, 1), 4),
            ("RIGHTPADDING", (0, 0), (0, -1), GAP if len(row) > 1 else 0),
            ("BOTTOMPADDING", (0, 1), (-1, 1), 10),
        ]
    )
    return table


def _fitted(
    photo: Photo, width: float, height: float, photo_bytes: PhotoBytes, tag: Element
) -> Photograph:
    """Return a photo with as many pixels as its size in print asks for."""
    kept = part(photo.marks)
    wide, tall = max(1.0, photo.width * kept.wide), max(1.0, photo.height * kept.tall)
    inches = min(width / wide, height / tall) * max(wide, tall) / 72
    data = photo_bytes(photo, ceil(inches * DOTS_AN_INCH))
    return Photograph(data, photo.marks, tag).fit(width, height)
