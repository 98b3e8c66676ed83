"""English for the report: articles, agreement, past tense, and dictation made fit to print."""

import re
import tomllib
import unicodedata
from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from typing import Any

from jobnotes.extract import verbs
from jobnotes.extract.vocabulary import rules as extraction_rules

NBSP = "\N{NO-BREAK SPACE}"
JOINERS = "\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}"


@cache
def rules(name: str) -> dict[str, Any]:
    """Return a rule file of the report by its name without ending."""
    text = (files("jobnotes.report") / "rules" / f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def clean(text: str) -> str:
    """Return dictated text fit to print: no fillers, stutters, shouting or control characters."""
    words = [word for word in _visible(text).split(" ") if word and not _is_filler(word)]
    last = len(words) - 1
    once = [word for n, word in enumerate(words) if n == last or not _stutters(word, words[n + 1])]
    calm = _without_asides(" ".join(once))
    if _shouted(calm):
        calm = calm.lower()
    calm = re.sub(r"\s+([,.;:!?])", r"\1", calm)
    return re.sub(r"\bi\b(?!\.)", "I", calm).strip(f" ,;:{NBSP}")


def _visible(text: str) -> str:
    """Drop what has no place in print: control and private characters, half surrogates.

    Of the format characters only the two that join letters or part them stay.
    """
    spaced = "".join(" " if char.isspace() and char != NBSP else char for char in text)
    return "".join(char for char in spaced if char in JOINERS or not _has_no_shape(char))


def _has_no_shape(char: str) -> bool:
    """A character that Python's tables do not know yet may be a new one (Unicode, 23.7)."""
    kind = unicodedata.category(char)
    never = ord(char) & 0xFFFE == 0xFFFE or 0xFDD0 <= ord(char) <= 0xFDEF
    return kind in ("Cc", "Cf", "Co", "Cs") or (kind == "Cn" and never)


def _without_asides(text: str) -> str:
    """Drop what was said in thinking, where commas or the text's ends set it apart."""
    asides = "|".join(re.escape(aside) for aside in rules("english")["asides"])
    return re.sub(rf"(?i)(^|,) ?(?:{asides})(?:,|$)", r"\1", text)


def _is_filler(word: str) -> bool:
    return word.lower().strip(",.;:-…") in rules("english")["fillers"]


def _stutters(before: str, word: str) -> bool:
    """Say whether a small word was said twice; digits and letters of a number may repeat."""
    small = rules("english")["stuttered"]
    return before.lower().rstrip(",") == word.lower().rstrip(",") and word.lower() in small


def _shouted(text: str) -> bool:
    words = [word for word in text.split() if word.isalpha() and len(word) > 1]
    return len(words) > 1 and all(word.isupper() for word in words)


def sentence(text: str) -> str:
    """Return cleaned text with a capital and a full stop."""
    body = clean(text)
    if not body:
        return ""
    return capital(body) + ("" if body[-1] in ".!?…”" else ".")


def capital(text: str) -> str:
    """Return the text with its first letter in capitals, the rest untouched."""
    return text[:1].upper() + text[1:]


def joined(items: Sequence[str], word: str = "and") -> str:
    """Return "a", "a and b" or "a, b and c"."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {word} {items[-1]}"


def the(name: str) -> str:
    """Return the name with "the" before it, unless it starts with a word that rules it out."""
    first = name.split()[0].lower() if name.split() else ""
    return name if not first or first in rules("english")["determiners"] else f"the {name}"


def a(name: str) -> str:
    """Return the name with "a" or "an"; plural names and names with a determiner stay bare."""
    first = name.split()[0].lower() if name.split() else ""
    if not first or first in rules("english")["determiners"] or is_plural(name):
        return name
    return f"{article(name)} {name}"


def article(name: str) -> str:
    """Return "a" or "an" as the sound of a name asks."""
    return "an" if _vowel_sound(name) else "a"


def _vowel_sound(name: str) -> bool:
    if re.match(r"(?i)(one|uni(?!n)|use|us[ae]|eu|u[tr]i|u-)", name):
        return False
    return bool(re.match(r"(?i)(hour|honest|[aeiou]|8|11\b|18\b)", name))


def is_plural(name: str) -> bool:
    """Say whether a thing's name stands for more than one thing."""
    english = rules("english")
    words = name.lower().split()
    if not words:
        return False
    if words[0] in english["many"]:
        return True
    head = _head(words)
    if any(word in ("and", "&") for word in head):
        return True
    return bool(head) and _plural_word(head[-1])


def _head(words: list[str]) -> list[str]:
    """Return the words up to the first preposition, without numbers after the noun."""
    english = rules("english")
    stop = next((n for n, w in enumerate(words) if n and w in english["prepositions"]), len(words))
    head = words[:stop]
    counted = [*english["numbers"], "and"]
    while len(head) > 1 and (head[-1] in counted or head[-1].isdigit()):
        head = head[:-1]
    return head


def _plural_word(word: str) -> bool:
    english = rules("english")
    if word in english["plural"]:
        return True
    return (
        word.endswith("s")
        and not word.endswith(("ss", "us", "is", "'s"))
        and (word not in english["singular"])
    )


def past(verb: str) -> str:
    """Return the past tense of a plain infinitive of one or two words ("take off": "took off")."""
    words = verb.lower().split()
    if not words:
        return ""
    at = 0 if words[1:2] and words[1] in rules("english")["particles"]["words"] else len(words) - 1
    words[at] = _past_word(words[at])
    return " ".join(words)


def _past_word(verb: str) -> str:
    irregular: dict[str, str] = rules("english")["past"]
    stem, dash, last = verb.rpartition("-")
    if dash:
        return f"{stem}-{_past_word(last)}"
    for lead in ("", "re", "un", "dis"):
        if verb.startswith(lead) and verb.removeprefix(lead) in irregular:
            return lead + irregular[verb.removeprefix(lead)]
    if verb.endswith("e"):
        return f"{verb}d"
    if re.fullmatch(r"[^aeiou]*(?:qu)?[aeiou][^aeiouwxy]", verb):
        return f"{verb}{verb[-1]}ed"
    if re.search(r"[^aeiou]y$", verb):
        return f"{verb[:-1]}ied"
    return f"{verb}ed"


def state_of(what: str, state: str, *, negated: bool, where: str = "") -> str:
    """Return the clause that a thing was in a state ("the fuel line was cracked").

    A state whose grammar is not plain is only set beside the thing: "fuel line: won't bleed".
    """
    subject, first = f"{the(what)}{where}", state.split()[0].lower()
    was = "were" if is_plural(what) else "was"
    verb = _verb(first, was, negated=negated)
    if verb:
        return f"{subject} {verb} {' '.join(state.split()[1:])}".strip()
    if state in ("none", "no"):
        return f"there {was} no {what}{where}"
    if state.startswith("the "):
        return f"{subject} {was} {'not ' if negated else ''}{state}"
    if state.startswith("not "):
        return f"{subject} {was} {state}"
    if _is_thing(state):
        return f"{subject} had {_thing(state, negated=negated)}"
    state = re.sub(r", (\w+ing)$", r" and \1", state)
    if _is_quality(state.lower().split()):
        return f"{subject} {was} {'not ' if negated else ''}{state}"
    denied = negated and first not in rules("english")["denials"]["words"]
    return f"{what}{where}: {'not ' if denied else ''}{state}"


def is_place(state: str) -> bool:
    """Say whether a state tells where a thing was: "in the clear hose"."""
    return (
        state.split()[:1] != [] and state.split()[0].lower() in rules("english")["inside"]["words"]
    )


def there_was(what: str) -> str:
    """Return "there were bubbles", "there was a hole" or "there was water"; else nothing."""
    words = what.lower().split()
    if is_plural(what):
        return f"there were {what}"
    masses = rules("english")["nouns"]["words"]
    told = words[:1] and words[0] in ("a", "an", "some")
    return f"there was {what}" if told or words[-1:] and words[-1] in masses else ""


def as_advice(text: str) -> str:
    """Return advice as it is given: "checking the belt and cleaning it" as "check ... clean"."""
    return re.sub(r"(^|\band )([a-z]+ing)\b", lambda found: found[1] + _plain(found[2]), text)


def _plain(word: str) -> str:
    return _plain_of_ing().get(word, word)


@cache
def _plain_of_ing() -> dict[str, str]:
    return {verbs.ing(base): base for base in verbs.plain_forms()}


def _verb(first: str, was: str, *, negated: bool) -> str:
    """Return the past verb of a state that is a clause already; none for any other state."""
    grammar = rules("english")
    if first in grammar["helpers"]:
        return re.sub(r"^was\b", was, str(grammar["helpers"][first]))
    if negated:
        return ""
    if first in grammar["deeds"]["words"]:
        return first
    verb = str(grammar["clauses"].get(first) or _past_of_third().get(first, ""))
    return was if verb in ("was", "were") else verb


@cache
def _past_of_third() -> dict[str, str]:
    """Map "growls" to "growled" for every verb that extraction knows things by."""
    found = extraction_rules("findings")
    listed = [word for kind in ("faults", "behaviours") for word in found[kind]["words"].split()]
    return {verbs.third_person(base): verbs.past(base)[0] for base in listed}


def _is_thing(state: str) -> bool:
    words = state.lower().split()
    nouns = rules("english")["nouns"]
    if " ".join(words[:2]) in nouns["never"]:
        return False
    return words[0] in ("a", "an", "no", "some") or _head(words)[-1] in nouns["words"]


def _thing(state: str, *, negated: bool) -> str:
    first, _, rest = state.partition(" ")
    bare = rest if first.lower() in ("a", "an", "no", "some", "any") and rest else state
    if negated or first.lower() == "no":
        return f"no {bare}"
    return state


def _is_quality(words: list[str]) -> bool:
    """Say whether a state reads well after "was": an adjective, and nothing that it describes."""
    quality = rules("english")["qualities"]
    if " ".join(words[:2]) in rules("english")["nouns"]["never"] or words[0] in quality["degrees"]:
        return len(words) > 1
    word, rest = words[0].strip(","), words[1:]
    if word.endswith("ing") or word in rules("english")["prepositions"]:
        return True
    ends = not rest or words[0].endswith(",")
    return _is_adjective(word) and (ends or _may_follow(rest[0].strip(",")))


def _may_follow(word: str) -> bool:
    english = rules("english")
    links = (*english["prepositions"], *english["particles"]["words"], "and", "or", "but", "as")
    return word in links or _is_adjective(word)


def _is_adjective(word: str) -> bool:
    quality = rules("english")["qualities"]
    return word in quality["words"] or word.endswith(tuple(quality["endings"]))
