"""Every rule by its id: what it looks for in one sentence, and the words that it lists."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import chain
from typing import Any

from jobnotes.extract.vocabulary import rules

EACH = "each"  # the sentence that serves every entry of a file
GONE = "office.gone"

# The rules of corrections.py that rest on words listed under another name.
LISTED = {"at-once": "strong", "reason": "strong", "erased": "erase", "at-head": "head"}


@dataclass(frozen=True)
class Rule:
    """A rule: its id, what it looks for in a sentence, and the phrases that it knows it by."""

    id: str
    meaning: str
    phrases: tuple[str, ...] = ()


def rule(rule_id: str) -> Rule:
    """Return the rule of that id ("causes.leads"); a job may name one that is no more."""
    if rule_id not in rule_ids():
        return Rule(rule_id, rule(GONE).meaning)
    file, _, name = rule_id.partition(".")
    told: dict[str, str] = rules("meanings")[file]
    if name in told and name != EACH:
        return Rule(rule_id, told[name], _phrases(file, name))
    thing = _entries(file)[name]
    return Rule(rule_id, told[EACH].format(name=thing), _phrases(file, name))


@cache
def rule_ids() -> tuple[str, ...]:
    """Return the id of every rule that has a meaning, by file and name."""
    told: dict[str, dict[str, str]] = rules("meanings")
    names = {file: {*meanings} - {EACH} for file, meanings in told.items()}
    for file in (file for file, meanings in told.items() if EACH in meanings):
        names[file] |= set(_entries(file))
    return tuple(f"{file}.{name}" for file in sorted(names) for name in sorted(names[file]))


def _entries(file: str) -> dict[str, str]:
    """Return the entries that share a sentence, each with the name that stands in it."""
    if file == "measures":
        return {entry["id"]: entry["name"] for entry in rules(file)["measure"]}
    if file == "parts":
        return {status: status for status in rules(file)["status"]}
    verbs = chain(rules("actions")["verbs"], rules("actions")["gapped"])
    return {verb.replace(" ", "-"): verb for verb in verbs}


def _phrases(file: str, name: str) -> tuple[str, ...]:
    """Return the phrases of a rule as its file lists them; none where it rests on grammar."""
    if file not in LISTS:
        return tuple(_cues(file, name))
    return tuple(LISTS[file](name))


def _cues(file: str, name: str) -> list[str]:
    listed: dict[str, list[str]] = rules(file).get("cues", {}) if file != "office" else {}
    return listed.get(name, [])


def _of_measure(name: str) -> Iterator[str]:
    entry: dict[str, Any] = next(one for one in rules("measures")["measure"] if one["id"] == name)
    for kind in ("nouns", "verbs", "hints"):
        yield from entry.get(kind, [])


def _of_spec(name: str) -> list[str]:
    told = rules("specs")
    listed: dict[str, list[str]] = {
        one["id"]: one["phrases"] for one in (*told["before"], *told["after"])
    }
    listed["same"] = told["same"]["phrases"]
    return listed.get(name, [])


def _of_part(name: str) -> list[str]:
    told = rules("parts")
    if name == "superseded":
        return [*told[name]["old_before"], *told[name]["old_after"]]
    status = told["status"].get(name, {})
    return [*status.get("before", []), *status.get("after", [])]


def _of_action(name: str) -> list[str]:
    told, verb = rules("actions"), name.replace("-", " ")
    gapped = told["gapped"].get(verb, "").replace("\n", "").split(";")
    plain = told["verbs"].get(verb, "").split()
    return [*plain, *filter(None, gapped)] or _cues("actions", name)


def _of_correction(name: str) -> list[str]:
    return _cues("corrections", LISTED.get(name, name))


LISTS = {
    "measures": _of_measure,
    "specs": _of_spec,
    "parts": _of_part,
    "actions": _of_action,
    "corrections": _of_correction,
}
