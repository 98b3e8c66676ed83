"""Commands that keep the shop: its workers, weights, backups, and what it may no longer keep."""

import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from jobnotes.errors import StoreError

if TYPE_CHECKING:
    from jobnotes.desk import Desk

keeping = typer.Typer()

Who = Annotated[str, typer.Option(help="Name of the person who says so.")]

_ALL_WELL = "The store and all originals are as they were kept."


def open_desk() -> "Desk":
    """Open the shop's desk, and say on standard error what was taken in or waits."""
    from jobnotes.desk import open_desk as opened

    return opened(tell=tell)


def tell(*notes: str) -> None:
    """Say something on standard error, a line a note."""
    for what in notes:
        print(f"jobnotes: {what}", file=sys.stderr)


@keeping.command()
def work(
    count: Annotated[int, typer.Option(min=1, help="How many at a time.")] = 1,
    until_done: Annotated[bool, typer.Option(help="End when nothing waits.")] = False,
) -> None:
    """Run the stages of jobs that wait, until Ctrl-C; on as many computers as you like."""
    from jobnotes.work.crew import work as work_together

    work_together(count, tell, until_done=until_done)


@keeping.command()
def erase(
    who: Who,
    customer: Annotated[str, typer.Option(help="Everything of the customer of this name.")] = "",
    private: Annotated[bool, typer.Option(help="Private remarks older than the setting.")] = False,
    for_good: Annotated[bool, typer.Option(help="Erase; without it, only list.")] = False,
) -> None:
    """List, or erase for good, a customer or old private remarks."""
    from jobnotes import retention
    from jobnotes.listing import print_due

    desk, now = open_desk(), datetime.now(UTC)
    if bool(customer) == private:
        raise typer.BadParameter("Name a customer, or --private.")
    if not for_good:
        due = retention.private_due(desk, now) if private else retention.of_customer(desk, customer)
    elif private:
        due = retention.erase_private(desk, now, who)
    else:
        due = retention.erase_customer(desk, customer, who)
    print_due(due, for_good, retention.still_held_by(desk))


@keeping.command()
def export_all(
    folder: Annotated[Path, typer.Argument(help="Where to: one bundle, JSON and CSV a job.")],
) -> None:
    """Write every job in open forms, each with its originals."""
    open_desk().export_all(folder)
    print(folder)


@keeping.command()
def backup(
    out: Annotated[Path, typer.Argument(help="A folder for backups, or one file ending in .zip.")],
) -> None:
    """Take a backup of everything, also while it is in use."""
    from jobnotes.backup.take import back_up

    print(back_up(open_desk(), out).path)


@keeping.command()
def restore(
    path: Annotated[Path, typer.Argument(metavar="BACKUP", help="What `backup` wrote.")],
) -> None:
    """Restore a backup into an empty shop."""
    from jobnotes.backup.restore import restore as restored

    held = restored(open_desk(), path)
    print(f"{held.counts['jobs']} jobs as of {held.taken_at:%Y-%m-%d %H:%M} UTC are restored.")


@keeping.command()
def verify(
    backup: Annotated[Path | None, typer.Option(help="A backup, instead of the shop.")] = None,
) -> None:
    """Check the store, or a backup, and every original by its hash."""
    from jobnotes.backup import form

    problems = form.problems(form.opened(backup)) if backup else open_desk().problems()
    if problems:
        raise StoreError("\n".join(problems))
    print("The backup is whole." if backup else _ALL_WELL)


@keeping.command()
def weights(
    name: Annotated[str, typer.Argument(help="Name of the speech model.")] = "base",
) -> None:
    """Prepare the speech weights; needs the network once."""
    from jobnotes.listing import progress
    from jobnotes.speech.weights import prepare

    with progress("Preparing the speech weights") as advance:
        folder = prepare(name, advance)
    print(folder)
