"""Forms of the verbs in the rule files: past and -ing, and the plain infinitive each stands for."""

from collections.abc import Iterable, Iterator
from functools import cache

from jobnotes.extract.vocabulary import rules

VOWELS = "aeiou"


def all_forms(bases: Iterable[str]) -> set[str]:
    """Return the plain form, -s, -ing and past forms of each verb."""
    forms: set[str] = set()
    for base in bases:
        forms |= {base, third_person(base), ing(base), *past(base)}
    return forms


def past(base: str) -> tuple[str, ...]:
    """Return the past and the participle of a verb."""
    irregular = rules("actions")["irregular"].get(base)
    if irregular:
        return tuple(irregular.split())
    if base.endswith("e"):
        return (base + "d",)
    if base.endswith("y") and base[-2] not in VOWELS:
        return (base[:-1] + "ied",)
    return (_doubled(base) + "ed",)


def ing(base: str) -> str:
    """Return the -ing form of a verb."""
    if base.endswith("ie"):
        return base[:-2] + "ying"
    if base.endswith("e") and not base.endswith("ee"):
        return base[:-1] + "ing"
    return _doubled(base) + "ing"


def third_person(base: str) -> str:
    """Return the -s form of a verb."""
    if base.endswith("y") and base[-2] not in VOWELS:
        return base[:-1] + "ies"
    return base + ("es" if base.endswith(("s", "x", "z", "ch", "sh", "o")) else "s")


def _doubled(base: str) -> str:
    """Double a last consonant after one short stressed vowel: "fit", "regap", but not "loosen"."""
    short = (
        len(base) > 2
        and base[-1] not in "aeiouwxyh"
        and base[-2] in VOWELS
        and base[-3] not in VOWELS
    )
    stem = base.removeprefix("re").removeprefix("un")
    if short and sum(letter in VOWELS for letter in stem) == 1:
        return base + base[-1]
    return base


@cache
def infinitive_of() -> dict[str, str]:
    """Map every past and -ing form of a single-word verb to the infinitive kept for it."""
    forms: dict[str, str] = {}
    for infinitive, bases in rules("actions")["verbs"].items():
        for base in bases.split():
            for form in (*past(base), ing(base)):
                forms.setdefault(form, infinitive)
    return forms


@cache
def plain_forms() -> dict[str, str]:
    """Map the plain form of a single-word verb to the infinitive kept for it."""
    return {
        base: infinitive
        for infinitive, bases in rules("actions")["verbs"].items()
        for base in bases.split()
    }


@cache
def all_plain() -> frozenset[str]:
    """Return the plain form of every verb: of work, of faults and of what a sound thing does."""
    behaviours = rules("findings")["behaviours"]["words"].split()
    faults = rules("findings")["faults"]["words"].split()
    gapped_bases = {base for base, _, _ in _particle_verbs()}
    return frozenset([*plain_forms(), *behaviours, *faults, *gapped_bases])


@cache
def gapped() -> dict[str, tuple[tuple[tuple[str, ...], str], ...]]:
    """Map each form of a verb to its particles, longest first, and their infinitives."""
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for base, particles, infinitive in _particle_verbs():
        for form in dict.fromkeys((base, *past(base), ing(base))):
            found.setdefault(form, []).append((particles, infinitive))
    return {
        form: tuple(sorted(options, key=lambda o: -len(o[0]))) for form, options in found.items()
    }


def _particle_verbs() -> Iterator[tuple[str, tuple[str, ...], str]]:
    for infinitive, phrases in rules("actions")["gapped"].items():
        for phrase in phrases.replace("\n", "").split(";"):
            base, *particles = phrase.split()
            yield base, tuple(particles), infinitive


@cache
def past_forms() -> frozenset[str]:
    """Return every form that can say that work was done or is being done."""
    bases = {base for base, _, _ in _particle_verbs()}
    told = {form for base in bases for form in (*past(base), ing(base))}
    return frozenset(infinitive_of()) | frozenset(told)
