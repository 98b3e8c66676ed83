"""Checking that everything the store should hold is there and unaltered."""

from jobnotes.errors import StoreError
from jobnotes.store.media import Media
from jobnotes.store.store import Store


def verify(store: Store, media: Media) -> tuple[str, ...]:
    """Return, a sentence each, what is wrong with the database or the originals; none is best.

    Every original in the folder is read whole, so this takes as long as reading the disk.
    """
    try:
        problems = [*store.damage(), *_missing(store, media)]
    except StoreError as error:
        problems = [error.what]
    return (*problems, *media.verify())


def _missing(store: Store, media: Media) -> list[str]:
    kept = store.originals()
    return [
        f"The original of {name} is missing ({sha256})."
        for sha256, name in kept.items()
        if not media.holds(sha256)
    ]
