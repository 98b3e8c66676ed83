"""Work told the other way round: "off comes the hub", "in went the new seal"."""

from collections.abc import Iterator

from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import nouns_from, plain
from jobnotes.extract.placed import particles
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words
from jobnotes.extract.worked import Done

MOTIONS = group("inverted", "motions")


def inverted(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Give the steps of a clause that begins with its particle."""
    texts = words(talk)
    place = clause.start + (texts[clause.start] == "back")
    if place + 2 >= clause.stop or texts[place] not in particles() or _is_motion(talk, place):
        return
    for what in nouns_from(talk, place + 2, clause.stop):
        if tags(talk)[what.stop - 1] & Tag.HEAD and plain(talk, what):
            verb = particles()[texts[place]]
            yield Done(verb, what, clause.start, what.stop, "actions.inverted")


def _is_motion(talk: Talk, place: int) -> bool:
    """Tell "on the pump" and "off it goes", where no verb of motion follows the particle."""
    return words(talk)[place + 1] not in MOTIONS
