"""The story as a PDF: the same bytes for the same story, ready to print on A4 or US Letter."""

from collections.abc import Iterator
from functools import partial

from reportlab.platypus import Flowable

from jobnotes.report import styles
from jobnotes.report.flow import Column, section_flow
from jobnotes.report.heads import letterhead, title_block
from jobnotes.report.paper import Paper, bound, edge_line, once
from jobnotes.report.story import PageSize, PhotoBytes, Story
from jobnotes.report.tags import Element, TaggedCanvas

SIDE = styles.MARGIN_SIDE


def pdf(story: Story, photo_bytes: PhotoBytes, page: PageSize = "A4") -> bytes:
    """Return the story as a PDF file that keeps PDF/UA-1 (ISO 14289-1).

    `photo_bytes` gives a photo's JPEG or PNG bytes, upright and without metadata, its long side at
    most so many pixels; they go into the file as they are. Raises AlternateTextError.
    """
    paper = Paper(
        title=story.name(),
        author=story.shop.name or "jobnotes",
        job=story.job,
        page=page,
        left=SIDE + styles.INDENT,
        right=SIDE,
        language=story.language,
        flow=partial(_flow, story, once(photo_bytes)),
        head=partial(_head, story),
        foot=partial(_foot, story),
    )
    return bound(paper)


def _flow(story: Story, photo_bytes: PhotoBytes, root: Element, width: float) -> Iterator[Flowable]:
    """Yield letterhead, title and sections, right of the labels."""
    yield from letterhead(story, width, root)
    yield from title_block(story, root)
    for section in story.sections:
        column = Column(width, photo_bytes, story.language)
        yield from section_flow(section, column, root.add("Sect"))


def _head(story: Story, canvas: TaggedCanvas, number: int) -> None:
    _, tall = canvas.page_size
    if story.draft:
        edge_line(canvas, story.say("draft-line"), styles.DRAFT, tall - 40, SIDE)
    if number > 1:
        edge_line(canvas, story.shop.name, styles.EDGE_RIGHT, tall - 40, SIDE)


def _foot(story: Story, canvas: TaggedCanvas, number: str) -> None:
    edge_line(canvas, story.edge(), styles.EDGE, 34, SIDE, share=0.8)
    edge_line(canvas, number, styles.EDGE_RIGHT, 34, SIDE)
