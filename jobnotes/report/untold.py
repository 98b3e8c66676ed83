"""What of a story has no translation, told to the office before the customer reads it."""

from collections.abc import Iterable, Iterator

from jobnotes.report.languages.quoting import untranslated
from jobnotes.report.story import Block, Gallery, Item, Measure, PartRow, Section, Story


def untold(title: str, sections: Iterable[Section]) -> tuple[str, ...]:
    """Return the English words that stand in a story as they were said, each once."""
    blocks = (block for section in sections for block in section.blocks)
    return untranslated([title, *(text for block in blocks for text in block_texts(block))])


def block_texts(block: Block) -> Iterator[str]:
    """Yield what a block says in the words of facts."""
    if isinstance(block, Item):
        yield block.sentence.text
    if isinstance(block, (Item, Gallery)):
        yield from (picture.caption.text for picture in block.pictures)
    if isinstance(block, Measure):
        yield from (block.name(), *block.lines(), block.limits.text if block.limits else "")
    if isinstance(block, PartRow):
        yield from (block.name, block.note, block.price)


def lacking(story: Story) -> tuple[str, ...]:
    """Return a sentence for the office on each stretch of a story without a translation."""
    return tuple(f"No translation for: {words}" for words in untold(story.title, story.sections))
