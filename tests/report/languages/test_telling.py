"""Facts told in French and Spanish: agreement, lists, places, and quotes of what has no word."""

import pytest
from report_jobs import SHOP, Bench

from jobnotes.record import Action, Complaint, Finding, Part, Recommendation, Verification, Wiring
from jobnotes.report.content import story
from jobnotes.report.languages import quoting
from jobnotes.report.languages.choice import tongue
from jobnotes.report.story import Item, PartRow
from jobnotes.report.untold import untold

THIN = "\N{NARROW NO-BREAK SPACE}"


def told(bench: Bench, language: str, **terms: dict[str, str]) -> list[str]:
    """The sentences of a job, marks of quoting as square brackets."""
    made = story(bench.job(), SHOP, draft=False, tongue=tongue(language, terms))
    items = [b for part in made.sections if part.key != "care" for b in part.blocks]
    texts = [b.sentence.text for b in items if isinstance(b, Item)]
    return [text.replace(quoting.SAID, "[").replace(quoting.END, "]") for text in texts]


def finding(language: str, **fields: object) -> str:
    bench = Bench()
    bench.say("as it was found")
    bench.fact(Finding, **fields)
    return told(bench, language)[0]


@pytest.mark.parametrize(
    ("what", "state", "french", "spanish"),
    [
        ("belt", "worn", "La courroie était usée.", "La correa estaba gastada."),
        ("belts", "worn", "Les courroies étaient usées.", "Las correas estaban gastadas."),
        ("spark", "none", "Il n'y avait pas d'étincelle.", "No había chispa."),
        (
            "bearing", "no play",
            "Le roulement ne présentait pas de jeu.", "El rodamiento no presentaba juego.",
        ),
        (
            "bore", "a crack",
            "L'alésage présentait une fissure.", "El diámetro interior presentaba una grieta.",
        ),
        (
            "battery cable", "green corrosion at the lug",
            "Le câble de batterie présentait de la corrosion verte à la cosse.",
            "El cable de batería presentaba corrosión verde en el terminal.",
        ),
        (
            "drive belt", "glazed, cracked, slipping",
            "La courroie d'entraînement était glacée, fissurée et patinait.",
            "La correa de transmisión estaba cristalizada, agrietada y patinando.",
        ),
    ],
)  # fmt: skip
def test_a_state_agrees_with_its_thing(what, state, french, spanish):
    assert finding("fr", what=what, state_found=state) == french
    assert finding("es", what=what, state_found=state) == spanish


def test_a_denied_state_is_denied():
    fields = {"what": "seal", "state_found": "leaking", "negated": True}
    assert finding("fr", **fields) == "Le joint d'étanchéité ne fuyait pas."
    assert finding("es", **fields) == "El retén no tenía fuga."


def test_a_denial_is_not_doubled():
    fields = {"what": "bearing", "state_found": "no play", "negated": True}
    assert finding("es", **fields) == "El rodamiento no presentaba juego."


def test_a_state_without_translation_is_quoted_beside_its_thing():
    fields = {"what": "belts", "state_found": "like last year's liquorice"}
    quoted = f"Courroies{THIN}: «{THIN}[like last year's liquorice]{THIN}»."
    assert finding("fr", **fields) == quoted
    assert finding("es", **fields) == "Correas: «[like last year's liquorice]»."


def test_a_thing_without_translation_is_quoted_inside_its_sentence():
    fields = {"what": "frobnicator", "state_found": "worn"}
    assert finding("es", **fields) == "El elemento llamado «[frobnicator]» estaba gastado."


def test_deeds_on_one_thing_stand_in_one_sentence():
    bench = Bench()
    for verb in ("remove", "clean", "install"):
        bench.say(verb)
        bench.fact(Action, verb=verb, object="spark plugs")
    assert told(bench, "fr") == [
        "Nous avons déposé les bougies d'allumage, les avons nettoyées et les avons montées."
    ]
    assert told(bench, "es") == ["Desmontamos las bujías, las limpiamos y las montamos."]


def test_a_torque_and_a_setting_are_told_with_their_figures():
    bench = Bench()
    bench.say("torqued")
    torque = bench.reading("torque", "25", "N.m")
    gap = bench.reading("spark plug gap", "0.7", "mm")
    bench.fact(Action, verb="torque", object="head bolts", linked=(torque.id,))
    bench.fact(Action, verb="gap", object="spark plug", linked=(gap.id,))
    first, second = told(bench, "fr")
    assert first == f"Nous avons serré les vis de culasse au couple de 25{THIN}N·m."
    assert second == f"Nous avons réglé l'écartement de la bougie d'allumage à 0,7{THIN}mm."


def test_a_verb_without_translation_is_quoted_whole():
    bench = Bench()
    bench.say("defrobbed it")
    bench.fact(Action, verb="defrob", object="spark plug")
    assert told(bench, "es") == ["Hicimos esto: «[defrobed the spark plug]»."]


def test_oil_is_poured_and_a_tank_is_filled():
    bench = Bench()
    bench.say("filled")
    bench.fact(Action, verb="fill", object="pump oil")
    bench.fact(Action, verb="fill", object="fuel tank")
    assert told(bench, "es") == [
        "Vertimos el aceite de la bomba.", "Llenamos el depósito de combustible.",
    ]  # fmt: skip


def test_a_place_and_a_tool_follow_the_thing():
    bench = Bench()
    bench.say("cleaned")
    bench.fact(Action, verb="clean", object="magnets", where="on the flywheel", using="emery cloth")
    assert told(bench, "fr") == [
        "Nous avons nettoyé les aimants sur le volant moteur avec de la toile émeri."
    ]


def test_a_complaint_is_translated_or_quoted_as_said():
    bench = Bench()
    bench.say("won't start and quit halfway round the yard")
    bench.fact(Complaint, text="won't start")
    bench.fact(Complaint, text="quit halfway round the yard")
    assert told(bench, "es") == ["«No arranca.»", "«[Quit halfway round the yard.]»"]


def test_advice_is_told_with_its_interval():
    bench = Bench()
    bench.say("check the belt every fifty hours")
    bench.fact(Recommendation, text="checking the belt", urgency="every fifty hours")
    assert told(bench, "fr") == ["Contrôler la courroie toutes les 50 heures."]
    assert told(bench, "es") == ["Revisar la correa cada 50 horas."]


def test_a_list_of_known_phrases_is_translated_but_never_half_of_it():
    bench = Bench()
    bench.say("fuse holds, no drips at the pump")
    bench.fact(Verification, text="fuse holds, no drips at the pump")
    bench.fact(Verification, text="fuse holds, happy as a clam")
    whole, quoted = told(bench, "es")
    assert whole == "El fusible aguanta, sin goteos en la bomba."
    assert quoted == "«[Fuse holds, happy as a clam]»."


def test_a_wire_is_told_with_both_ends():
    bench = Bench()
    bench.say("wire")
    bench.fact(Wiring, from_point="coil tab", to_point="engine switch", colour="black and yellow")
    (french,) = told(bench, "fr")
    assert french == "Un fil noir et jaune va de la cosse de la bobine à l'interrupteur du moteur."


def test_compound_names_take_their_modifiers_behind_the_head():
    spoken = tongue("fr")
    assert spoken.name("left exhaust valves") == "soupapes d'échappement gauches"
    assert spoken.name("drain and vent screws") == "vis de vidange et vis de mise à l'air"
    assert spoken.name("cylinder two") == "cylindre 2"
    assert tongue("es").name("rear wheel bearing") == "rodamiento de rueda trasero"


def test_a_shops_own_term_comes_first():
    bench = Bench()
    bench.say("spider cage")
    bench.fact(Finding, what="spider cage", state_found="worn")
    own = {"spider cage": "cage de croisillon f"}
    assert told(bench, "fr", things=own) == ["La cage de croisillon était usée."]


def test_the_office_is_told_what_has_no_translation():
    bench = Bench()
    bench.say("widget")
    bench.fact(Part, number="W-1", name="frobnicator", status="installed")
    made = story(bench.job(), SHOP, draft=True, tongue=tongue("es"))
    assert untold(made.title, made.sections) == ("frobnicator",)
    assert any("frobnicator" in note for note in made.notes)
    (row,) = [b for part in made.sections for b in part.blocks if isinstance(b, PartRow)]
    assert row.number == "W-1"
