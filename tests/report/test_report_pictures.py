"""Photos find the sentence they show, in numbers that rise through the report."""

from report_jobs import SHOP, Bench, repair

from jobnotes.record import Action, Finding, Job, Mark
from jobnotes.report.content import story
from jobnotes.report.story import Gallery, Item


def shown(job: Job) -> dict[str, list[str]]:
    blocks = [b for part in story(job, SHOP, False).sections for b in part.blocks]
    items = {b.sentence.text: b.pictures for b in blocks if isinstance(b, Item) and b.pictures}
    loose = [picture for b in blocks if isinstance(b, Gallery) for picture in b.pictures]
    groups = {**items, **({"": loose} if loose else {})}
    return {text: [p.caption.text for p in pictures] for text, pictures in groups.items()}


def test_a_photo_stands_by_the_finding_whose_words_it_shares():
    assert shown(repair().job()) == {
        "The drive belt was glazed.": ["Photo 1. The glazed drive belt."]
    }


def test_a_photo_asked_for_in_the_next_breath_stands_by_the_finding_it_names():
    bench = Bench()
    bench.say("the screen is torn")
    bench.fact(Finding, what="screen", state_found="torn")
    bench.say("photo of the torn screen")
    bench.photo("the torn screen")
    assert shown(bench.job()) == {"The screen was torn.": ["Photo 1. The torn screen."]}


def test_a_photo_of_something_else_stands_apart():
    bench = Bench()
    bench.say("the screen is torn")
    bench.fact(Finding, what="screen", state_found="torn")
    bench.say("photo of the number plate")
    bench.photo("the number plate")
    assert shown(bench.job()) == {"": ["Photo 1. The number plate."]}


def test_a_photo_nobody_spoke_of_is_numbered_without_a_caption():
    bench = Bench()
    bench.photo("", evidence=())
    assert shown(bench.job()) == {"": ["Photo 1."]}


def test_before_and_after_stand_together_at_the_work_done():
    bench = Bench()
    bench.say("the screen is clogged photo of the screen before")
    bench.fact(Finding, what="screen", state_found="clogged")
    bench.photo("the screen before cleaning")
    bench.say("cleaned the screen photo of the screen after")
    bench.fact(Action, verb="clean", object="screen")
    bench.photo("the screen after cleaning")
    assert shown(bench.job()) == {
        "We cleaned the screen.": [
            "Photo 1. The screen before cleaning.",
            "Photo 2. The screen after cleaning.",
        ]
    }


def test_an_after_follows_its_before_past_other_photos():
    bench = Bench()
    for caption in ("the rim before", "the label", "the rim after"):
        bench.photo(caption, evidence=())
    assert shown(bench.job())[""] == [
        "Photo 1. The rim before.",
        "Photo 2. The rim after.",
        "Photo 3. The label.",
    ]


def test_a_caption_of_boundless_length_is_cut():
    bench = Bench()
    bench.photo("x" * 5000, evidence=())
    assert len(shown(bench.job())[""][0]) < 400


def alts(bench: Bench) -> list[str]:
    blocks = [b for part in story(bench.job(), SHOP, False).sections for b in part.blocks]
    return [p.alt for b in blocks if isinstance(b, Gallery) for p in b.pictures]


def test_a_photo_is_described_by_its_caption_and_its_marks():
    bench = Bench()
    box = {"left": 0.1, "top": 0.1, "right": 0.5, "bottom": 0.5}
    marks = tuple(Mark(shape=shape, **box) for shape in ("circle", "arrow", "crop"))
    bench.photo("the worn rim", evidence=(), marks=marks)
    assert alts(bench) == ["Photo 1: the worn rim. Marked on it: a circle and an arrow."]


def test_a_photo_that_nobody_described_says_so():
    bench = Bench()
    bench.photo("", evidence=())
    assert alts(bench) == ["Photo 1 of the work on the leaf shredder, not described."]
