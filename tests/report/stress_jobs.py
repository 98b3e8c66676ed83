"""Jobs that press on the report's form: many photos, many facts, hostile words. All invented."""

from report_jobs import Bench, repair

from jobnotes.record import (
    Action,
    Cause,
    Caution,
    Complaint,
    Decision,
    Finding,
    Job,
    Machine,
    Mark,
    Part,
    Recommendation,
    Verification,
)

LONG = "w" * 300
HEBREW = "הדוד דולף"
ARABIC = "المحرك لا يعمل"
EMOJI = "it smells \U0001f525 and stops \U0001f6d1"
JOINED = "अमित कुमार স্ত্রী கொழும்பு សុខា អ្នក สมชาย አበበ"
NO_GLYPH = "\U00012000\U00012001"  # cuneiform
MARKUP = "a <b>bold</b> & </para> claim <img src='x'/> {{ 7 * 7 }} ${x}"


def bare() -> Job:
    return Bench().job()


def whole() -> Job:
    return repair().job()


def many_photos(count: int = 60) -> Job:
    bench = Bench()
    sizes = [(160, 120), (120, 160), (800, 60), (60, 800)]
    for n in range(count):
        bench.photo(f"step {chr(97 + n % 26)}" if n % 5 else "", *sizes[n % 4], evidence=())
    return bench.job()


def marked_photos() -> Job:
    bench = Bench()
    box = {"left": 0.2, "top": 0.3, "right": 0.6, "bottom": 0.7}
    for shape in ("circle", "arrow", "box", "crop"):
        bench.photo(f"the {shape}", evidence=(), marks=(Mark(shape=shape, **box),))
    return bench.job()


def many_facts(count: int = 80) -> Job:
    bench = Bench()
    for n in range(count):
        name = f"part {'abcdefghij'[n % 10] * (1 + n // 10)}"
        bench.say(f"the {name} is worn")
        if n % 4 == 0:
            bench.fact(Finding, what=name, state_found="worn")
        elif n % 4 == 1:
            bench.fact(Action, verb="replace", object=name)
        elif n % 4 == 2:
            bench.reading(f"{name} gap", f"{n}.5", "mm", where="left" if n % 8 == 2 else "")
        else:
            bench.fact(Part, number=f"Q-{n}", name=name, status="installed")
    return bench.job()


def hostile() -> Job:
    """Words without an end, from right to left, pictures, and markup, in every kind of place."""
    bench = Bench()
    for text in (LONG, HEBREW, ARABIC, JOINED, EMOJI, NO_GLYPH, MARKUP):
        bench.fact(Complaint, text=text)
        bench.fact(Finding, what=text, state_found="worn")
        bench.fact(Action, verb="clean", object=text, using=text)
        bench.fact(Verification, text=f"{text} {text}")
        bench.fact(Recommendation, text=text, urgency=text)
        bench.fact(Part, number=text, name=text, status="installed", supersedes=text)
        bench.reading(text, "12.30", "V", where=text, when=text)
        bench.photo(text, evidence=())
    bench.reading("belt tension", "3.5", "kg")
    bench.spec("belt tension", "6", "9", "kg", source=MARKUP)
    machine = Machine(description=f"{LONG} {HEBREW}", make=MARKUP, model=EMOJI, serial=ARABIC)
    return bench.job(machine=machine, customer=f"{ARABIC} {HEBREW} {EMOJI}", technician=LONG)


def long_repair() -> Job:
    """A repair told in long words."""
    bench = Bench()
    bench.say("it hesitates and misfires under acceleration")
    bench.fact(Complaint, text="it hesitates and misfires under heavy acceleration")
    bench.say("the ignition module is intermittent, insulation breakdown")
    bench.fact(Finding, what="ignition module", state_found="cracked across the insulation")
    bench.fact(Finding, what="carburetor diaphragm", state_found="stiff and perished")
    bench.fact(Cause, text="insulation inside the ignition module that breaks down with heat")
    bench.fact(Action, verb="remove", object="ignition module")
    bench.fact(Action, verb="install", object="ignition module", where="under the shroud")
    bench.fact(Action, verb="replace", object="carburetor diaphragm", using="the maker's kit")
    bench.fact(Decision, chosen="the whole module", alternatives=("a repair",), because="of age")
    bench.fact(Verification, text="ran it for twenty minutes at full throttle without a miss")
    bench.fact(Recommendation, text="replace the fuel line", urgency="before next season")
    bench.fact(Caution, text="Caution for the customer: refuel only when the engine is cold")
    return bench.job(machine=Machine(description="brush cutter"))


JOBS = {
    "bare": bare,
    "whole": whole,
    "photos": many_photos,
    "marks": marked_photos,
    "facts": many_facts,
    "hostile": hostile,
}
