"""What a reading or a spec is called: the component, and the quantity measured on it."""

from jobnotes.extract.choosing import Choice
from jobnotes.extract.surroundings import when_in, where_in
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import thing_before, thing_in
from jobnotes.extract.vocabulary import rules
from jobnotes.extract.windows import Window

BACK = 3  # utterances over which "set the gap" still speaks of the component named there


def thing_for(talk: Talk, here: Window, choice: Choice) -> str:
    """Return the component measured: named before the figure, after it, or earlier."""
    for start, stop in ((here.left, here.first), (here.stop, here.right), (here.begin, here.left)):
        name = _named(talk, start, stop)
        if name:
            return name
    if choice.recalled is not None:
        return choice.recalled.thing
    if choice.measure.id in rules("measures")["of_things"]["ids"]:
        thing = thing_before(talk, here.begin)
        earliest = talk.utterance_of[here.begin] - BACK
        near = thing is not None and talk.utterance_of[thing.start] >= earliest
        return thing.name if thing is not None and near else ""
    return ""


def _named(talk: Talk, start: int, stop: int) -> str:
    """Return the last component named that is not just where the meter was put."""
    if stop <= start:
        return ""
    places = {
        n
        for p in (*where_in(talk, start, stop), *when_in(talk, start, stop))
        for n in range(p.start, p.stop)
    }
    thing = thing_in(talk, start, stop)
    while thing is not None and thing.start >= start:
        if thing.start not in places and thing.name not in rules("specs")["sources"]:
            return thing.name
        thing = thing_in(talk, start, thing.start)
    return ""


def name_of(choice: Choice, thing: str) -> str:
    """Join component and quantity without saying a word twice ("coil" + "coil air gap")."""
    name = choice.name
    if choice.recalled is not None and (not thing or thing == choice.recalled.thing):
        return choice.recalled.what
    spare = [word for word in thing.split() if word not in name.split()]
    return " ".join([*spare, name])
