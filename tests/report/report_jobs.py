"""Builds jobs by hand for the tests of the report; everything in them is invented."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from decimal import Decimal
from io import BytesIO
from typing import Any, TypeVar

from PIL import Image, ImageDraw

from jobnotes.pipeline import NAMES
from jobnotes.record import (
    Action,
    AnyFact,
    Audience,
    Cause,
    Caution,
    Complaint,
    Decision,
    Evidence,
    Fact,
    Finding,
    Flag,
    Job,
    Labour,
    Machine,
    Part,
    Photo,
    Private,
    Reading,
    Recommendation,
    Recording,
    Spec,
    StageRun,
    State,
    Symptom,
    Test,
    Utterance,
    Verification,
    Wiring,
    Withdrawn,
    Word,
)
from jobnotes.report.story import Shop

NOW = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)
SHOP = Shop("Millbrook Repair Works", "4 Weir Lane\nMillbrook", "01632 960 147")
FLAG = Flag(by="numbers", code="ambiguous", why="The figure can be heard in two ways.")
Kind = TypeVar("Kind", bound=Fact)


@dataclass
class Bench:
    """A job being dictated: `say` adds a breath, `fact` a fact that rests on the last breath."""

    words: list[Word] = field(default_factory=list)
    utterances: list[Utterance] = field(default_factory=list)
    facts: list[AnyFact] = field(default_factory=list)
    photos: list[Photo] = field(default_factory=list)

    def say(self, text: str, flags: tuple[Flag, ...] = ()) -> None:
        first = len(self.words)
        for word in text.split():
            n = len(self.words)
            self.words.append(
                Word(
                    recording="r1",
                    index=n,
                    text=word,
                    start_s=n * 0.5,
                    end_s=n * 0.5 + 0.4,
                    flags=flags,
                )
            )
        breath = Utterance(
            recording="r1", index=len(self.utterances), first=first, last=len(self.words) - 1
        )
        self.utterances.append(breath)

    def evidence(self) -> tuple[Evidence, ...]:
        if not self.utterances:
            return ()
        breath = self.utterances[-1]
        words = self.words[breath.first : breath.last + 1]
        return (
            Evidence(
                recording="r1",
                first=breath.first,
                last=breath.last,
                start_s=words[0].start_s,
                end_s=words[-1].end_s,
                text=" ".join(word.text for word in words),
            ),
        )

    def fact(self, kind: type[Kind], **fields: Any) -> Kind:
        given = {
            "id": f"f{len(self.facts) + 1}",
            "state": State.CONFIRMED,
            "evidence": self.evidence(),
            "rule": "test.rule",
            **fields,
        }
        made = kind(**given)
        self.facts.append(made)  # type: ignore[arg-type]
        return made

    def reading(self, what: str, value: str, unit: str, **fields: Any) -> Reading:
        said = fields.pop("as_said", value)
        return self.fact(
            Reading, what=what, value=Decimal(value), unit=unit, as_said=said, **fields
        )

    def spec(self, what: str, low: str | None, high: str | None, unit: str, **fields: Any) -> Spec:
        ends = {"low": low and Decimal(low), "high": high and Decimal(high)}
        return self.fact(Spec, what=what, **ends, unit=unit, as_said="", **fields)

    def photo(self, caption: str, width: int = 160, height: int = 120, **fields: Any) -> Photo:
        n = len(self.photos) + 1
        made = Photo(
            id=f"p{n}",
            name=f"photo-{n}.jpg",
            sha256=f"{n:064x}",
            format="jpeg",
            width=width,
            height=height,
            caption=caption,
            **{"evidence": self.evidence(), **fields},
        )
        self.photos.append(made)
        return made

    def job(self, **fields: Any) -> Job:
        stages = tuple(StageRun(stage=name, at=NOW, done=True) for name in NAMES)
        given = {
            "id": "2026-0007",
            "created_at": NOW,
            "customer": "Ms. Ellen Marsh",
            "technician": "Tomas",
            "machine": Machine(description="leaf shredder", make="Corvel", model="LS 9"),
            "recordings": (Recording(id="r1", name="bench.m4a", format="m4a"),),
            "words": tuple(self.words),
            "utterances": tuple(self.utterances),
            "facts": tuple(self.facts),
            "photos": tuple(self.photos),
            "stages": stages,
            **fields,
        }
        return Job(**given)


def repair() -> Bench:
    """A whole job with every kind of fact, all confirmed."""
    bench = Bench()
    bench.say("she says it jams and stalls on wet leaves")
    bench.fact(Complaint, text="it jams")
    bench.fact(Complaint, text="it stalls on wet leaves")
    bench.fact(Symptom, text="it stalled on the first handful")
    bench.say("belt tension before is three point five kilos should be at least six")
    bench.reading("belt tension", "3.5", "kg", phase="before")
    bench.spec("belt tension", "6", None, "kg")
    bench.fact(Finding, what="belt tension", state_found="low")
    bench.say("belt is glazed photo of the glazed belt")
    bench.fact(Finding, what="drive belt", state_found="glazed")
    bench.photo("the glazed drive belt")
    bench.fact(Test, method="spun the rotor by hand", expected="free", observed="it drags")
    bench.fact(Cause, text="the belt slipped because the idler spring had stretched")
    bench.say("fitted the new belt and spring bolt to forty two foot pounds")
    torque = bench.reading("idler bolt torque", "42", "ft.lbf")
    bench.fact(Action, verb="install", object="drive belt")
    bench.fact(Action, verb="torque", object="idler bolt", linked=(torque.id,))
    bench.fact(Part, number="LB-771-C", name="drive belt", status="installed", price="19 dollars")
    bench.fact(Part, number="", name="idler pulley", status="reused")
    bench.fact(Decision, chosen="a new spring", alternatives=("a shim",), because="it is safer")
    bench.fact(Wiring, from_point="the switch", to_point="the relay", colour="orange")
    bench.say("tension is seven point two now")
    bench.reading("belt tension", "7.2", "kg", phase="after")
    bench.say("takes wet leaves without a stall")
    bench.fact(Verification, text="takes wet leaves without a stall")
    bench.fact(Recommendation, text="check the belt", urgency="every spring")
    bench.fact(Caution, text="the rotor runs on after you switch off")
    bench.fact(Labour, minutes=Decimal(95), as_said="an hour thirty five")
    bench.say("off the record he fed it bricks")
    bench.fact(Private, text="he fed it bricks", utterances=(6,), audience=Audience.OFFICE)
    bench.say("tension is nine no scratch that")
    bench.fact(
        Withdrawn,
        of="reading",
        text="nine",
        value=Decimal(9),
        unit="kg",
        audience=Audience.OFFICE,
    )
    return bench


def photo_bytes(photo: Photo, px: int = 0) -> bytes:
    """Draw a photo of its own size, whatever is asked for."""
    picture = Image.new("RGB", (photo.width, photo.height), "#8a8f94")
    ImageDraw.Draw(picture).ellipse((10, 10, 60, 60), fill="#3c4248")
    kept = BytesIO()
    picture.save(kept, "JPEG")
    return kept.getvalue()


Change = Callable[[AnyFact], AnyFact]


def changed(job: Job, fact_id: str, **fields: Any) -> Job:
    """Return the job with fields of one fact replaced."""
    facts = tuple(fact.having(**fields) if fact.id == fact_id else fact for fact in job.facts)
    return job.having(facts=facts)
