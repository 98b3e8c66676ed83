"""Whatever the job, both forms are made, hold every figure that may leave, and no other.

`scripts/stress_reports` runs the same with many more jobs.
"""

import os
import re
from base64 import b64decode
from functools import cache
from io import BytesIO

import page
import pytest
from any_jobs import HIDDEN, PLACED, Made, as_the_camera_wrote_it, jobs
from fixed_texts import caution_texts, meanings
from html_page import parsed
from hypothesis import HealthCheck, Phase, given, settings
from pypdf import PdfReader
from report_jobs import SHOP

from jobnotes.errors import OpenFlagsError
from jobnotes.photos.picture import for_print
from jobnotes.record import AnyFact, Audience, Job, Labour, Reading, Spec, State
from jobnotes.report.content import story
from jobnotes.report.figures import labour_time, reading_figure, spec_figure
from jobnotes.report.html import html
from jobnotes.report.pdf import pdf
from jobnotes.report.record_content import record
from jobnotes.report.record_html import record_html
from jobnotes.report.record_pdf import record_pdf

EXAMPLES = int(os.environ.get("JOBNOTES_EXAMPLES", "30"))
many = settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=EXAMPLES <= 40,
    database=None,
    phases=(Phase.generate,),  # a job that fails is large either way, and shrinking takes minutes
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
FIGURE = re.compile(r"(?<![\w.])\d[\d,]*(?:\.\d+)?")


def leaves(fact: AnyFact, draft: bool) -> bool:
    """Say by the rules of the trade, not by the gate's code, whether a fact may be printed."""
    settled = (State.CONFIRMED, State.CORRECTED) + ((State.PROPOSED,) if draft else ())
    private = fact.kind in ("private", "withdrawn")
    told = fact.audience is Audience.CUSTOMER and not private
    return told and fact.state in settled and not any(flag.open for flag in fact.flags)


@cache
def usual() -> set[str]:
    """Figures in the fixed texts of the report."""
    return set(FIGURE.findall(" ".join([*meanings(), *caution_texts()])))


def figures_of(fact: AnyFact) -> set[str]:
    if isinstance(fact, Reading):
        return set(FIGURE.findall(reading_figure(fact)))
    if isinstance(fact, Spec):
        return set(FIGURE.findall(spec_figure(fact)))
    return set(FIGURE.findall(labour_time(fact))) if isinstance(fact, Labour) else set()


def squeezed(text: str) -> str:
    """A long word may be broken over lines, and the case of a sentence's start may change."""
    return re.sub(r"\s+", "", text).lower()


def check(made: Made, text: str, draft: bool) -> None:
    out = [fact for fact in made.job.facts if leaves(fact, draft)]
    letters, shown = squeezed(text), set(FIGURE.findall(text))
    for fact in out:
        if isinstance(fact, (Reading, Labour)):
            assert figures_of(fact) <= shown, fact
        if not isinstance(fact, (Spec, Labour)):
            assert made.words[fact.id] in letters, fact
    for fact in (fact for fact in made.job.facts if fact not in out):
        assert made.words[fact.id] not in letters, fact
    allowed = usual().union(*(figures_of(fact) for fact in out))
    assert HIDDEN not in letters
    measured = {one for one in shown if "." in one or len(one) > 3} - furniture(made.job)
    assert measured <= allowed


def furniture(job: Job) -> set[str]:
    """Figures of the letterhead and of the job's number and day."""
    return {"01632", "2026", "0007", *FIGURE.findall(job.id)}


def pdf_text(data: bytes) -> str:
    pages = [one.extract_text() for one in PdfReader(BytesIO(data)).pages]
    return "\n".join(pages).replace("\N{NO-BREAK SPACE}", " ")


@pytest.fixture(scope="module")
def photo_bytes(tmp_path_factory):
    """Give photos as the shop's desk does: drawn anew from what the camera wrote."""
    folder = tmp_path_factory.mktemp("photos")
    return lambda photo, px: for_print(as_the_camera_wrote_it(folder, photo), px, photo.marks)


def check_files(made: Made, pdf_file: bytes, page_file: str, draft: bool) -> None:
    """Read a report back from both of its files."""
    check(made, pdf_text(pdf_file), draft)
    check(made, parsed(page_file).all("body")[0].text(), draft)
    assert page.validate_pdf_bytes(pdf_file, profile="ua1").is_compliant
    # the page holds its photos in base 64, which no text can cross unseen
    photos = [b64decode(found) for found in re.findall(r";base64,([^\"]+)", page_file)]
    assert not any(PLACED in data for data in (pdf_file, page_file.encode(), *photos))


@many
@given(jobs(settled=True))
def test_a_settled_job_prints_what_may_leave_and_nothing_else(photo_bytes, made):
    told = story(made.job, SHOP, draft=False)
    check_files(made, pdf(told, photo_bytes), html(told, photo_bytes), draft=False)


@many
@given(jobs(settled=False))
def test_a_draft_prints_what_is_not_in_doubt_and_nothing_else(photo_bytes, made):
    told = story(made.job, SHOP, draft=True)
    check_files(made, pdf(told, photo_bytes), html(told, photo_bytes), draft=True)


@many
@given(jobs(settled=False))
def test_the_job_record_holds_every_fact_that_was_not_rejected(photo_bytes, made):
    told = record(made.job, SHOP)
    said = pdf_text(record_pdf(told, photo_bytes)), record_html(told, photo_bytes)
    kept = [fact for fact in made.job.facts if fact.state is not State.REJECTED]
    for letters in map(squeezed, said):
        assert [fact.id for fact in kept if made.words[fact.id] not in letters] == []


@many
@given(jobs(settled=False))
def test_a_job_is_issued_only_when_nothing_waits(made):
    facts = [fact for fact in made.job.facts if fact.kind not in ("private", "withdrawn")]
    told = [f for f in facts if f.audience is Audience.CUSTOMER and f.state is not State.REJECTED]
    if all(leaves(fact, draft=False) for fact in told):
        assert story(made.job, SHOP, draft=False)
        return
    with pytest.raises(OpenFlagsError):
        story(made.job, SHOP, draft=False)


def test_a_wrong_figure_would_be_noticed():
    from any_jobs import own_word
    from report_jobs import Bench

    bench = Bench()
    bench.reading(own_word(0), "12.5", "V")
    made = Made(bench.job(), {"f1": own_word(0)})
    check(made, f"{own_word(0)} 12.5 V", draft=False)
    for wrong in (f"{own_word(0)} 12.5 V 12.6 V", own_word(0), "12.5 V"):
        with pytest.raises(AssertionError):
            check(made, wrong, draft=False)
