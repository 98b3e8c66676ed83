"""Labour time, in whatever way it was put: "an hour ten", "two and a quarter hours labour"."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from jobnotes.extract.cues import cues
from jobnotes.extract.figures import Figure
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import withdrawn_tokens
from jobnotes.extract.private import office_only
from jobnotes.extract.sections import role_at
from jobnotes.extract.takebacks import takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, words
from jobnotes.numbers.quantities import quantities
from jobnotes.numbers.quantity import Quantity
from jobnotes.record import AnyFact, Flag, Labour

MINUTES = {"h": Decimal(60), "min": Decimal(1)}
GOES_ON = group("labour", "goes_on")
PARTS = group("labour", "parts")
MONEY = group("labour", "money")
NEAR = 2  # tokens between "log" and its duration
LAST = 4  # utterances; a duration that stands alone is labour only near the end of the job
CLOSING = 3  # utterances; hours told in an aside are labour only in the last of these
HOURS_AT_MOST = 10  # a bare labour figure above this is taken for minutes, and flagged all the same


@dataclass(frozen=True, slots=True)
class _Time:
    start: int
    stop: int
    minutes: Decimal
    said: str
    rule: str
    flag: Flag | None = None


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the labour time, once; two figures that nothing reconciles carry a flag."""
    withdrawn = withdrawn_tokens(talk, facts)
    for way in (_named, _booked, _alone, _closing, _put_right, _bare_at_end):
        times = [t for t in way(talk) if not withdrawn.issuperset(range(t.start, t.stop))]
        if times:
            return office_only(talk, (_fact(talk, times),))
    return ()


def _fact(talk: Talk, times: list[_Time]) -> Labour:
    last = times[-1]
    flags = [time.flag for time in times if time.flag]
    if len({time.minutes for time in times}) > 1 and not _follows_up(talk, times):
        flags.append(_twice(times))
    return Labour(
        minutes=last.minutes,
        as_said=last.said,
        evidence=(talk.evidence(last.start, last.stop),),
        rule=last.rule,
        flags=tuple(flags),
    )


def _twice(times: list[_Time]) -> Flag:
    options = tuple(dict.fromkeys(time.said for time in times))
    return Flag(by="labour", code="said-twice", why="Two labour times were said.", options=options)


def _follows_up(talk: Talk, times: list[_Time]) -> bool:
    """Tell whether the last figure was said to correct the one before."""
    start = talk.utterance(talk.utterance_of[times[-1].start]).start
    return bool(cues(talk, "labour.corrects", start, times[-1].start))


def _named(talk: Talk) -> Iterator[_Time]:
    """Read the utterances that name labour, and those that only correct the figure before."""
    last = -1
    for number in range(len(talk.starts)):
        said = talk.utterance(number)
        named = (
            cues(talk, "labour.sure", said.start, said.end) or role_at(talk, said.start) == "labour"
        )
        again = number == last + 1 and last >= 0 and _only_time(talk, number)
        if (named or again) and not cues(talk, "labour.quoted", said.start, said.end):
            time = _settled(talk, _durations(talk, number, bare=bool(named)), "labour.named")
            if time:
                last = number
                yield time


def _booked(talk: Talk) -> Iterator[_Time]:
    """Read "log fifty minutes", "call it an hour ten": a cue right before the duration."""
    for number in range(len(talk.starts)):
        said = talk.utterance(number)
        leads = [cue.stop for cue in cues(talk, "labour.names", said.start, said.end)]
        barred = cues(talk, "labour.not_it", said.start, said.end) or cues(
            talk, "labour.quoted", said.start, said.end
        )
        late = number >= len(talk.starts) - CLOSING
        times = [] if barred or not leads else _durations(talk, number, bare=late)
        if any(0 <= time.start - stop <= NEAR for time in times for stop in leads):
            time = _settled(talk, times, "labour.booked")
            if time:
                yield time


def _durations(talk: Talk, number: int, bare: bool = False) -> list[_Time]:
    """Return the durations of an utterance; with `bare`, a lone figure without a unit too."""
    said = talk.utterance(number)
    found = quantities(words(talk)[said.start : said.end])
    timed = [
        _with_minutes(talk, _time(talk, said.start, q), said.start, found[n + 1 : n + 2])
        for n, q in enumerate(found)
        if q.units and q.units[0] in MINUTES and not _is_rate(talk, said.start + q.start)
    ]
    timed += _bare_hour(talk, number)
    timed += [_hour_and(talk, said.start, q) for q in found if _after_hour(talk, said.start, q)]
    timed = [time for time in timed if not _is_other(talk, time)]
    if timed or not bare:
        return sorted([*timed, *_concluded(talk, number, found, timed)], key=lambda t: t.start)
    plain = [q for q in found if not q.units and not q.role]
    return [_unitless(talk, said.start, plain[0])] if len(plain) == 1 else []


def _time(talk: Talk, offset: int, found: Quantity) -> _Time:
    minutes = found.low.value * MINUTES[found.units[0]]
    start, stop = offset + found.start, offset + found.stop
    return _Time(start, stop, minutes, talk.text(start, stop).strip(",. "), "labour.named")


def _with_minutes(talk: Talk, time: _Time, offset: int, after: tuple[Quantity, ...]) -> _Time:
    """Add the minutes of "one hour and twenty", said without their unit."""
    for more in after:
        start, value = offset + more.start, more.low.value
        joined = words(talk)[time.stop : start] in (("and",), ())
        if (
            joined
            and not more.units
            and not more.role
            and 5 <= value < 60
            and time.minutes % 60 == 0
        ):
            stop = offset + more.stop
            said = talk.text(time.start, stop).strip(",. ")
            return _Time(time.start, stop, time.minutes + value, said, time.rule)
    return time


def _unitless(talk: Talk, offset: int, found: Quantity) -> _Time:
    hours = found.low.value < HOURS_AT_MOST
    minutes = found.low.value * MINUTES["h" if hours else "min"]
    start, stop = offset + found.start, offset + found.stop
    said = talk.text(start, stop).strip(",. ")
    flag = Flag(
        by="labour",
        code="unit-not-said",
        why="Labour was said without hours or minutes.",
        options=(f"{said} hours", f"{said} minutes"),
    )
    return _Time(start, stop, minutes, said, "labour.named", flag)


def _after_hour(talk: Talk, offset: int, found: Quantity) -> bool:
    """Tell the figure of "hour and forty", whose article was left out."""
    place = offset + found.start
    named = words(talk)[max(place - 2, 0) : place] == ("hour", "and")
    before = tags(talk)[place - 3] if place - 2 > offset else Tag.PUNCTUATION
    plain = not found.units and not found.role and found.low.value < 60
    return named and plain and not before & (Tag.NUMBER | Tag.DETERMINER)


def _bare_hour(talk: Talk, number: int) -> Iterator[_Time]:
    """Read "hour even", whose article was left out."""
    said = talk.utterance(number)
    if words(talk)[said.start : said.start + 1] == ("hour",) and said.end - said.start <= NEAR:
        yield _Time(
            said.start, said.end, MINUTES["h"], talk.text(said.start, said.end), "labour.named"
        )


def _hour_and(talk: Talk, offset: int, found: Quantity) -> _Time:
    start, stop = offset + found.start - 2, offset + found.stop
    said = talk.text(start, stop).strip(",. ")
    return _Time(start, stop, 60 + found.low.value, said, "labour.named")


def _part_start(talk: Talk, token: int) -> int:
    """Return the first token of the part of an utterance, between marks, that a token is in."""
    place = token
    while place > talk.starts[talk.utterance_of[token]] and words(talk)[place - 1] not in PARTS:
        place -= 1
    return place


def _is_other(talk: Talk, time: _Time) -> bool:
    """Tell what the book allows, what was foreseen, and the time on the road."""
    start = _part_start(talk, time.start)
    after = cues(talk, "labour.other_after", time.stop, min(time.stop + NEAR + 1, len(talk.doc)))
    return bool(after or cues(talk, "labour.other", start, time.start))


def _concluded(
    talk: Talk, number: int, found: tuple[Quantity, ...], timed: list[_Time]
) -> Iterator[_Time]:
    """Read the bare figure that settles it: "two and a half hours, well, call it two"."""
    said = talk.utterance(number)
    taken = {n for time in timed for n in range(time.start, time.stop)}
    if not timed:
        return
    leads = [cue.stop for cue in cues(talk, "labour.concludes", timed[0].stop, said.end)]
    less = [cue.stop for cue in cues(talk, "labour.less", timed[0].stop, said.end)]
    for one in found:
        start = said.start + one.start
        told = any(0 <= start - stop <= NEAR for stop in leads)
        left = one is found[-1] and any(stop <= start for stop in less)
        money = words(talk)[said.start + one.stop : said.start + one.stop + 1]
        priced = bool(one.role) or bool(MONEY & set(money))
        if not one.units and not priced and start not in taken and (told or left):
            yield _in_kind(talk, said.start, one, timed)


def _in_kind(talk: Talk, offset: int, found: Quantity, timed: list[_Time]) -> _Time:
    """Take a bare figure in the unit said beside it; "three forty" is hours and minutes."""
    hours, minutes = divmod(found.low.value, 100)
    if hours < 1 or minutes >= 60:
        time = _unitless(talk, offset, found)
        sure = time.minutes >= 60 and timed[-1].minutes >= 60
        return replace(time, flag=None) if sure else time
    said = talk.text(offset + found.start, offset + found.stop).strip(",. ")
    time = _Time(
        offset + found.start, offset + found.stop, 60 * hours + minutes, said, "labour.named"
    )
    agreed = any(other.minutes == time.minutes for other in timed)
    return time if agreed else replace(time, flag=_unitless(talk, offset, found).flag)


def _is_rate(talk: Talk, token: int) -> bool:
    """Tell the "an hour" of "sixty dollars an hour"."""
    before = words(talk)[token - 1] if token else ""
    return before in ("dollars", "pounds", "bucks", "quid", "euros", "per", "rate")


def _settled(talk: Talk, times: list[_Time], rule: str) -> _Time | None:
    """Reduce the figures of one utterance to one: a correction replaces, "plus" adds."""
    if not times:
        return None
    total = pointed = _pointed_out(talk, times) or times[0]
    for before, time in zip(times, times[1:], strict=False):
        if pointed is not times[0]:
            break
        if time is times[-1] and _is_taken_off(talk, before, time):
            said = talk.text(total.start, time.stop)
            total = _Time(total.start, time.stop, total.minutes - abs(time.minutes), said, rule)
        elif cues(talk, "labour.corrects", before.stop, time.start) or cues(
            talk, "labour.less", before.stop, time.start
        ):
            total = time
        elif cues(talk, "labour.adds", before.stop, time.start):
            said = talk.text(total.start, time.stop)
            total = _Time(total.start, time.stop, total.minutes + time.minutes, said, rule)
        elif time.minutes != total.minutes:
            total = _Time(
                total.start, total.stop, total.minutes, total.said, rule, _twice([total, time])
            )
    return _Time(total.start, total.stop, total.minutes, total.said, rule, total.flag)


def _is_taken_off(talk: Talk, before: _Time, time: _Time) -> bool:
    """Tell "two hours less ten minutes", where the second figure is to be subtracted."""
    less = cues(talk, "labour.subtracts", before.stop, time.start + 1)
    return bool(less) and time.start - less[-1].stop <= NEAR and time.minutes < before.minutes


def _pointed_out(talk: Talk, times: list[_Time]) -> _Time | None:
    """Return the figure that "just bill the on site" means."""
    said = talk.utterance(talk.utterance_of[times[0].start])
    for cue in cues(talk, "labour.only", times[-1].stop, said.end):
        light = Tag.DETERMINER | Tag.PUNCTUATION | Tag.FILLER
        meant = {words(talk)[n] for n in range(cue.stop, said.end) if not tags(talk)[n] & light}
        for time in times:
            if meant & set(words(talk)[_part_start(talk, time.start) : time.start]):
                return time
    return None


def _closing(talk: Talk) -> Iterator[_Time]:
    """Read the hours told in an aside of the last words ("so that was an hour and a half")."""
    for number in range(max(len(talk.starts) - CLOSING, 0), len(talk.starts)):
        said = talk.utterance(number)
        barred = cues(talk, "labour.not_it", said.start, said.end)
        spent = cues(talk, "labour.spent", said.start, said.end)
        times = [time for time in _durations(talk, number) if not _is_running(talk, time)]
        time = _settled(talk, times, "labour.closing")
        last = number == len(talk.starts) - 1 and not barred
        if time and (spent or (last and time.minutes >= MINUTES["h"])):
            yield time


def _is_running(talk: Talk, time: _Time) -> bool:
    """Tell how long the machine ran, or how often a thing is due, from the time at work."""
    stop = talk.utterance(talk.utterance_of[time.start]).end
    stop = next((n for n in range(time.stop, stop) if words(talk)[n] in PARTS), stop)
    return bool(cues(talk, "labour.running", _part_start(talk, time.start), stop))


def _only_time(talk: Talk, number: int) -> bool:
    """Tell whether an utterance says nothing but a duration ("call it an hour ten")."""
    said = talk.utterance(number)
    covered = {n for time in _durations(talk, number) for n in range(time.start, time.stop)}
    if not covered:
        return False
    for rule in ("around", "names", "corrects"):
        covered |= {
            n
            for cue in cues(talk, f"labour.{rule}", said.start, said.end)
            for n in range(cue.start, cue.stop)
        }
    light = Tag.FILLER | Tag.PUNCTUATION | Tag.DETERMINER | Tag.COPULA | Tag.PREPOSITION | Tag.US
    return all(n in covered or tags(talk)[n] & light for n in range(said.start, said.end))


def _alone(talk: Talk) -> Iterator[_Time]:
    """Read a duration that stands alone near the end of the job."""
    for number in range(max(len(talk.starts) - LAST, 0), len(talk.starts)):
        if _only_time(talk, number) or _opens_with_time(talk, number):
            time = _settled(talk, _durations(talk, number), "labour.alone")
            if time:
                yield time


def _bare_at_end(talk: Talk) -> Iterator[_Time]:
    """Read "three and a quarter" said alone as the very last words; its unit stays in doubt."""
    number = len(talk.starts) - 1
    said = talk.utterance(number)
    light = Tag.FILLER | Tag.PUNCTUATION
    for time in _durations(talk, number, bare=True):
        outside = [n for n in range(said.start, said.end) if not time.start <= n < time.stop]
        if time.flag and not any(not tags(talk)[n] & light for n in outside):
            yield replace(time, rule="labour.alone")


def _put_right(talk: Talk) -> Iterator[_Time]:
    """Read the bare figure of "three hours, no, two forty-five" in the last words."""
    for back in takebacks(talk):
        old, new = back.old, back.new
        if not isinstance(old, Figure) or not isinstance(new, Figure) or new.quantity.units:
            continue
        late = new.utterance >= len(talk.starts) - CLOSING
        if late and old.quantity.units[:1] in (("h",), ("min",)):
            offset = new.start - new.quantity.start
            before = _time(talk, old.start - old.quantity.start, old.quantity)
            yield replace(_in_kind(talk, offset, new.quantity, [before]), rule="labour.alone")


def _opens_with_time(talk: Talk, number: int) -> bool:
    """Tell "three hours, plus half an hour on the water" in the last words from a test run."""
    said = talk.utterance(number)
    times = _durations(talk, number)
    if number < len(talk.starts) - 2 or not times or times[0].start > said.start + 2:
        return False
    if times[0].stop < said.end and words(talk)[times[0].stop] in GOES_ON:
        return True
    told = Tag.VERB | Tag.FAULT | Tag.BEHAVIOUR | Tag.STATE
    outside = range(times[0].stop, said.end)
    return not any(tags(talk)[n] & told and not tags(talk)[n] & Tag.HEAD for n in outside)
