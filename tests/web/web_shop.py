"""What the tests of the pages share: words that were said, signing in, forms of a step."""

from starlette.testclient import TestClient

from jobnotes.desk import Desk
from jobnotes.pipeline import later_stages, noted
from jobnotes.pipeline import run as run_stages
from jobnotes.record import Flag, Job, Utterance, Word
from jobnotes.store.people import person_named
from jobnotes.web.accounts import sign_in
from jobnotes.web.app import build
from jobnotes.web.site import Site

PASSWORD = "spare words for signing in"
SAID = (
    "battery voltage key off twelve point four volts",
    "compression is ninety two psi",
    "fitted a new drive belt",
    "labour forty minutes",
)
DOUBT = Flag(by="speech", code="figure-doubt", why="Heard in two ways.", options=("92", "72"))


def words_of(said: tuple[str, ...]) -> tuple[tuple[Word, ...], tuple[Utterance, ...]]:
    """Return words a third of a second apart, a breath a sentence; "ninety two" is in doubt."""
    words: list[Word] = []
    breaths = []
    for n, sentence in enumerate(said):
        first = len(words)
        for text in sentence.split():
            at = len(words) / 3
            flags = (DOUBT,) if text == "ninety" else ()
            word = Word(recording="r1", index=len(words), text=text, start_s=at, end_s=at + 0.3)
            words.append(word.having(flags=flags))
        breaths.append(Utterance(recording="r1", index=n, first=first, last=len(words) - 1))
    return tuple(words), tuple(breaths)


def spoken(job: Job) -> Job:
    words, breaths = words_of(SAID)
    heard = job.having(words=words, utterances=breaths)
    return run_stages(noted(heard, "transcribe", None), later_stages())


def signed_in(site: Site, name: str) -> TestClient:
    """Return a browser with a session of a person; it sends the session's token by itself."""
    person = person_named(site.desk.store, name)
    assert person is not None
    secret, session = sign_in(site.desk.store, name, person.role)
    client = TestClient(build(site), follow_redirects=False, cookies={site.cookie: secret})
    client.headers["x-csrf"] = session.csrf
    return client


def fact_id(job: Job, kind: str, holds: str = "") -> str:
    """Return the id of the first fact of a kind whose words hold some text."""
    return next(
        fact.id
        for fact in job.facts
        if fact.kind == kind and holds in " ".join(place.text for place in fact.evidence)
    )


def step(desk: Desk, job_id: str, name: str, subject: str = "", **more: str) -> dict[str, str]:
    """Return the form of a step of review, taken from the job as it is now."""
    kept = desk.store.load(job_id)
    seen = {"revision": str(kept.revision), "events": str(len(kept.job.events))}
    return {"step": name, "subject": subject, **seen, **more}
