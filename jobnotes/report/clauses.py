"""Dictated stretches told apart: a clause with its own verb, the name of a thing, or unsure."""

import re
from functools import cache
from typing import Literal

from jobnotes.extract import verbs
from jobnotes.report.english import capital, clean, rules

Kind = Literal["clause", "phrase", "unsure"]


def kind(text: str) -> Kind:
    """Tell by the words before the first link ("that", "because", "with") and by an exact list.

    A known finite verb makes a clause. A phrase starts with a determiner and holds no word that
    might be a verb; whatever is left is unsure.
    """
    head = _head(clean(text).lower())
    finite = rules("english")["finite"]
    if any(word in finite["words"] or word.endswith(tuple(finite["endings"])) for word in head):
        return "clause"
    named = bool(head) and head[0] in finite["leads"]
    return (
        "phrase" if named and not any(_may_be_verb(head, n) for n in range(len(head))) else "unsure"
    )


def _head(text: str) -> list[str]:
    words = re.findall(r"[\w'-]+", text)
    links = rules("english")["finite"]["links"]
    stop = next((n for n, word in enumerate(words) if n and word in links), len(words))
    return words[:stop]


def _may_be_verb(words: list[str], at: int) -> bool:
    """A past form right behind a determiner describes the next word: "a cracked coil"."""
    word = words[at]
    describes = at + 1 < len(words) and (
        words[at - 1] in rules("english")["finite"]["leads"] or words[at - 1].endswith("ly")
    )
    past = word.endswith("ed") or word in _past_forms()
    return (past and not describes) or word in rules("english")["clauses"]


@cache
def _past_forms() -> frozenset[str]:
    known = verbs.infinitive_of()
    listed = (*rules("english")["past"].values(), *rules("english")["deeds"]["words"])
    return frozenset({form for form in known if not form.endswith("ing")} | set(listed))


def reason(text: str) -> str:
    """Return why, to stand behind a sentence without its stop: ", because it is safer"."""
    why = clean(text).removeprefix("because ").removeprefix("of ")
    if not why:
        return ""
    links = {"clause": f", because {why}", "phrase": f", because of {why}"}
    return links.get(kind(why), f". The reason: {why}")


def cause(text: str) -> str:
    """Return what made the machine fail, as a sentence without its stop."""
    said = clean(text)
    while said.partition(" ")[0].lower().strip(",") in rules("english")["announced"]["causes"]:
        said = said.partition(" ")[2]
    frames = {"clause": said, "phrase": f"the cause was {said}"}
    return capital(frames.get(kind(said), f"this is what went wrong: {said}")) if said else ""


def choice(chosen: str) -> str:
    """Return what was chosen, as a sentence without its stop."""
    said = clean(chosen)
    first = said.split()[0].lower() if said else ""
    if first in verbs.plain_forms():
        return f"We chose to {said}"
    if first in rules("english")["finite"]["owners"]:
        return f"The {said[:1].lower()}{said[1:]}"
    frames = {"clause": capital(said), "phrase": f"We chose {said}"}
    return frames.get(kind(said), f"Our choice: {said}") if said else ""


def with_subject(text: str) -> str:
    """Give a sentence that starts with its verb a subject: "ran it hot" is "we ran it hot".

    What a machine does is told of "it", work on a thing of "we"; all else stays as it was said.
    """
    said = clean(text)
    words = said.lower().split()
    subject = _subject(words) if len(words) > 1 else ""
    return f"{subject} {said[:1].lower()}{said[1:]}" if subject else said


def _subject(words: list[str]) -> str:
    """Return who does what the first word says, where it is a verb; else nothing."""
    grammar = rules("english")
    if words[0] in grammar["finite"]["third"]:
        return "it"
    deed = words[1] if words[1] == "tested" else words[0]
    after = words[words.index(deed) + 1 :][:1]
    done = deed.endswith("ed") or deed in _past_forms()
    if done and after and after[0] in grammar["finite"]["objects"]:
        return "we"
    return "it" if words[0] in grammar["deeds"]["words"] else ""
