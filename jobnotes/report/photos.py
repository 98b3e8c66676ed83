"""Photos on the page: whole, captioned, two beside each other, never clipped."""

from collections.abc import Callable, Sequence
from io import BytesIO

from reportlab.lib.utils import ImageReader
from reportlab.platypus import Image, Table

from jobnotes.record import Photo
from jobnotes.report import styles
from jobnotes.report.heads import PLAIN, text
from jobnotes.report.story import Picture

PhotoBytes = Callable[[Photo], bytes]

GAP = 12.0
# Greatest height of a photo in points: alone in the column, and beside another.
ALONE, BESIDE = 178.0, 178.0


def photo_rows(pictures: Sequence[Picture], width: float, photo_bytes: PhotoBytes) -> list[Table]:
    """Return tables of one or two photos, each fitted whole into its share of the width."""
    rows = _rows(pictures)
    return [_row(row, width, photo_bytes) for row in rows]


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


def _row(row: Sequence[Picture], width: float, photo_bytes: PhotoBytes) -> Table:
    share = (width - GAP) / 2 if len(row) > 1 else width
    height = BESIDE if len(row) > 1 else ALONE
    images = [_fitted(photo_bytes(picture.photo), share, height) for picture in row]
    captions = [text(picture.caption.text, styles.CAPTION) for picture in row]
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


def _fitted(data: bytes, width: float, height: float) -> Image:
    wide, tall = ImageReader(BytesIO(data)).getSize()
    scale = min(width / wide, height / tall)
    return Image(BytesIO(data), max(1, wide * scale), max(1, tall * scale), hAlign="LEFT")
