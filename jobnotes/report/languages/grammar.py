"""Gender, number, articles and contractions of French and Spanish."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal, Protocol

Gender = Literal["m", "f"]
Change = Callable[[str], str]
# What may stand before an adjective, and what stands in its place but keeps its form.
ADVERBS = (
    "non", "bien", "mal", "trop", "très", "peu", "plus", "moins", "à", "moitié",
    "muy", "demasiado", "medio", "casi", "más", "poco",
)  # fmt: skip
UNCHANGED = ("sans", "avec", "comme", "en", "de", "hors", "signe", "sin", "con", "como", "señal")


@dataclass(frozen=True)
class Noun:
    """A thing's name without article; its gender and number are what articles agree with."""

    text: str
    gender: Gender = "m"
    plural: bool = False

    def with_tail(self, tail: str) -> "Noun":
        """Return the noun with words behind it."""
        return replace(self, text=f"{self.text} {tail}".strip())


class Grammar(Protocol):
    """What differs between the two languages."""

    def plural(self, text: str) -> str:
        """Return a name in the plural: its noun and the adjectives before a preposition."""

    def agreed(self, adjective: str, noun: Noun) -> str:
        """Return an adjective in the gender and number of a noun; "=" leads one that keeps."""

    def the(self, noun: Noun) -> str:
        """Return a noun with its definite article."""

    def one(self, noun: Noun) -> str:
        """Return a noun with its indefinite article."""

    def some(self, noun: Noun) -> str:
        """Return a noun as an amount."""

    def none(self, noun: Noun) -> str:
        """Return a noun as it stands behind a denial."""

    def joined(self, preposition: str, words: str) -> str:
        """Put a preposition before words that may start with an article: "de le" is "du"."""

    def many(self, clause: str) -> str:
        """Return a clause in the past that starts with its verb, told of several things."""

    def denied(self, clause: str) -> str:
        """Return the denial of a clause that starts with its verb."""

    def past(self, infinitive: str) -> str:
        """Return the word for what we did: a French participle, a Spanish first person."""


class French:
    """French: elision before a vowel, "du" and "au", agreement of participles."""

    STOPS = ("de", "du", "des", "à", "au", "aux", "en", "pour", "sur", "avec", "par", "sans", "et")
    # Words with an aspirated h, before which nothing is elided.
    ASPIRATED = ("haut", "hauteur", "hublot", "hachoir", "harnais", "hayon", "housse", "huit")
    KEPT = ("pneu", "bleu")

    def plural(self, text: str) -> str:
        """Return a name in the plural."""
        return _until(text, self.STOPS, self._many)

    def agreed(self, adjective: str, noun: Noun) -> str:
        """Return an adjective as a noun asks."""
        return _agreed(adjective, noun, self._feminine, self._many, r"( et |, )")

    def the(self, noun: Noun) -> str:
        """Return "le", "la", "l'" or "les" with the noun."""
        if noun.plural:
            return f"les {noun.text}"
        return self.joined("le" if noun.gender == "m" else "la", noun.text)

    def one(self, noun: Noun) -> str:
        """Return "un", "une" or "des" with the noun."""
        article = "des" if noun.plural else "un" if noun.gender == "m" else "une"
        return f"{article} {noun.text}"

    def some(self, noun: Noun) -> str:
        """Return "du", "de la", "de l'" or "des" with the noun."""
        return f"des {noun.text}" if noun.plural else self.joined("de", self.the(noun))

    def none(self, noun: Noun) -> str:
        """Return "de" or "d'" with the noun."""
        return self.joined("de", noun.text)

    def joined(self, preposition: str, words: str) -> str:
        """Contract "de le" and "à les", and elide before a vowel."""
        start, last = preposition.rpartition(" ")[::2]
        merged = {"de le": "du", "de les": "des", "à le": "au", "à les": "aux"}
        first, _, rest = words.partition(" ")
        if f"{last} {first}" in merged:
            return f"{start} {merged[f'{last} {first}']} {rest}".strip()
        if last in ("de", "le", "la", "ne", "que") and self._opens(words):
            return f"{start} {last[:-1]}'{words}".strip()
        return f"{preposition} {words}"

    def many(self, clause: str) -> str:
        """Return "tournait" as "tournaient"."""
        return re.sub(r"\b(\w+)ait\b", r"\1aient", clause, count=1)

    def denied(self, clause: str) -> str:
        """Return "fuyait" as "ne fuyait pas"."""
        verb, space, rest = clause.partition(" ")
        return f"{self.joined('ne', verb)} pas{space}{rest}"

    def past(self, infinitive: str) -> str:
        """Return "déposé" for "déposer"."""
        return infinitive[:-2] + {"er": "é", "ir": "i"}[infinitive[-2:]]

    def _opens(self, words: str) -> bool:
        """Say whether words start with the sound of a vowel."""
        first = re.split(r"[ '-]", words.lower())[0]
        return bool(re.match(r"[aeiouhàâéèêîôœ]", first)) and first not in self.ASPIRATED

    def _many(self, word: str) -> str:
        if word.endswith(("s", "x", "z")):
            return word
        if word.endswith("al"):
            return f"{word[:-2]}aux"
        tail = "x" if word.endswith(("au", "eu")) and word not in self.KEPT else "s"
        return word + tail

    def _feminine(self, word: str) -> str:
        changed = {"eux": "euse", "if": "ive", "er": "ère", "el": "elle", "en": "enne", "e": "e"}
        for ending, other in changed.items():
            if word.endswith(ending):
                return word[: -len(ending)] + other
        return f"{word}e"


class Spanish:
    """Spanish: "del" and "al", agreement of participles."""

    STOPS = ("de", "del", "a", "al", "en", "para", "sobre", "con", "por", "sin", "y")
    # Feminine nouns that start with a stressed a take "el" and "un" in the singular.
    STRESSED = ("agua", "aspa", "ala", "área", "asa", "alza")

    def plural(self, text: str) -> str:
        """Return a name in the plural."""
        return _until(text, self.STOPS, self._many)

    def agreed(self, adjective: str, noun: Noun) -> str:
        """Return an adjective as a noun asks."""
        return _agreed(adjective, noun, self._feminine, self._many, r"( y |, )")

    def the(self, noun: Noun) -> str:
        """Return "el", "la", "los" or "las" with the noun."""
        if noun.plural:
            return f"{'los' if noun.gender == 'm' else 'las'} {noun.text}"
        return f"{'el' if self._is_masculine(noun) else 'la'} {noun.text}"

    def one(self, noun: Noun) -> str:
        """Return "un", "una", "unos" or "unas" with the noun."""
        if noun.plural:
            return f"{'unos' if noun.gender == 'm' else 'unas'} {noun.text}"
        return f"{'un' if self._is_masculine(noun) else 'una'} {noun.text}"

    def some(self, noun: Noun) -> str:
        """Return the noun alone."""
        return noun.text

    def none(self, noun: Noun) -> str:
        """Return the noun alone."""
        return noun.text

    def joined(self, preposition: str, words: str) -> str:
        """Contract "de el" and "a el"."""
        return re.sub(r"\b(de|a) el ", r"\1l ", f"{preposition} {words}", count=1)

    def many(self, clause: str) -> str:
        """Return "giraba" as "giraban"."""
        return re.sub(r"\b(\w+(?:aba|ía))\b", r"\1n", clause, count=1)

    def denied(self, clause: str) -> str:
        """Return "giraba" as "no giraba"."""
        return f"no {clause}"

    def past(self, infinitive: str) -> str:
        """Return "desmontamos" for "desmontar"."""
        return infinitive[:-2] + {"ar": "amos", "er": "imos", "ir": "imos"}[infinitive[-2:]]

    def _is_masculine(self, noun: Noun) -> bool:
        return noun.gender == "m" or noun.text.split()[0] in self.STRESSED

    def _many(self, word: str) -> str:
        if word.endswith("s") and not word.endswith(("és", "ás")):
            return word
        if word.endswith("z"):
            return f"{word[:-1]}ces"
        accents = {
            "ón": "ones",
            "én": "enes",
            "és": "eses",
            "án": "anes",
            "ín": "ines",
            "ás": "ases",
        }
        if word[-2:] in accents:
            return word[:-2] + accents[word[-2:]]
        return f"{word}s" if word[-1] in "aeiouáéó" else f"{word}es"

    def _feminine(self, word: str) -> str:
        if word.endswith("o"):
            return f"{word[:-1]}a"
        return f"{word}a" if word.endswith("or") else word


def _agreed(adjective: str, noun: Noun, feminine: Change, many: Change, links: str) -> str:
    """Agree the first word of each adjective in a list; "sec|sèche" gives both forms."""
    if adjective.startswith("="):
        return adjective[1:]
    made = []
    for number, part in enumerate(re.split(links, adjective)):
        lead, first, rest = _adjective(part)
        own, _, other = first.partition("|")
        if number % 2 == 0 and own not in UNCHANGED:
            first = (other or feminine(own)) if noun.gender == "f" else own
            first = many(first) if noun.plural else first
        made.append(" ".join(filter(None, (lead, first, rest))) if number % 2 == 0 else part)
    return "".join(made)


def _adjective(part: str) -> tuple[str, str, str]:
    """Part an adjective from the adverbs before it and the words behind it."""
    words = part.split()
    at = next((n for n, word in enumerate(words) if not _is_adverb(word)), 0)
    return " ".join(words[:at]), "".join(words[at : at + 1]), " ".join(words[at + 1 :])


def _is_adverb(word: str) -> bool:
    return word in ADVERBS or word.endswith(("ment", "mente"))


def _until(text: str, stops: tuple[str, ...], change: Change) -> str:
    words = text.split()
    end = next((n for n, word in enumerate(words) if _stops(word, stops)), len(words))
    return " ".join([*(change(word) for word in words[:end]), *words[end:]])


def _stops(word: str, stops: tuple[str, ...]) -> bool:
    return word in stops or word.startswith("d'")
