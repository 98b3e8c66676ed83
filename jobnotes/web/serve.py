"""Serving the site: on this machine only, or to the shop's network by HTTPS."""

import ipaddress
import logging
import sys
import time
import traceback
from threading import Thread
from typing import Any

import uvicorn

from jobnotes.desk import Desk
from jobnotes.errors import AccessError, NetworkError, StoreError
from jobnotes.retention import Daily
from jobnotes.store.people import people
from jobnotes.web.app import build
from jobnotes.web.authority import FOLDER, leaf
from jobnotes.web.site import Site
from jobnotes.web.worker import Worker

ENDING_S = 3
"""Seconds for answers under way when the program is ended: pages keep one open for their news."""
_LOOK_S = 600.0

LOG = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"()": "jobnotes.web.serve.WithoutWords", "format": "%(message)s"}},
    "handlers": {"plain": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "loggers": {"uvicorn": {"handlers": ["plain"], "level": "WARNING", "propagate": False}},
}
"""The log: warnings and faults, on standard error."""

HERE = ("127.0.0.1", "localhost")


class WithoutWords(logging.Formatter):
    """Tells a fault's kind and place; its message may hold what somebody said, or a name."""

    def formatException(self, ei: Any) -> str:  # noqa: N802 -- the name is the library's
        """Return the places that led to a fault, and its kind."""
        kind, _, place = ei
        return f"{''.join(traceback.format_tb(place))}{kind.__name__}"


def serve(desk: Desk, host: str, port: int, name: str) -> None:
    """Serve until stopped; `name` is what phones call this machine, and makes it HTTPS.

    Raises AccessError while nobody may sign in, NetworkError for another address without a name.
    """
    if not people(desk.store):
        raise AccessError("Nobody may sign in yet.")
    if not is_here(host) and not name:
        raise NetworkError(f"{host} is reached by others, so it needs HTTPS and a name.")
    hosts = (*HERE, *((name, host) if name else ()))
    site = Site(desk, Worker(), hosts, secure=bool(name))
    # Paths hold job numbers and codes, so no request is ever logged.
    config = uvicorn.Config(
        build(site), host=host, port=port, access_log=False, log_level="warning",
        server_header=False, proxy_headers=False, timeout_keep_alive=30,
        timeout_graceful_shutdown=ENDING_S, log_config=LOG, **_tls(desk, name, host),
    )  # fmt: skip
    Thread(target=_erase_daily, args=(desk,), name="retention", daemon=True).start()
    print(f"{'https' if name else 'http'}://{name or host}:{port}/")
    uvicorn.Server(config).run()


def _erase_daily(desk: Desk) -> None:
    daily = Daily(desk)
    while True:
        try:
            daily.erase()
        except StoreError as error:
            print(f"jobnotes: old private remarks are not erased yet: {error}", file=sys.stderr)
        time.sleep(_LOOK_S)


def is_here(host: str) -> bool:
    """Tell whether an address is reached from this machine only."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _tls(desk: Desk, name: str, host: str) -> dict[str, Any]:
    if not name:
        return {}
    files = leaf(desk.settings.data_folder / FOLDER, (name, host))
    return {"ssl_certfile": str(files.certificate), "ssl_keyfile": str(files.key)}
