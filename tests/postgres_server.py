"""A PostgreSQL server of Debian's package, in a folder of its own, gone after the tests."""

import glob
import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count

import psycopg

_OTHER = "nobody"  # initdb refuses to run as root
_QUICK = ("fsync=off", "full_page_writes=off", "listen_addresses=", "max_connections=60")


@dataclass(frozen=True)
class Server:
    """A server that listens on a socket in its folder only."""

    folder: str
    user: str
    numbers: Iterator[int] = field(default_factory=count)

    def new_database(self) -> str:
        """Return the URL of an empty schema, which is made sooner than a database."""
        name = f"shop{next(self.numbers)}"
        where = f"host={self.folder} user={self.user} dbname=postgres"
        with psycopg.connect(where, autocommit=True) as connection:
            connection.execute(f"CREATE SCHEMA {name}")
        there = f"host={self.folder}&options=-csearch_path%3D{name}"
        return f"postgresql://{self.user}@/postgres?{there}"


@contextmanager
def started(*settings: str) -> Iterator[Server | None]:
    """Start a server and stop it afterwards; none where the package is not installed."""
    programs = sorted(glob.glob("/usr/lib/postgresql/*/bin"))
    if not programs:
        yield None
        return
    user = _OTHER if os.geteuid() == 0 else pwd.getpwuid(os.geteuid()).pw_name
    folder = tempfile.mkdtemp(prefix="pg", dir="/tmp")  # the path of a socket must be short
    shutil.chown(folder, user)
    data, control = f"{folder}/data", f"{programs[-1]}/pg_ctl"
    given = " ".join(f"-c {one}" for one in (*_QUICK, *settings))
    options = f"{given} -c unix_socket_directories={folder}"
    try:
        _as(user, folder, f"{programs[-1]}/initdb", "-D", data, "-A", "trust", "-E", "UTF8",
            "--locale=C", "--no-sync", "--username", user)  # fmt: skip
        _as(user, folder, control, "start", "-w", "-D", data, "-l", f"{folder}/log", "-o", options)
        try:
            yield Server(folder, user)
        finally:
            _as(user, folder, control, "stop", "-w", "-m", "immediate", "-D", data)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _as(user: str, folder: str, *command: str) -> None:
    other = {"user": user, "group": pwd.getpwnam(user).pw_gid, "extra_groups": []}
    how = other if os.geteuid() == 0 else {}
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL, **how)
