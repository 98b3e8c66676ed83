"""Remarks kept from the customer by the build of a sentence: "this you don't print"."""

from collections.abc import Iterator
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.cues import Cue
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, words

REACH = 7  # tokens before a verb in which its denial, and who is denied, are looked for
TARGET = 4  # tokens from a verb within which what is kept back is named
OUTLET = 8  # tokens after "put" or "go" within which "on the sheet" stands

Texts = tuple[str, ...]


@once_a_talk
def concealments(talk: Talk) -> tuple[Cue, ...]:
    """Return the words that keep a remark back, at most one stretch an utterance."""
    found = []
    for number in range(len(talk.starts)):
        said = bounds(talk, number)
        texts = words(talk)[said.start : said.end]
        if not _triggers().isdisjoint(texts):
            stretch = next(_stretches(texts), None)
            if stretch:
                start, stop = stretch
                found.append(Cue(said.start + start, said.start + stop, "private.concealed"))
    return tuple(found)


@cache
def word_set(name: str) -> frozenset[str]:
    """Return a set of words of private.toml."""
    return frozenset(rules("private")["words"][name].split())


@cache
def _triggers() -> frozenset[str]:
    names = ("sheets", "writing", "handling", "telling", "seeing", "getting", "hiding", "labels")
    return frozenset(word for name in names for word in word_set(name))


def _stretches(texts: Texts) -> Iterator[tuple[int, int]]:
    for place, text in enumerate(texts):
        if text in word_set("hiding"):
            yield from _hidden(texts, place)
        if text in word_set("labels"):
            yield from _labelled(texts, place)
        if text in word_set("writing") or text in word_set("handling"):
            yield from _not_written(texts, place)
        if text in word_set("sheets"):
            yield from _not_on(texts, place)
        if text in word_set("telling"):
            yield from _not_told(texts, place)
        if text in word_set("seeing"):
            yield from _not_seen(texts, place)
        if text in word_set("getting"):
            yield from _not_given(texts, place)


def _last(texts: Texts, name: str, start: int, stop: int) -> int:
    """Return the last token within `start` to `stop` that is in a set, or -1."""
    listed = word_set(name)
    return next((n for n in range(stop - 1, max(start, 0) - 1, -1) if texts[n] in listed), -1)


def _next(texts: Texts, name: str, start: int, stop: int) -> int:
    listed = word_set(name)
    return next((n for n in range(start, min(stop, len(texts))) if texts[n] in listed), -1)


def _ends(texts: Texts, place: int) -> bool:
    return place >= len(texts) or texts[place] in (",", ".", ";", ":")


# --- "don't print this", "this isn't to go on the sheet" ---


def _not_written(texts: Texts, place: int) -> Iterator[tuple[int, int]]:
    denied = _last(texts, "denying", place - REACH, place)
    if denied < 0 or _past(texts, denied):
        return
    before = _last(texts, "deictic", denied - TARGET, place)
    after = _next(texts, "deictic", place + 1, place + 1 + TARGET)
    meant = max(before, after)
    if meant < 0 and texts[place] in word_set("handling"):
        return
    passive = {"to", "be"} <= set(texts[denied:place])
    outlet = _next(texts, "outlets", place + 1, place + OUTLET)
    remark = before >= 0 and texts[before + 1] in word_set("remark")
    remark = remark or (after >= 0 and texts[after + 1 : after + 2] == ("down",))
    sure = remark or texts[place] in word_set("writing")
    noted = texts[denied] == "not" and not passive and texts[place].endswith(("ed", "en"))
    outlet = -1 if noted else outlet
    if outlet >= 0 or (meant >= 0 and (sure or passive)):
        yield min(n for n in (before, denied) if n >= 0), max(place, after, outlet) + 1


def _past(texts: Texts, denied: int) -> bool:
    """Tell "did not", which denies what was done, from what must not be."""
    if texts[denied] in ("wasn't", "weren't"):
        return word_set("rather").isdisjoint(texts[:denied])
    return texts[denied] == "not" and texts[max(denied - 1, 0)] in ("did", "had", "was", "could")


def _not_on(texts: Texts, place: int) -> Iterator[tuple[int, int]]:
    """Read "not to appear on the invoice", with nothing else between."""
    denied = _last(texts, "denying", place - REACH, place)
    between = texts[denied + 1 : place]
    if denied >= 0 and between and all(text in word_set("appearing") for text in between):
        yield denied, place + 1


def _not_told(texts: Texts, place: int) -> Iterator[tuple[int, int]]:
    """Read "don't be telling him" and "he's not to be told", but not "don't tell him to"."""
    denied = _last(texts, "denying", place - 3, place)
    told = _next(texts, "audience", place + 1, place + 3)
    if texts[max(denied, 0) : place] == ("not", "to", "be"):
        told = max(told, _last(texts, "audience", denied - 3, denied))
    elif texts[place] in ("told", "informed"):
        return
    if denied >= 0 and told >= 0 and not _past(texts, denied) and texts[told + 1 :][:1] != ("to",):
        yield denied, max(told, place) + 1


# --- "the owner need not see this", "this bit he doesn't get" ---


def _not_seen(texts: Texts, place: int) -> Iterator[tuple[int, int]]:
    denied = _last(texts, "denying", place - REACH, place)
    who = _last(texts, "audience", place - REACH, place)
    need = _last(texts, "needing", place - REACH, place)
    if min(denied, who, need) < 0 or _past(texts, denied):
        return
    wish = _last(texts, "needing", place - REACH, place - 1)
    if wish > who and texts[wish] in ("want", "wants") and texts[place] != "know":
        return
    pointed = _next(texts, "deictic", place + 1, place + 3)
    opened = ("out", "about", "but", "i", "we", "how", "what", "who", "anything", "of")
    if pointed >= 0 or _ends(texts, place + 1) or texts[place + 1] in opened:
        yield min(denied, who), max(place, pointed) + 1


def _not_given(texts: Texts, place: int) -> Iterator[tuple[int, int]]:
    denied = _last(texts, "denying", place - 3, place)
    who = _last(texts, "audience", place - 4, place)
    meta = _last(texts, "meta", who - 3, who)
    if denied > who >= 0 <= meta and texts[meta - 1] in word_set("deictic"):
        yield meta - 1, place + 1


# --- "leave this bit out", "keep that quiet" ---


def _hidden(texts: Texts, place: int) -> Iterator[tuple[int, int]]:
    if place and texts[place - 1] not in word_set("leading"):
        return
    begin = place + 1 + (texts[place + 1 : place + 2] in (("all",), ("the",), ("out",)))
    if begin >= len(texts) or texts[begin] not in word_set("deictic"):
        return
    meta = _named(texts, begin + 1)
    stop = meta or begin + 1
    if _put_aside(texts, place, stop, bool(meta)):
        yield place, min(stop + 1, len(texts))


def _named(texts: Texts, place: int) -> int:
    """Return where "last bit" of "that last bit" stops, or 0 where no remark is named."""
    stop = place
    while stop < len(texts) and texts[stop] in word_set("meta"):
        stop += 1
    return stop if stop > place else 0


def _put_aside(texts: Texts, verb: int, stop: int, named: bool) -> bool:
    rest = texts[stop : stop + TARGET]
    if rest[:1] in (("out",), ("off",), ("away",), ("back",)):
        outlet = _next(texts, "outlets", stop + 1, stop + OUTLET) >= 0
        kept = rest[0] in ("out", "off") and _ends(texts, stop + 1)
        kept = kept and texts[verb] in ("leave", "keep", "hold")
        return kept or outlet or (named and texts[verb] != "take")
    if texts[verb] in ("leave", "keep", "hold") and not word_set("quietly").isdisjoint(rest):
        return True
    if texts[verb] in word_set("omitting") and (named or _ends(texts, stop)):
        return True
    left = rest[:1] in (("from",), ("off",))
    return left and _next(texts, "outlets", stop + 1, stop + OUTLET) >= 0


# --- "internal, ...", "this one is confidential" ---


def _labelled(texts: Texts, place: int) -> Iterator[tuple[int, int]]:
    opening = all(text in word_set("light") for text in texts[:place])
    follows = place + 1 == len(texts) or texts[place + 1] in word_set("after_label")
    before = texts[place - 1] if place else ""
    copula = before in ("is", "'s", "are", "be", "was", "strictly", "purely")
    meant = max(_last(texts, name, place - 5, place) for name in ("meta", "deictic"))
    if (opening and follows) or before in word_set("labelling") or (copula and meant >= 0):
        yield max(place - 1, 0), place + 1


# --- where a remark ends: "resuming the report", "he can see this one" ---


@once_a_talk
def resumptions(talk: Talk) -> tuple[Cue, ...]:
    """Return the words at the start of an utterance that go back to what the customer reads."""
    found = []
    for number in range(len(talk.starts)):
        said = bounds(talk, number)
        texts = words(talk)[said.start : said.end]
        first = next((n for n, text in enumerate(texts) if text not in word_set("light")), 0)
        stop = next((n for n in range(first, len(texts)) if texts[n] in (",", ".")), len(texts))
        if _resumes(texts[first:stop]) or _allows(texts[first:stop]):
            found.append(Cue(said.start + first, said.start + stop, "private.resumed"))
    return tuple(found)


def _resumes(texts: Texts) -> bool:
    """Tell "back to the report" and "end of the private bit", with no other content."""
    again, paper = word_set("resuming"), word_set("resumed")
    if len(texts) == 1:
        return texts[0] in word_set("resuming_alone")
    known = all(text in again or text in paper or text in word_set("between") for text in texts)
    paired = not paper.isdisjoint(texts) and not again.isdisjoint(texts)
    return known and (paired or texts[:2] == ("on", "paper"))


def _allows(texts: Texts) -> bool:
    """Tell "he can see this one" and "this you can print"."""
    allowed = _next(texts, "allowing", 0, TARGET + 1)
    if allowed < 0 or not word_set("denying").isdisjoint(texts):
        return False
    verb = _next(texts, "getting", allowed + 1, allowed + 3)
    shown = verb >= 0 and _last(texts, "audience", 0, allowed) >= 0
    verb = max(verb, _next(texts, "writing", allowed + 1, allowed + 3))
    printed = verb >= 0 and texts[allowed - 1] in ("you", "we", "that", "this", "bit")
    pointed = _next(texts, "deictic", 0, verb + TARGET) >= 0 or "rest" in texts
    return (shown or printed) and pointed and len(texts) <= OUTLET
