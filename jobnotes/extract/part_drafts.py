"""A part as far as it is known while a talk is read."""

from dataclasses import dataclass, field

from jobnotes.extract.spelled import Spelled, last_group
from jobnotes.extract.takebacks import takebacks
from jobnotes.extract.talk import Talk
from jobnotes.record import PartStatus

KEPT = 60  # parts looked back on; a job with more named since is a stock list
NEAR = 8  # utterances over which a name and its number, or a number said again, belong together


@dataclass(slots=True)
class Draft:
    """A part as far as it is known; `spans` are the token stretches that tell of it."""

    name: str
    number: str = ""
    status: PartStatus = "mentioned"
    rule: str = "numbers"
    utterance: int = 0
    place: int = 0
    quantity: int | None = None
    supersedes: str = ""
    price: str = ""
    options: tuple[str, ...] = ()
    superseded: bool = False
    implied: bool = False
    spans: list[tuple[int, int]] = field(default_factory=list)


def now(talk: Talk, number: Spelled) -> str:
    """Return the number that stands now for one that may have been taken back."""
    for back in takebacks(talk):
        if back.old is number and isinstance(back.new, Spelled):
            return whole(talk, back.new)
    return number.number.text


def whole(talk: Talk, number: Spelled) -> str:
    """Return a number said whole, or completed from the one of which it corrects the end."""
    text = number.number.text
    for back in takebacks(talk):
        if back.new is number and isinstance(back.old, Spelled) and number.number.plain:
            return last_group(back.old.number.text, text) or text
    return text
