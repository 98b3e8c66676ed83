"""That every rule which a fact can name says in a sentence what it looks for."""

import ast
import json
import re
from pathlib import Path

import pytest

import jobnotes.extract
from jobnotes.extract import at_once, judging, spec_cues, takebacks, worked
from jobnotes.extract.cues import FILES
from jobnotes.extract.meanings import GONE, rule, rule_ids
from jobnotes.extract.vocabulary import rules
from jobnotes.record import State
from jobnotes.unstored import understood

SOURCES = Path(jobnotes.extract.__file__).parent
# the half of the corpus that is read (tests/corpus/README.md)
CORPUS = sorted((Path(__file__).parent.parent / "corpus").glob("u*.json"))[:12]
FAMILIES = {*FILES, "corrections", "specs", "parts", "measures"}


def literals(path: Path) -> set[str]:
    """Every text of the form "family.name" in a module."""
    texts = (node.value for node in ast.walk(ast.parse(path.read_text())) if is_text(node))
    return {text for text in texts if text.partition(".")[0] in FAMILIES and is_id(text)}


def is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def is_id(text: str) -> bool:
    return bool(re.fullmatch(r"[a-z_]+\.[a-z][a-z_-]*", text)) and not text.endswith(".toml")


def texts_given_to(path: Path, name: str) -> set[str]:
    """Every text given to calls of a class in a module."""
    calls = (node for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Call))
    named = (call for call in calls if isinstance(call.func, ast.Name) and call.func.id == name)
    return {arg.value for call in named for arg in call.args if is_text(arg)}


def returned(path: Path, function: str) -> set[str]:
    """Every text that a function of a module returns."""
    nodes = ast.walk(ast.parse(path.read_text()))
    (found,) = [n for n in nodes if isinstance(n, ast.FunctionDef) and n.name == function]
    asked = {m for n in ast.walk(found) if isinstance(n, ast.Compare) for m in ast.walk(n)}
    values = [n.value for n in ast.walk(found) if isinstance(n, ast.Return) and n.value]
    nodes = {node for value in values for node in ast.walk(value)} - asked
    return {node.value for node in nodes if is_text(node)}


def test_every_rule_that_the_finders_name_has_a_meaning():
    named = {text for path in SOURCES.glob("*.py") for text in literals(path)}
    assert len(named) > 90
    assert named - set(rule_ids()) == set()


def test_every_group_of_phrases_that_announces_a_fact_has_a_meaning():
    listed = {f"{file}.{name}" for file in FILES for name in rules(file).get("cues", {})}
    assert listed - set(rule_ids()) == set()


def test_every_way_of_taking_back_has_a_meaning():
    modules = (takebacks, at_once)
    given = {t for one in modules for t in texts_given_to(Path(one.__file__), "TakeBack")}
    named = given | {"at-once", "weak"}
    assert {"trailing", "by-words"} < named
    assert {f"corrections.{name}" for name in named} - set(rule_ids()) == set()


def test_every_way_of_telling_a_limit_has_a_meaning():
    modules = (judging, spec_cues)
    given = {text for one in modules for text in texts_given_to(Path(one.__file__), "SpecCue")}
    named = given - {"", "low", "high"}
    assert {"bound", "tolerance", "same"} <= named
    assert {f"specs.{name}" for name in named} - set(rule_ids()) == set()


def test_every_verb_that_an_object_asks_for_has_a_meaning():
    path = Path(worked.__file__)
    asked = ("_fitting", "_meaning", "_for_stuff", "_tightening")
    verbs = {verb for name in asked for verb in returned(path, name)} - {""}
    assert {"change", "reset", "torque"} <= verbs
    assert {f"actions.{verb}" for verb in verbs} - set(rule_ids()) == set()


def test_every_quantity_verb_fate_and_limit_has_a_meaning():
    specs = [one["id"] for side in ("before", "after") for one in rules("specs")[side]]
    verbs = [*rules("actions")["verbs"], *rules("actions")["gapped"]]
    wanted = {
        *(f"measures.{one['id']}" for one in rules("measures")["measure"]),
        *(f"specs.{name}" for name in (*specs, "same", "range", "never-over", "never-under")),
        *(f"parts.{name}" for name in (*rules("parts")["status"], "numbers", "superseded")),
        *(f"actions.{verb.replace(' ', '-')}" for verb in verbs),
    }
    assert wanted - set(rule_ids()) == set()


def test_each_meaning_is_one_plain_sentence():
    for rule_id in rule_ids():
        meaning = rule(rule_id).meaning
        assert re.fullmatch(r"[A-Z][^.;:{}]+\.", meaning.replace("...", "")), rule_id


@pytest.mark.parametrize("path", CORPUS, ids=lambda path: path.stem.split("-")[0])
def test_every_fact_of_a_dictation_names_a_rule_with_a_meaning(path, tmp_path):
    said = tmp_path / "said.txt"
    lines = [one["text"] for one in json.loads(path.read_text("utf-8"))["utterances"]]
    said.write_text("\n".join(lines), "utf-8")
    facts = [fact for fact in understood(said).facts if fact.state is State.PROPOSED]
    assert facts
    assert {fact.rule for fact in facts} - set(rule_ids()) == set()


def test_a_rule_shows_the_phrases_that_its_file_lists():
    assert rule("causes.leads").phrases == tuple(rules("causes")["cues"]["leads"])
    assert "megger" in rule("measures.insulation").phrases
    assert "at least" in rule("specs.floor").phrases
    assert "take apart" in rule("actions.disassemble").phrases


def test_a_quantity_is_named_in_its_meaning():
    assert "insulation resistance" in rule("measures.insulation").meaning


def test_a_rule_that_is_no_more_says_so():
    assert rule("causes.long-gone").meaning == rule(GONE).meaning
