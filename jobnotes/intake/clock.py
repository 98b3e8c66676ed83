"""When a recording began, from the best of the places that tell."""

import re
from datetime import datetime, timedelta
from pathlib import Path

_STAMP = re.compile(
    r"(?<!\d)(20\d\d)[-_.]?(\d\d)[-_.]?(\d\d)"  # day
    r"[-_. T]?(?:at )?"
    r"(\d\d)[-_.:h]?(\d\d)[-_.:m]?(\d\d)?(?!\d)"  # time of day
)


def stamp_in_name(name: str) -> datetime | None:
    """Return the day and time that a file name carries ("20260314_101502.m4a"), without a zone."""
    found = _STAMP.search(name)
    if not found:
        return None
    digits = "".join(part or "00" for part in found.groups())
    try:
        return datetime.strptime(digits, "%Y%m%d%H%M%S")
    except ValueError:
        return None


def on_the_wall(moment: datetime) -> datetime:
    """Return a time given in UTC as this computer's zone has it, the same instant.

    Recorders write UTC, cameras the clock on the wall; photos without a zone are placed by that.
    """
    return moment if moment.utcoffset() else moment.astimezone()


def start_by_file_time(path: Path, duration_s: float) -> datetime:
    """Return the start of a recording whose file was last written when it ended."""
    ended = datetime.fromtimestamp(path.stat().st_mtime).astimezone()
    return ended - timedelta(seconds=duration_s)
