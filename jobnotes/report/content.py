"""What the customer is told: sections of sentences that rest on facts fit to leave the shop."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from babel.dates import format_date

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
    Language,
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
from jobnotes.report.dictated import captioned, fit_to_print
from jobnotes.report.english import capital, clean, rules
from jobnotes.report.figures import reading_figure
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.lists import listed
from jobnotes.report.languages.messages import LOCALES, say
from jobnotes.report.languages.quoting import plain, said
from jobnotes.report.languages.tongue import Tongue
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
from jobnotes.report.untold import untold
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


@dataclass(frozen=True)
class _Source:
    job: Job
    facts: tuple[AnyFact, ...]
    album: Album
    verdicts: Mapping[str, Verdict]
    proofs: Mapping[str, tuple[Reading, ...]]
    shows: Mapping[str, tuple[str, ...]]


def story(
    job: Job, shop: Shop, draft: bool, *, prices: bool = False, tongue: Tongue = ENGLISH
) -> Story:
    """Return the repair story of a job; a final one only if `gate.issue` lets it out.

    `prices` prints what parts cost, as said; `tongue` is the language it is told in.
    A draft also holds proposed facts without open flags, and notes on what is still missing.
    Raises IncompleteJobError and OpenFlagsError for a final story.
    """
    if not draft:
        gate.issue(job)
    fitted = fit_to_print(gate.printable(job, draft=draft), prices=prices)
    facts = tuple(one.fact for one in fitted)
    told = [fact for fact in facts if _says_something(fact)]
    printed = [fact for kinds in LISTS.values() for fact in told if isinstance(fact, kinds)]
    shown = [captioned(photo, prices=prices) for photo in gate.photos(job)]
    pictures = album(job, printed, shown, tongue)
    shows = {one.fact.id: one.shows for one in fitted}
    found = {name for one in fitted if isinstance(one.fact, Finding) for name in one.shows}
    proving = proofs(job, [fact for fact in facts if fact.id not in found])  # told by no finding
    source = _Source(job, facts, pictures, verdicts(job, facts), proving, shows)
    sections = _sections(source, tongue, prices=prices)
    title = capital(tongue.name(job.machine.description)) or say(tongue.code, "your-machine")
    return Story(
        shop=shop,
        job=job.id,
        title=title,
        customer=clean(job.customer),
        technician=clean(job.technician),
        machine=_machine(job.machine, tongue.code),
        date=_date(job, tongue.code),
        draft=draft,
        notes=_notes(job, untold(title, sections), tongue) if draft else (),
        sections=tuple(section for section in sections if section.blocks),
        language=tongue.code,
    )


def _says_something(fact: AnyFact) -> bool:
    """Say whether a fact has words to print, and so a place for its photos."""
    if isinstance(fact, WORK):
        return bool(steps([fact], {}))
    return isinstance(fact, sentences.KINDS) and bool(sentences.of(fact).text)


def _date(job: Job, language: Language) -> str:
    """Return the day on which the last words were recorded, or the job was started."""
    recorded = [recording.started_at for recording in job.recordings if recording.started_at]
    day = max((moment.date() for moment in recorded), default=job.created_at.date())
    return format_date(day, "long", LOCALES[language])


def _machine(machine: Machine, language: Language) -> str:
    number = clean(machine.serial)
    serial = say(language, "serial-number", serial=number) if number else ""
    name = " ".join(text for text in (clean(machine.make), clean(machine.model)) if text)
    return capital(", ".join(text for text in (name, serial) if text))


def _notes(job: Job, lacking: Sequence[str], tongue: Tongue) -> tuple[str, ...]:
    """Say that this is a draft, and what it still lacks."""
    count, code = gate.waiting(job), tongue.code
    waits = (say(code, "waiting", count=count, number=f"{count}"),) if count else ()
    quoted = listed([say(code, "quoted", text=said(words)) for words in lacking], code)
    untranslated = (say(code, "untranslated", words=quoted),) if quoted else ()
    lacks = (tongue.words(why) for why in (*unprinted(job), *incomplete(job)))
    return (say(code, "draft"), *waits, *untranslated, *lacks)


def _sections(source: _Source, tongue: Tongue, *, prices: bool) -> tuple[Section, ...]:
    """Build every section in printed order; glossary and cautions go by what is said in English."""
    blocks = _blocks(source, tongue, prices=prices)
    heard = blocks if tongue is ENGLISH else _blocks(source, ENGLISH, prices=prices)
    said = [b.sentence for key in LISTS for b in heard[key] if isinstance(b, Item)]
    blocks["words"] = glossary(_texts(heard), tongue.code)
    usual = cautions(source.job.machine.description, said, tongue.code)
    blocks["care"] = (*blocks["care"], *(Item(sentence) for sentence in usual))
    return tuple(_section(key, blocks[key], tongue.code) for key in rules("sections"))


def _blocks(source: _Source, tongue: Tongue, *, prices: bool) -> dict[str, Sequence[Block]]:
    """Return what the facts say by section, in a language."""
    lists = {
        key: _work(source, tongue) if key == "done" else _items(source, key, tongue)
        for key in LISTS
    }
    parts = [fact for fact in source.facts if isinstance(fact, Part)]
    return {
        **lists,
        "measured": _measured(source, lists, tongue),
        "parts": part_rows(parts, prices=prices, tongue=tongue),
        "photos": (Gallery(source.album.rest),) if source.album.rest else (),
    }


def _section(key: str, blocks: Sequence[Block], language: Language) -> Section:
    """Head a section; a list of one step has no order to speak of."""
    form = rules("sections")[key]
    drawn = any(isinstance(block, Measure) and block.limits for block in blocks)
    lead = form.get("lead", "drawn" if drawn else "")
    text = say(language, f"section-{key}.{lead}") if lead else ""
    numbered = form.get("numbered", False) and len(blocks) > 1
    return Section(key, say(language, f"section-{key}"), tuple(blocks), text, numbered)


def _items(source: _Source, key: str, tongue: Tongue) -> tuple[Item, ...]:
    """Return the items of one list, what was said twice only once."""
    merged: dict[str, Item] = {}
    for fact in source.facts:
        if not isinstance(fact, LISTS[key]):
            continue
        item = Item(_sentence(source, fact, tongue), source.album.of.get(fact.id, ()))
        merged[item.sentence.text] = _both(merged.get(item.sentence.text), item)
    return tuple(item for text, item in merged.items() if text)


def _both(first: Item | None, second: Item) -> Item:
    if first is None:
        return second
    facts = tuple(dict.fromkeys((*first.sentence.facts, *second.sentence.facts)))
    return Item(Sentence(second.sentence.text, facts), (*first.pictures, *second.pictures))


def _work(source: _Source, tongue: Tongue) -> tuple[Item, ...]:
    """Return what was done, each sentence with the photos of all its deeds."""
    said = steps(source.facts, {fact.id: fact for fact in source.facts}, tongue)
    told = [_resting(one, source.shows) for one in said]
    album = source.album.of
    return tuple(
        Item(one, tuple(shown for fact in one.facts for shown in album.get(fact, ())))
        for one in told
    )


def _sentence(source: _Source, fact: AnyFact, tongue: Tongue) -> Sentence:
    said = _resting(sentences.of(fact, tongue), source.shows)
    if isinstance(fact, Finding):
        proof = source.proofs.get(fact.id, ())
        return proven(said, fact.what, proof, source.verdicts, tongue)
    return said


def _resting(said: Sentence, shows: Mapping[str, tuple[str, ...]]) -> Sentence:
    """Add to a sentence the facts whose figures its words show."""
    more = (shown for fact in said.facts for shown in shows.get(fact, ()))
    return Sentence(said.text, tuple(dict.fromkeys((*said.facts, *more))))


def _measured(
    source: _Source, lists: Mapping[str, tuple[Item, ...]], tongue: Tongue
) -> tuple[Measure, ...]:
    """Return the measures; one reading told in a sentence returns only with limits to show."""
    said = [item.sentence for items in lists.values() for item in items]
    readings = [fact for fact in source.facts if isinstance(fact, Reading)]
    told = {reading.id for reading in readings if _is_told(reading, said, tongue.code)}
    found = measures(readings, source.verdicts, tongue)
    return tuple(m for m in found if m.limits or len(m.points) > 1 or not told.issuperset(m.facts))


def _is_told(reading: Reading, said: Iterable[Sentence], language: Language) -> bool:
    """Say whether a sentence tells a reading with its whole figure."""
    figure = clean(reading_figure(reading, language))
    return any(reading.id in one.facts and figure in clean(plain(one.text)) for one in said)


def _texts(blocks: Mapping[str, Sequence[Block]]) -> Iterable[str]:
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
