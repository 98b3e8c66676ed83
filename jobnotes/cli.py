"""The command line: thin over the package's functions; heavy parts are imported when needed."""

import sys
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from jobnotes.cli_keeping import Who, keeping
from jobnotes.cli_keeping import open_desk as _desk
from jobnotes.cli_keeping import tell as _tell
from jobnotes.errors import IncompleteJobError, JobnotesError, UnknownJobError
from jobnotes.record import Language

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

JobId = Annotated[str, typer.Argument(help="Number of the job, as `jobnotes list` shows it.")]
FactId = Annotated[str, typer.Argument(help="Number of the fact, as `jobnotes show` shows it.")]
PaperOrPage = Annotated[Path, typer.Option(help="File ending in .pdf or .html.")]
ReportLanguage = Annotated[Language | None, typer.Option(help="The customer's language.")]


def main() -> None:
    """Run the command line; an error of ours ends with its message and its own exit code."""
    try:
        app()
    except JobnotesError as error:
        print(f"jobnotes: {error}", file=sys.stderr)
        sys.exit(error.exit_code)


def _fields(given: list[str]) -> dict[str, str]:
    """Return NAME=VALUE arguments by name."""
    return dict(one.partition("=")[::2] for one in given)


@app.callback()
def about() -> None:
    """Turn what a technician says at the bench into a job record and a repair story."""


@app.command()
def facts(
    source: Annotated[Path, typer.Argument(help="A recording, or a text: one utterance a line.")],
) -> None:
    """Print the facts of a recording or text as JSON; store nothing."""
    import json

    from jobnotes.listing import progress
    from jobnotes.report.export import facts_json
    from jobnotes.unstored import understood

    with progress("Listening") as advance:
        job = understood(source, advance)
    print(json.dumps(facts_json(job), indent=1, ensure_ascii=False))


@app.command()
def words(source: Annotated[Path, typer.Argument(help="A recording.")]) -> None:
    """Print what is heard, a breath a line; store nothing."""
    from jobnotes.listing import print_words, progress
    from jobnotes.unstored import heard

    with progress("Listening") as advance:
        job = heard(source, advance)
    print_words(job)


@app.command()
def new(
    machine: Annotated[str, typer.Option(help="What is on the bench.")] = "",
    serial: Annotated[str, typer.Option(help="Its serial number.")] = "",
    customer: Annotated[str, typer.Option(help="Whose it is.")] = "",
    language: ReportLanguage = None,
) -> None:
    """Start a job and print its number."""
    print(_desk().new(machine, serial, customer, language).id)


@app.command()
def add(
    job: JobId, files: Annotated[list[Path], typer.Argument(help="Recordings, photos, texts.")]
) -> None:
    """Take recordings and photos into a job; originals stay as is."""
    from jobnotes.listing import progress

    with progress("Taking in") as advance:
        refused = _desk().add(job, files, advance)
    for error in refused:
        print(f"jobnotes: not taken in: {error}", file=sys.stderr)
    if refused:
        raise typer.Exit(refused[0].exit_code)


@app.command()
def run(
    job: JobId,
    hear_again: Annotated[bool, typer.Option(help="Transcribe again what was heard.")] = False,
    later: Annotated[bool, typer.Option(help="Leave it to `jobnotes work`.")] = False,
) -> None:
    """Transcribe, find facts, place photos, check."""
    from jobnotes.listing import print_outcome, progress
    from jobnotes.pipeline import incomplete

    if later:
        _desk().ask(job)
        return
    with progress("Listening") as advance:
        done = _desk().run(job, hear_again=hear_again, progress=advance)
    print_outcome(done)
    if why := incomplete(done):
        raise IncompleteJobError(" ".join(why))


@app.command()
def listen(
    job: JobId,
    for_s: Annotated[float | None, typer.Option("--for", help="Seconds, then it ends.")] = None,
    microphone: Annotated[str, typer.Option(help="Part of its name.")] = "",
    source: Annotated[
        Path | None, typer.Option("--from", help="A recording, played as if spoken now.")
    ] = None,
) -> None:
    """Record from the microphone until Ctrl-C and show the figures; then run."""
    from rich.console import Console

    from jobnotes.live.microphone import Microphone
    from jobnotes.live.screen import show as show_news
    from jobnotes.live.session import Dictation
    from jobnotes.live.session import listen as record
    from jobnotes.live.source import FileSource
    from jobnotes.stopping import until_interrupted

    desk, sound = _desk(), FileSource(source) if source else Microphone(microphone)
    with until_interrupted() as stop:
        show_it = partial(show_news, Console())
        broken = record(Dictation(desk, sound, show_it, _tell, stop, for_s), job)
    if broken:
        _tell(str(broken))
    run(job)
    if broken:
        raise typer.Exit(broken.exit_code)


@app.command()
def watch(
    folder: Annotated[Path, typer.Argument(help="What a phone puts its files into.")],
    once: Annotated[bool, typer.Option(help="Look once, then end.")] = False,
) -> None:
    """Take in what a phone puts into a folder, into the right job by its time."""
    from jobnotes.listing import print_outcome
    from jobnotes.stopping import until_interrupted
    from jobnotes.watch.folder import watched

    with until_interrupted() as stop:
        watched(_desk(), folder, _tell, print_outcome, stop, once=once)


@app.command()
def show(
    job: JobId, as_json: Annotated[bool, typer.Option("--json", help="The whole record.")] = False
) -> None:
    """Show a job: steps, facts, words, flags, open questions."""
    from jobnotes.listing import print_job
    from jobnotes.report.job_file import dump

    loaded = _desk().load(job)
    if as_json:
        print(dump(loaded))
    else:
        print_job(loaded)


@app.command()
def explain(job: JobId, fact: FactId) -> None:
    """Show how a fact came about: words, rule, flags, review."""
    from jobnotes.listing import print_explanation
    from jobnotes.report.explain import explain as explained

    print_explanation(explained(_desk().load(job), fact))


@app.command("list")
def list_jobs() -> None:
    """List the jobs, newest first."""
    from jobnotes.listing import print_jobs

    print_jobs(_desk().jobs())


@app.command()
def history(serial: Annotated[str, typer.Argument(help="Serial number of a machine.")]) -> None:
    """Show all jobs of a machine and its readings over time."""
    from jobnotes.listing import print_history
    from jobnotes.report.machine import series, visits

    jobs = _desk().of_machine(serial)
    if not jobs:
        raise UnknownJobError(f"There is no job for a machine of serial number '{serial}'.")
    print_history(visits(jobs), series(jobs))


@app.command()
def confirm(
    job: JobId,
    who: Who,
    fact: Annotated[list[str] | None, typer.Argument(help="Numbers of facts.")] = None,
    unflagged: Annotated[bool, typer.Option(help="All proposed facts without a flag.")] = False,
    settle: Annotated[bool, typer.Option(help="Settle the open flags of the named facts.")] = False,
) -> None:
    """Say that facts are right as they stand."""
    from jobnotes.review import events

    desk, now = _desk(), datetime.now(UTC)
    if unflagged:
        desk.review(job, partial(events.confirm_unflagged, who=who, at=now))
    if fact:
        desk.review(
            job, partial(events.confirm_each, fact_ids=fact, who=who, at=now, settle=settle)
        )


@app.command()
def correct(
    job: JobId,
    fact: FactId,
    change: Annotated[list[str], typer.Argument(help="What is right, as NAME=VALUE.")],
    who: Who,
) -> None:
    """Put what is right beside what was heard."""
    from jobnotes.checks.typed import understood
    from jobnotes.listing import print_fact
    from jobnotes.review import events

    fields = understood(_fields(change))
    step = partial(events.correct, fact_id=fact, who=who, at=datetime.now(UTC), changes=fields)
    print_fact(events.fact_of(_desk().review(job, step), fact))


@app.command()
def enter(
    job: JobId,
    kind: Annotated[str, typer.Argument(help="Kind of fact, such as reading or part.")],
    field: Annotated[list[str], typer.Argument(help="What it says, as NAME=VALUE.")],
    words: Annotated[str, typer.Option(help="Words it was said in, or r1:12-18.")],
    who: Who,
) -> None:
    """Add a fact that was said and not found."""
    from jobnotes.checks.typed import understood
    from jobnotes.listing import print_fact
    from jobnotes.review import entering, events

    desk = _desk()
    span, fields = entering.span_of(desk.load(job), words), understood(_fields(field))
    step = partial(entering.enter, kind=kind, fields=fields, span=span)
    done = desk.review(job, partial(step, who=who, at=datetime.now(UTC)))
    print_fact(events.fact_of(done, done.events[-1].subject))


@app.command()
def reject(job: JobId, fact: FactId, who: Who) -> None:
    """Say that a fact is not so; the record keeps it."""
    from jobnotes.review import events

    _desk().review(job, partial(events.reject, fact_id=fact, who=who, at=datetime.now(UTC)))


@app.command()
def settle(
    job: JobId,
    subject: Annotated[str, typer.Argument(help="Number of the fact, photo or recording.")],
    code: Annotated[str, typer.Argument(help="Code of the flag.")],
    who: Who,
) -> None:
    """Say that a flag has been looked into."""
    from jobnotes.review import events

    step = partial(events.settle_flag, subject_id=subject, code=code)
    _desk().review(job, partial(step, who=who, at=datetime.now(UTC)))


@app.command()
def undo(job: JobId, who: Who) -> None:
    """Take back the last step of review."""
    from jobnotes.review import events

    _desk().review(job, partial(events.undo, who=who, at=datetime.now(UTC)))


@app.command()
def report(
    job: JobId,
    out: PaperOrPage,
    draft: Annotated[bool, typer.Option(help="Also before everything is settled.")] = False,
    language: ReportLanguage = None,
) -> None:
    """Write the repair story as a PDF or one HTML file, if nothing is in doubt."""
    from jobnotes.report.output import writing
    from jobnotes.report.unprinted import unprinted
    from jobnotes.report.untold import lacking

    desk = _desk()
    loaded, revision = desk.store.load(job)
    made = desk.printed(told := desk.story(loaded, draft=draft, language=language), out)
    _tell(*lacking(told), *unprinted(loaded))
    with writing(out) as file:  # it has its name only if it is noted
        file.write(made)
        if not draft:
            desk.issued(loaded, revision, {out.name: made})
    print(out)


@app.command("record")
def job_record(job: JobId, out: PaperOrPage) -> None:
    """Write all of a job for office, warranty, next technician."""
    _desk().record(job, out)
    print(out)


@app.command()
def export(
    job: JobId,
    out: Annotated[Path, typer.Option(help="File ending in .json, .csv or .zip.")],
) -> None:
    """Write a job for other programs, or whole for another shop."""
    _desk().export(job, out)
    print(out)


@app.command()
def receive(
    bundle: Annotated[Path, typer.Argument(help="A .zip that `jobnotes export` wrote.")],
) -> None:
    """Take in a job from another installation; print its number."""
    print(_desk().receive(bundle).id)


@app.command()
def account(
    name: Annotated[str, typer.Argument(help="Name to sign in with.")],
    password: Annotated[str, typer.Option(prompt=True, hide_input=True, confirmation_prompt=True)],
    role: Annotated[str, typer.Option(help="office or bench.")] = "office",
) -> None:
    """Let somebody sign in to the pages, or give them a new password."""
    from jobnotes.web.accounts import make_account

    make_account(_desk().store, name, role, password)


@app.command()
def serve(
    host: Annotated[str, typer.Option(help="Address to serve on.")] = "127.0.0.1",
    port: Annotated[int, typer.Option(help="Port to serve on.")] = 8742,
    name: Annotated[str, typer.Option(help="This machine's name on the network; HTTPS.")] = "",
) -> None:
    """Serve the pages of the office and the bench."""
    from jobnotes.web.serve import serve as run_server

    run_server(_desk(), host, port, name)


app.add_typer(keeping)

if __name__ == "__main__":
    main()
