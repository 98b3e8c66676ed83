"""What the customer is told: sections of sentences that rest on facts fit to leave the shop."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from jobnotes.checks.verdict import Verdict
from jobnotes.pipeline import incomplete
from jobnotes.record import (
    Action,
    AnyFact,
    Cause,
    Caution,
    Complaint,
    Decision,
    Finding,
    Job,
    Labour,
    Machine,
    Part,
    Reading,
    Recommendation,
    Symptom,
    Test,
    Verification,
    Wiring,
)
from jobnotes.report import gate, sentences
from jobnotes.report.english import capital, clean, rules
from jobnotes.report.limits import verdicts
from jobnotes.report.measures import measures
from jobnotes.report.parts import part_rows
from jobnotes.report.pictures import Album, album
from jobnotes.report.proofs import proofs, proven
from jobnotes.report.story import (
    Block,
    Gallery,
    Item,
    Measure,
    PartRow,
    Section,
    Sentence,
    Shop,
    Story,
)
from jobnotes.report.terms import cautions, glossary
from jobnotes.report.unprinted import unprinted
from jobnotes.report.work import steps

# The kinds of each list of sentences, by the key of its section in rules/sections.toml, as printed.
WORK = (Action, Decision)
LISTS: dict[str, tuple[type, ...]] = {
    "told": (Complaint,),
    "found": (Symptom, Finding),
    "tested": (Test,),
    "cause": (Cause,),
    "done": WORK,
    "wiring": (Wiring,),
    "checked": (Verification,),
    "advice": (Recommendation,),
    "care": (Caution,),
    "time": (Labour,),
}


DRAFT = "This is a draft. The office has not checked it yet."


@dataclass(frozen=True)
class _Source:
    job: Job
    facts: tuple[AnyFact, ...]
    album: Album
    verdicts: Mapping[str, Verdict]
    proofs: Mapping[str, tuple[Reading, ...]]


def story(job: Job, shop: Shop, draft: bool, *, prices: bool = False) -> Story:
    """Return the repair story of a job; a final one only if `gate.issue` lets it out.

    `prices` prints what parts cost, as said.
    A draft also holds proposed facts without open flags, and notes on what is still missing.
    Raises IncompleteJobError and OpenFlagsError for a final story.
    """
    if not draft:
        gate.issue(job)
    facts = gate.printable(job, draft=draft)
    told = [fact for fact in facts if _says_something(fact)]
    printed = [fact for kinds in LISTS.values() for fact in told if isinstance(fact, kinds)]
    pictures = album(job, printed, gate.photos(job))
    source = _Source(job, facts, pictures, verdicts(job, facts), proofs(job, facts))
    sections = _sections(source, prices=prices)
    return Story(
        shop=shop,
        job=job.id,
        title=capital(clean(job.machine.description)) or "Your machine",
        customer=clean(job.customer),
        technician=clean(job.technician),
        machine=_machine(job.machine),
        date=_date(job),
        draft=draft,
        notes=_notes(job) if draft else (),
        sections=tuple(section for section in sections if section.blocks),
    )


def _says_something(fact: AnyFact) -> bool:
    """Say whether a fact has words to print, and so a place for its photos."""
    if isinstance(fact, WORK):
        return bool(steps([fact], {}))
    return isinstance(fact, sentences.KINDS) and bool(sentences.of(fact).text)


def _date(job: Job) -> str:
    """Return the day on which the last words were recorded, or the job was started."""
    recorded = [recording.started_at for recording in job.recordings if recording.started_at]
    day = max((moment.date() for moment in recorded), default=job.created_at.date())
    return f"{day.day} {day:%B %Y}"


def _machine(machine: Machine) -> str:
    serial = f"serial number {clean(machine.serial)}" if clean(machine.serial) else ""
    name = " ".join(text for text in (clean(machine.make), clean(machine.model)) if text)
    return ", ".join(text for text in (name, serial) if text)


def _notes(job: Job) -> tuple[str, ...]:
    """Say that this is a draft, and what it still lacks."""
    count = gate.waiting(job)
    verb = "statement waits" if count == 1 else "statements wait"
    waits = [f"{count} {verb} for the office and {'is' if count == 1 else 'are'} left out here."]
    return (DRAFT, *(waits if count else ()), *unprinted(job), *incomplete(job))


def _sections(source: _Source, *, prices: bool) -> tuple[Section, ...]:
    """Build every section in printed order; glossary and cautions go by what the others say."""
    lists = {key: _items(source, key) if key != "done" else _work(source) for key in LISTS}
    parts = part_rows([f for f in source.facts if isinstance(f, Part)], prices=prices)
    blocks: dict[str, Sequence[Block]] = {
        **lists,
        "measured": _measured(source, lists),
        "parts": parts,
        "photos": (Gallery(source.album.rest),) if source.album.rest else (),
    }
    said = [item.sentence for items in lists.values() for item in items]
    blocks["words"] = glossary(_texts(blocks))
    care = [Item(sentence) for sentence in cautions(source.job.machine.description, said)]
    blocks["care"] = (*lists["care"], *care)
    return tuple(_section(key, blocks[key]) for key in rules("sections"))


def _section(key: str, blocks: Sequence[Block]) -> Section:
    """Head a section; a list of one step has no order to speak of."""
    form = rules("sections")[key]
    drawn = any(isinstance(block, Measure) and block.limits for block in blocks)
    lead = form.get("lead", form.get("drawn", "") if drawn else "")
    numbered = form.get("numbered", False) and len(blocks) > 1
    return Section(key, form["title"], tuple(blocks), lead, numbered)


def _items(source: _Source, key: str) -> tuple[Item, ...]:
    """Return the items of one list, what was said twice only once."""
    merged: dict[str, Item] = {}
    for fact in source.facts:
        if not isinstance(fact, LISTS[key]):
            continue
        item = Item(_sentence(source, fact), source.album.of.get(fact.id, ()))
        merged[item.sentence.text] = _both(merged.get(item.sentence.text), item)
    return tuple(item for text, item in merged.items() if text)


def _both(first: Item | None, second: Item) -> Item:
    if first is None:
        return second
    facts = tuple(dict.fromkeys((*first.sentence.facts, *second.sentence.facts)))
    return Item(Sentence(second.sentence.text, facts), (*first.pictures, *second.pictures))


def _work(source: _Source) -> tuple[Item, ...]:
    """Return what was done, each sentence with the photos of all its deeds."""
    told = steps(source.facts, {fact.id: fact for fact in source.facts})
    album = source.album.of
    return tuple(
        Item(said, tuple(shown for fact in said.facts for shown in album.get(fact, ())))
        for said in told
    )


def _sentence(source: _Source, fact: AnyFact) -> Sentence:
    said = sentences.of(fact)
    if isinstance(fact, Finding):
        return proven(said, fact.what, source.proofs.get(fact.id, ()), source.verdicts)
    return said


def _measured(source: _Source, lists: dict[str, tuple[Item, ...]]) -> tuple[Measure, ...]:
    """Return the measures; one reading told in a sentence returns only with limits to show."""
    told = {fact for items in lists.values() for item in items for fact in item.sentence.facts}
    readings = [fact for fact in source.facts if isinstance(fact, Reading)]
    found = measures(readings, source.verdicts)
    return tuple(m for m in found if m.limits or len(m.points) > 1 or not told.issuperset(m.facts))


def _texts(blocks: dict[str, Sequence[Block]]) -> Iterable[str]:
    for block in (block for group in blocks.values() for block in group):
        if isinstance(block, Item):
            yield block.sentence.text
        elif isinstance(block, Measure):
            yield from (
                block.what,
                block.context,
                *(f"{point.name} {point.text}" for point in block.points),
            )
        elif isinstance(block, PartRow):
            yield block.name
