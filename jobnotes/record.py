"""The central record: one immutable, serialisable `Job` that every stage reads and adds to."""

from datetime import datetime
from decimal import Decimal
from enum import StrEnum
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field

RECORD_VERSION = 1
Language = Literal["en", "fr", "es"]  # in which a customer may be told of a repair


class Model(BaseModel):
    """Base of every part of the record: immutable, and strict about unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    def having(self, **changes: Any) -> Self:
        """Return a copy with the given fields replaced; field names are checked, values trusted."""
        unknown = changes.keys() - type(self).model_fields.keys()
        if unknown:
            raise AttributeError(f"{type(self).__name__} has no {sorted(unknown)}")
        return self.model_copy(update=changes)


class State(StrEnum):
    """What a person has said of a fact."""

    PROPOSED = "proposed"
    CONFIRMED = "confirmed"
    CORRECTED = "corrected"
    REJECTED = "rejected"


class Audience(StrEnum):
    """Who may read a fact."""

    CUSTOMER = "customer"
    OFFICE = "office"


class Flag(Model):
    """Why a person must look: `by` is the stage that raised it, `options` the readings in doubt."""

    by: str
    code: str
    why: str
    options: tuple[str, ...] = ()
    open: bool = True


class Recording(Model):
    """One stretch of speech: a recording (`sha256` of original) or typed lines (no `sha256`)."""

    id: str
    name: str
    sha256: str = ""
    format: str
    duration_s: float = 0.0
    started_at: datetime | None = None
    zone_known: bool = False
    flags: tuple[Flag, ...] = ()
    erased_at: datetime | None = None  # its original, and what was private in it


class Word(Model):
    """One word as heard; never edited. `index` counts from 0 within its recording."""

    recording: str
    index: int
    text: str
    start_s: float
    end_s: float
    probability: float = 1.0
    flags: tuple[Flag, ...] = ()
    meant: str = ""  # the trade word that it was taken for by its sound, which the rules read


class Utterance(Model):
    """One breath: words `first` to `last` (both included) of a recording."""

    recording: str
    index: int
    first: int
    last: int


class Evidence(Model):
    """The words a fact came from: `first` to `last` (both included), their seconds and text."""

    recording: str
    first: int
    last: int
    start_s: float
    end_s: float
    text: str


class Mark(Model):
    """A mark drawn beside a photo, in fractions (0 to 1) of the upright picture's sides."""

    shape: Literal["circle", "arrow", "box", "crop"]
    left: float
    top: float
    right: float
    bottom: float


class Photo(Model):
    """A picture of the work: `sha256` names the untouched original; sizes in pixels, upright."""

    id: str
    name: str
    sha256: str
    format: str
    width: int
    height: int
    taken_at: datetime | None = None
    zone_known: bool = False
    has_location: bool = False
    sharpness: float = 0.0
    brightness: float = 0.0
    likeness: str = ""  # what two photos of the same thing share, in hexadecimal figures
    caption: str = ""
    evidence: tuple[Evidence, ...] = ()
    matched_by: Literal["", "time", "words", "time and words", "person"] = ""
    confidence: float = 0.0
    marks: tuple[Mark, ...] = ()
    included: bool = True
    flags: tuple[Flag, ...] = ()


class Fact(Model):
    """What every fact carries: its evidence, the rule that saw it, what is still in doubt."""

    id: str = ""
    evidence: tuple[Evidence, ...] = ()
    rule: str = ""
    confidence: float = 1.0
    flags: tuple[Flag, ...] = ()
    state: State = State.PROPOSED
    audience: Audience = Audience.CUSTOMER

    @property
    def open_flags(self) -> tuple[Flag, ...]:
        """Return the flags that nobody has settled."""
        return tuple(flag for flag in self.flags if flag.open)


class Complaint(Fact):
    """What the customer says is wrong, in the speaker's own words."""

    kind: Literal["complaint"] = "complaint"
    text: str


class Symptom(Fact):
    """A complaint that the technician saw (`reproduced`) or could not bring about."""

    kind: Literal["symptom"] = "symptom"
    text: str
    reproduced: bool = True


class Test(Fact):
    """A test: how, under which condition, what should have come, what came, what it means."""

    __test__ = False  # pytest must not take it for a test class
    kind: Literal["test"] = "test"
    method: str
    condition: str = ""
    expected: str = ""
    observed: str = ""
    conclusion: str = ""


class Reading(Fact):
    """A measured value in the unit spoken; `as_said` is how it is printed ("3/8", "12.30")."""

    kind: Literal["reading"] = "reading"
    what: str
    value: Decimal
    unit: str
    as_said: str
    where: str = ""
    when: str = ""
    setting: str = ""
    phase: Literal["", "before", "after"] = ""


class Spec(Fact):
    """What a value should be: floor (no `high`), ceiling (no `low`), range or one value."""

    kind: Literal["spec"] = "spec"
    what: str
    low: Decimal | None
    high: Decimal | None
    unit: str
    as_said: str
    where: str = ""
    source: str = ""


PartStatus = Literal[
    "installed", "removed", "ordered", "reused", "quoted", "discarded", "mentioned"
]


class Part(Fact):
    """A part by number, by name, or both; `price` (as said) is for the office only."""

    kind: Literal["part"] = "part"
    number: str
    name: str
    status: PartStatus = "mentioned"
    quantity: int | None = None
    supersedes: str = ""
    price: str = ""


class Wiring(Fact):
    """A connection: from where to where, the wire's colour, its connector, what it is for."""

    kind: Literal["wiring"] = "wiring"
    from_point: str
    to_point: str
    colour: str = ""
    connector: str = ""
    purpose: str = ""


class Finding(Fact):
    """The state something was found in; `negated` when the speaker says that it is not so."""

    kind: Literal["finding"] = "finding"
    what: str
    state_found: str
    where: str = ""
    negated: bool = False


class Cause(Fact):
    """Why the machine failed, in the speaker's own words."""

    kind: Literal["cause"] = "cause"
    text: str


class Action(Fact):
    """Work done: plain infinitive, object, where, with what; `linked` are ids of its readings."""

    kind: Literal["action"] = "action"
    verb: str
    object: str
    where: str = ""
    using: str = ""
    linked: tuple[str, ...] = ()


class Decision(Fact):
    """A choice: what was chosen, over what, and because of what."""

    kind: Literal["decision"] = "decision"
    chosen: str
    alternatives: tuple[str, ...] = ()
    because: str = ""


class Recommendation(Fact):
    """What the customer is advised to do, and by when if that was said."""

    kind: Literal["recommendation"] = "recommendation"
    text: str
    urgency: str = ""


class Verification(Fact):
    """How the repair was seen to work."""

    kind: Literal["verification"] = "verification"
    text: str


class Caution(Fact):
    """A danger that the speaker warns of."""

    kind: Literal["caution"] = "caution"
    text: str


class Labour(Fact):
    """Labour time in minutes; `as_said` is how it was spoken."""

    kind: Literal["labour"] = "labour"
    minutes: Decimal
    as_said: str


class Private(Fact):
    """A remark not for the customer; `utterances` are counted over the job."""

    kind: Literal["private"] = "private"
    text: str
    utterances: tuple[int, ...]
    audience: Audience = Audience.OFFICE


class Withdrawn(Fact):
    """Something said and taken back: the kind of fact it was, and its value if any."""

    kind: Literal["withdrawn"] = "withdrawn"
    of: str
    text: str
    value: Decimal | None = None
    unit: str = ""
    audience: Audience = Audience.OFFICE


AnyFact = Annotated[
    Complaint | Symptom | Test | Reading | Spec | Part | Wiring | Finding | Cause | Action
    | Decision | Recommendation | Verification | Caution | Labour | Private | Withdrawn,
    Field(discriminator="kind"),
]  # fmt: skip


class Question(Model):
    """What a complete job record still lacks, asked in one sentence; `about` are ids of facts."""

    code: str
    ask: str
    about: tuple[str, ...] = ()


class StageRun(Model):
    """How a stage ended: `why` and `remedy` are set when it is incomplete."""

    stage: str
    at: datetime
    done: bool
    why: str = ""
    remedy: str = ""


class Event(Model):
    """One step of review, never changed; `before` and `after` hold only changed fields."""

    at: datetime
    who: str
    what: str
    subject: str
    before: dict[str, Any] = Field(default_factory=dict)
    after: dict[str, Any] = Field(default_factory=dict)


class Issued(Model):
    """A report as it left the shop: its file's name then, and the SHA-256 of the copy kept."""

    at: datetime
    name: str
    sha256: str


class Machine(Model):
    """The machine on the bench."""

    description: str = ""
    make: str = ""
    model: str = ""
    serial: str = ""


class Job(Model):
    """Everything known of one repair; stages return a new Job and never change the old one."""

    version: int = RECORD_VERSION
    id: str
    created_at: datetime
    customer: str = ""
    technician: str = ""
    language: Language | Literal[""] = ""  # of the customer's report; none is the shop's own
    machine: Machine = Machine()
    recordings: tuple[Recording, ...] = ()
    words: tuple[Word, ...] = ()
    utterances: tuple[Utterance, ...] = ()
    photos: tuple[Photo, ...] = ()
    facts: tuple[AnyFact, ...] = ()
    booked: tuple[Spec, ...] = ()  # from the shop's spec book, for this machine
    questions: tuple[Question, ...] = ()
    stages: tuple[StageRun, ...] = ()
    events: tuple[Event, ...] = ()
    reports: tuple[Issued, ...] = ()
    camera_ahead_s: float | None = None  # of the recorder's clock, by spoken marks of photos
    bundle: str = ""  # SHA-256 of the manifest of the bundle that the job came in

    def words_of(self, recording: str) -> tuple[Word, ...]:
        """Return the words of one recording in order."""
        return tuple(word for word in self.words if word.recording == recording)
