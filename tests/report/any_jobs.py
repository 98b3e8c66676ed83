"""Generated jobs: any number of facts and photos, in any state, with hostile words around them.

Every fact carries a word and a figure that no other has, so that each can be looked for in print.
"""

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from hypothesis import strategies as st
from PIL import Image
from PIL.ExifTags import IFD, Base
from report_jobs import FLAG, Bench

from jobnotes.record import (
    Action,
    Audience,
    Cause,
    Caution,
    Complaint,
    Decision,
    Fact,
    Finding,
    Job,
    Labour,
    Machine,
    Part,
    Photo,
    Private,
    Reading,
    Recommendation,
    Spec,
    State,
    Symptom,
    Test,
    Verification,
    Wiring,
    Withdrawn,
)

LETTERS = "bcdfghjklmnpqrstvwxz"
HOSTILE = [
    "", "", "", "the belt", "w" * 300, "הדוד דולף", "المحرك", "\U0001f525", "<b>bold</b> & {{ x }}",
    "</para><script>", "\x00\x1b[0m", "a\u202eb", "\ufeff", "'\"`", "日本語", "\ud7ff\ue000",
    "अमित कुमार" * 20, "สมชาย", "አበበ日",
    "\U00012000", "ܝܘܚܢܢ 12", "𞤀𞤣𞤢𞤥", "\U0001f469\u200d\U0001f527",
    "LOUD NOISE", "um, uh", "…", "((", "\\n", "%s%n", "\u0301\u0301", "\N{NO-BREAK SPACE}",
]  # fmt: skip
UNITS = ["V", "psi", "thou", "ft.lbf", "degF", "rpm", "ohm", "in", "h"]
WORDS = {  # the field that takes the fact's own word
    Complaint: "text", Symptom: "text", Test: "method", Finding: "what", Cause: "text",
    Action: "object", Decision: "chosen", Recommendation: "text", Verification: "text",
    Caution: "text", Wiring: "from_point", Part: "name", Reading: "what", Spec: "what",
    Labour: "as_said", Private: "text", Withdrawn: "text",
}  # fmt: skip
HIDDEN = "qhiddenphotoyq"  # in the caption of each photo that the office left out
PLACED = b"QPLACEDBYQ"  # in what the camera wrote of its place and its maker


def as_the_camera_wrote_it(folder: Path, photo: Photo) -> Path:
    """Write the photo's original: pixels, its place, the camera's number, a thumbnail."""
    path = folder / f"{photo.width}x{photo.height}.jpg"
    if not path.exists():
        exif = Image.Exif()
        exif[Base.Make] = PLACED.decode()
        exif.get_ifd(IFD.Exif)[Base.BodySerialNumber] = PLACED.decode()
        exif.get_ifd(IFD.GPSInfo).update({1: "N", 2: (1.0, 2.0, 3.0), 29: PLACED.decode()})
        Image.new("RGB", (photo.width, photo.height), "#8a8f94").save(path, exif=exif)
    return path


@dataclass(frozen=True, repr=False)
class Made:
    """A job, and of each fact the word that only it has."""

    job: Job
    words: dict[str, str]

    def __repr__(self) -> str:
        return f"Made({len(self.job.facts)} facts, {len(self.job.photos)} photos)"


def own_word(number: int) -> str:
    """A word of letters alone that stands for a number, and is the start of no other."""
    one, two, three = number // 400, number // 20 % 20, number % 20
    return f"q{LETTERS[one]}{LETTERS[two]}{LETTERS[three]}yq"


def own_value(number: int) -> Decimal:
    return Decimal(2000 + 37 * number) / 10 + Decimal("0.1") * (number % 3)


def fields_of(kind: type[Fact], number: int, text: str, unit: str) -> dict[str, object]:
    """Fill what a kind asks for beyond its own word."""
    value = own_value(number)
    more: dict[type, dict[str, object]] = {
        Test: {"observed": text},
        Finding: {"state_found": text or "worn"},
        Action: {"verb": "clean", "using": text},
        Decision: {"alternatives": (text,), "because": text},
        Recommendation: {"urgency": text},
        Wiring: {"to_point": text, "colour": text},
        Part: {"number": text, "status": "installed"},
        Reading: {"value": value, "unit": unit, "as_said": str(value), "where": text},
        Spec: {"low": value, "high": None, "unit": unit, "as_said": "", "source": text},
        Labour: {"minutes": value},
        Private: {"utterances": (), "audience": Audience.OFFICE},
        Withdrawn: {"of": "reading", "value": value, "unit": unit, "audience": Audience.OFFICE},
    }
    return more.get(kind, {})


@st.composite
def jobs(draw: st.DrawFn, settled: bool) -> Made:
    """Draw a job; in a settled one no customer's fact waits for the office."""
    bench, words = Bench(), {}
    states = [State.CONFIRMED, State.CORRECTED, State.REJECTED] + [State.PROPOSED] * (not settled)
    for number in range(draw(st.integers(0, 80))):
        kind = draw(st.sampled_from(list(WORDS)))
        text, word = draw(st.sampled_from(HOSTILE)), own_word(number)
        bench.say(f"{word} is said here")
        fields = fields_of(kind, number, text, draw(st.sampled_from(UNITS)))
        audience = draw(st.sampled_from([Audience.CUSTOMER] * 3 + [Audience.OFFICE]))
        fact = bench.fact(
            kind,
            **{
                WORDS[kind]: f"{word} {text}".strip(),
                "state": draw(st.sampled_from(states)),
                "audience": audience,
                "flags": (FLAG,) if not settled and draw(st.integers(0, 5)) == 0 else (),
                **fields,
            },
        )
        words[fact.id] = word
    for _ in range(draw(st.sampled_from([0, 0, 1, 2, 3, 7, 20, 60]))):
        caption = draw(st.sampled_from([*HOSTILE, "rim before", "rim after"]))
        size = draw(st.sampled_from([(64, 48), (48, 64), (300, 20), (20, 300)]))
        shown = draw(st.sampled_from([True] * 4 + [False]))
        told = caption if shown else f"{HIDDEN} {caption}"
        bench.photo(told, *size, evidence=(), included=shown, has_location=True)
    about = draw(st.sampled_from(HOSTILE))
    return Made(bench.job(machine=Machine(description=about, make=about), customer=about), words)
