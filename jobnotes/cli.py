"""The command line: thin over the package's functions; heavy parts are imported when needed."""

import sys
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from jobnotes.errors import IncompleteJobError, JobnotesError, OutputError, StoreError

if TYPE_CHECKING:
    from jobnotes.desk import Desk

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

JobId = Annotated[str, typer.Argument(help="Number of the job, as `jobnotes list` shows it.")]
FactId = Annotated[str, typer.Argument(help="Number of the fact, as `jobnotes show` shows it.")]
Who = Annotated[str, typer.Option(help="Name of the person who says so.")]


def main() -> None:
    """Run the command line; an error of ours ends with its message and its own exit code."""
    try:
        app()
    except JobnotesError as error:
        print(f"jobnotes: {error}", file=sys.stderr)
        sys.exit(error.exit_code)


def _desk() -> "Desk":
    from jobnotes.desk import open_desk

    return open_desk()


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
) -> None:
    """Start a job and print its number."""
    print(_desk().new(machine=machine, serial=serial, customer=customer).id)


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
) -> None:
    """Transcribe, find facts, place photos, check."""
    from jobnotes.listing import print_outcome, progress
    from jobnotes.pipeline import incomplete

    with progress("Listening") as advance:
        done = _desk().run(job, hear_again=hear_again, progress=advance)
    print_outcome(done)
    if why := incomplete(done):
        raise IncompleteJobError(" ".join(why))


@app.command()
def show(
    job: JobId, as_json: Annotated[bool, typer.Option("--json", help="The whole record.")] = False
) -> None:
    """Show a job: steps, facts, words, flags, open questions."""
    from jobnotes.listing import print_job

    loaded = _desk().load(job)
    if as_json:
        print(loaded.model_dump_json(indent=1))
    else:
        print_job(loaded)


@app.command("list")
def list_jobs() -> None:
    """List the jobs, newest first."""
    from jobnotes.listing import print_jobs

    print_jobs(_desk().jobs())


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
        desk.change(job, partial(events.confirm_unflagged, who=who, at=now))
    if fact:
        desk.change(
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
    from jobnotes.review import events

    fields = dict(one.partition("=")[::2] for one in change)
    step = partial(events.correct, fact_id=fact, who=who, at=datetime.now(UTC), changes=fields)
    _desk().change(job, step)


@app.command()
def reject(job: JobId, fact: FactId, who: Who) -> None:
    """Say that a fact is not so; the record keeps it."""
    from jobnotes.review import events

    _desk().change(job, partial(events.reject, fact_id=fact, who=who, at=datetime.now(UTC)))


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
    _desk().change(job, partial(step, who=who, at=datetime.now(UTC)))


@app.command()
def undo(job: JobId, who: Who) -> None:
    """Take back the last step of review."""
    from jobnotes.review import events

    _desk().change(job, partial(events.undo, who=who, at=datetime.now(UTC)))


@app.command()
def report(
    job: JobId,
    out: Annotated[Path, typer.Option(help="Where the PDF goes.")],
    draft: Annotated[bool, typer.Option(help="Also before everything is settled.")] = False,
) -> None:
    """Write the repair story as a PDF, if nothing is in doubt."""
    from jobnotes.report.content import story
    from jobnotes.report.pdf import pdf

    desk = _desk()
    told = story(desk.load(job), desk.shop(), draft)
    printed = pdf(told, desk.photo_bytes, desk.settings.page_size)
    try:
        out.write_bytes(printed)
    except OSError as error:
        raise OutputError(f"{out} cannot be written: {error.strerror}.") from error
    print(out)


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


@app.command()
def weights(
    name: Annotated[str, typer.Argument(help="Name of the speech model.")] = "base",
) -> None:
    """Prepare the speech weights; needs the network once."""
    from jobnotes.listing import progress
    from jobnotes.speech.weights import prepare

    with progress("Preparing the speech weights") as advance:
        folder = prepare(name, advance)
    print(folder)


@app.command()
def verify() -> None:
    """Check the store and every original by its hash."""
    problems = _desk().problems()
    if problems:
        raise StoreError("\n".join(problems))
    print("The store and all originals are as they were kept.")


if __name__ == "__main__":
    main()
