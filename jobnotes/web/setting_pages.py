"""The office's page of the shop's settings: what is on the letterhead, how reports are made."""

import io
from collections.abc import Mapping
from dataclasses import dataclass

from PIL import Image, UnidentifiedImageError
from starlette.responses import Response

from jobnotes import toml_file
from jobnotes.errors import FormatError, SettingsError
from jobnotes.settings import FILE_NAME, Settings
from jobnotes.web.pieces import write_whole
from jobnotes.web.site import Ask, go, page
from jobnotes.web.steps import FIELD, typed

LOGO = "logo.png"
LOGO_PX = 1200  # sharp at twice the width of a letterhead's logo in print
YES, NO = "yes", "no"


@dataclass(frozen=True)
class Setting:
    """A setting as the page shows it: `form` is "text", "lines", "figure" or "choice"."""

    name: str
    form: str = "text"
    choices: tuple[str, ...] = ()


SETTINGS = (
    Setting("shop.name"),
    Setting("shop.address", "lines"),
    Setting("shop.phone"),
    Setting("technician"),
    Setting("page_size", "choice", ("A4", "Letter")),
    Setting("print_prices", "choice", (YES, NO)),
    Setting("speech_model"),
    Setting("customer_links", "choice", (YES, NO)),
    Setting("link_days", "figure"),
)
"""What the office may set; the database and the hub are set in the file alone."""


def show(ask: Ask) -> Response:
    """Show the settings."""
    return _page(ask)


def keep(ask: Ask) -> Response:
    """Keep what was typed, or say why not."""
    try:
        changes = _changes(ask)
        ask.desk.set_up(changes, ask.form.get("state", ""))
    except (SettingsError, FormatError) as error:
        return _page(ask, 422, str(error))
    return go("/settings?kept=yes")


def _changes(ask: Ask) -> dict[str, str | int | bool]:
    """Return the settings that differ from what holds now, a new logo among them."""
    sent = ((one, typed(ask.form, one.name)) for one in SETTINGS)
    changes = {
        one.name: _value(one, text)
        for one, text in sent
        if text is not None and text != value_of(ask.desk.settings, one.name)
    }
    if ask.files:
        picture = _drawn(ask.files[0].file.read())
        write_whole(ask.desk.settings.data_folder / LOGO, picture)
        changes["shop.logo"] = LOGO
    return changes


def _value(one: Setting, text: str) -> str | int | bool:
    if one.choices == (YES, NO):
        return text == YES
    if one.form != "figure":
        return text
    if not (text.isascii() and text.isdigit() and len(text) < 5):
        raise SettingsError(f"'{text}' is no number of days.", "Type a whole number.")
    return int(text)


def value_of(settings: Settings, name: str) -> str:
    """Return a setting as the page shows it."""
    place: object = settings
    for part in name.split("."):
        place = getattr(place, part)
    if isinstance(place, bool):
        return YES if place else NO
    return str(place)


def _drawn(data: bytes) -> bytes:
    """Return a logo drawn anew as PNG, so that nothing else of the file is kept."""
    try:
        with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as picture:
            picture.thumbnail((LOGO_PX, LOGO_PX))
            kept = io.BytesIO()
            picture.convert("RGBA").save(kept, "PNG")
    except (UnidentifiedImageError, OSError, Image.DecompressionBombError) as error:
        raise FormatError("The logo is no picture.", "Take a PNG or JPEG file.") from error
    return kept.getvalue()


def _page(ask: Ask, status: int = 200, wrong: str = "") -> Response:
    values: Mapping[str, str] = {
        one.name: kept if wrong and (kept := typed(ask.form, one.name)) is not None
        else value_of(ask.desk.settings, one.name)
        for one in SETTINGS
    }  # fmt: skip
    return page(
        ask, "settings.html", status, settings=SETTINGS, values=values, wrong=wrong, prefix=FIELD,
        state=toml_file.seen(ask.desk.settings.data_folder / FILE_NAME),
        kept=ask.query("kept"), logo=ask.desk.settings.shop.logo,
    )  # fmt: skip
