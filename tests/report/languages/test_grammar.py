"""Gender, number, articles, elision and contraction; plain grammar of both languages."""

import pytest

from jobnotes.report.languages.grammar import French, Noun, Spanish

FR, ES = French(), Spanish()


@pytest.mark.parametrize(
    ("noun", "told"),
    [
        (Noun("courroie", "f"), "la courroie"),
        (Noun("essieu"), "l'essieu"),
        (Noun("huile", "f"), "l'huile"),
        (Noun("hélice", "f"), "l'hélice"),
        (Noun("hauteur", "f"), "la hauteur"),
        (Noun("vis", "f", plural=True), "les vis"),
    ],
)
def test_the_french_article_elides(noun, told):
    assert FR.the(noun) == told


@pytest.mark.parametrize(
    ("preposition", "noun", "told"),
    [
        ("de", Noun("moteur"), "du moteur"),
        ("de", Noun("huile", "f"), "de l'huile"),
        ("de", Noun("vis", "f", plural=True), "des vis"),
        ("à", Noun("carter"), "au carter"),
        ("aux bornes de", Noun("batteries", "f", plural=True), "aux bornes des batteries"),
    ],
)
def test_french_contracts_preposition_and_article(preposition, noun, told):
    assert FR.joined(preposition, FR.the(noun)) == told


def test_spanish_contracts_preposition_and_article():
    assert ES.joined("de", ES.the(Noun("motor"))) == "del motor"
    assert ES.joined("a", ES.the(Noun("eje"))) == "al eje"
    assert ES.joined("dentro de", ES.the(Noun("cuba", "f"))) == "dentro de la cuba"


def test_a_stressed_a_takes_the_masculine_article_in_spanish():
    assert ES.the(Noun("agua", "f")) == "el agua"
    assert ES.the(Noun("aspas del ventilador", "f", plural=True)) == "las aspas del ventilador"
    assert ES.the(Noun("arandela", "f")) == "la arandela"


@pytest.mark.parametrize(
    ("grammar", "single", "plural"),
    [
        (FR, "bougie d'allumage", "bougies d'allumage"),
        (FR, "tuyau", "tuyaux"),
        (FR, "pneu", "pneus"),
        (FR, "joint torique", "joints toriques"),
        (FR, "vis sans tête", "vis sans tête"),
        (FR, "palier principal", "paliers principaux"),
        (ES, "correa de transmisión", "correas de transmisión"),
        (ES, "pistón", "pistones"),
        (ES, "retén", "retenes"),
        (ES, "eje hexagonal", "ejes hexagonales"),
        (ES, "luz", "luces"),
        (ES, "chasis", "chasis"),
    ],
)
def test_a_name_in_the_plural(grammar, single, plural):
    assert grammar.plural(single) == plural


@pytest.mark.parametrize(
    ("grammar", "adjective", "noun", "told"),
    [
        (FR, "usé", Noun("courroies", "f", plural=True), "usées"),
        (FR, "sec|sèche", Noun("bougie", "f"), "sèche"),
        (FR, "laiteux", Noun("huile", "f"), "laiteuse"),
        (FR, "sec|sèche et bruyant", Noun("roues", "f", plural=True), "sèches et bruyantes"),
        (FR, "=hors d'usage", Noun("bougies", "f", plural=True), "hors d'usage"),
        (ES, "roto", Noun("correas", "f", plural=True), "rotas"),
        (ES, "brillante", Noun("tuercas", "f", plural=True), "brillantes"),
        (ES, "azul", Noun("bujía", "f"), "azul"),
    ],
)
def test_an_adjective_agrees(grammar, adjective, noun, told):
    assert grammar.agreed(adjective, noun) == told


def test_work_done_is_told_in_the_past():
    assert FR.past("déposer") == "déposé"
    assert ES.past("desmontar") == "desmontamos"
    assert ES.past("pulir") == "pulimos"


def test_a_clause_is_told_of_several_things():
    assert FR.many("ne tournait pas") == "ne tournaient pas"
    assert ES.many("no giraba") == "no giraban"
