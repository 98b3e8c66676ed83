"""The office's page of the spec book: the shop's own limits by machine family, with sources."""

from starlette.exceptions import HTTPException
from starlette.responses import Response

from jobnotes import toml_file
from jobnotes.checks import spec_book
from jobnotes.checks.spec_book import BookedSpec
from jobnotes.checks.typed import unit_code
from jobnotes.errors import ReviewError, SettingsError
from jobnotes.web.site import Ask, go, page
from jobnotes.web.steps import FIELD, typed

FIELDS = tuple(BookedSpec.model_fields)


def show(ask: Ask) -> Response:
    """Show the entries, and the form for a new one or the one that is named."""
    return _page(ask, _number(ask.query("entry")))


def keep(ask: Ask) -> Response:
    """Keep an entry in place of one by its number, or at the end; else say why not."""
    number = _number(ask.form.get("entry", ""))
    if number is not None:
        _check_there(ask, number)
    fields = {name: typed(ask.form, name) or "" for name in FIELDS}
    try:
        fields["unit"] = unit_code(fields["unit"]) if fields["unit"] else ""
        state = ask.form.get("state", "")
        spec_book.put_entry(ask.desk.spec_book_file, fields, number, state)
    except (SettingsError, ReviewError) as error:
        return _page(ask, number, 422, str(error))
    return go("/spec-book")


def drop(ask: Ask) -> Response:
    """Take an entry out."""
    number = _number(ask.form.get("entry", ""))
    if number is None:
        raise HTTPException(422, "The form names no entry.")
    _check_there(ask, number)
    try:
        spec_book.drop_entry(ask.desk.spec_book_file, number, ask.form.get("state", ""))
    except SettingsError as error:
        return _page(ask, None, 409, str(error))
    return go("/spec-book")


def _check_there(ask: Ask, number: int) -> None:
    if number >= len(ask.desk.spec_book()):
        raise HTTPException(404, "The spec book has no such entry.")


def _number(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 7 else None


def _page(ask: Ask, number: int | None, status: int = 200, wrong: str = "") -> Response:
    state = toml_file.seen(ask.desk.spec_book_file)
    try:
        book = ask.desk.spec_book()
    except SettingsError as error:  # somebody wrote in the file what cannot be used
        return page(ask, "spec_book.html", 422, book=(), fields={}, entry=None, wrong=str(error),
                    prefix=FIELD, state=state, broken=True)  # fmt: skip
    number = number if number is not None and number < len(book) else None
    held = {name: _text(book[number], name) if number is not None else "" for name in FIELDS}
    if wrong:
        held = {name: typed(ask.form, name) or "" for name in FIELDS}
    return page(ask, "spec_book.html", status, book=book, fields=held, entry=number, wrong=wrong,
                prefix=FIELD, state=state, broken=False)  # fmt: skip


def _text(entry: BookedSpec, name: str) -> str:
    value = getattr(entry, name)
    return "" if value is None else f"{value}"
