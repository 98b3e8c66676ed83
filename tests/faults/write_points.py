"""Faults at the points where a program changes files: it is killed there, or the disk refuses.

A point is each call of the operating system that makes, changes, renames or removes something.
Python's own are seen by its audit hook and by a file class that counts what it writes; those of
SQLite, which is C, by replacing the calls that its VFS makes (`xSetSystemCall`, which SQLite has
for just this: "The Virtual Filesystem", sqlite.org/c3ref/vfs.html). Installed for good: use it in a
child process only.
"""

import builtins
import ctypes
import errno
import io
import os
import signal
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from pysqlite3 import _sqlite3

KILL, TORN, FULL, BROKEN = "kill", "torn", "disk full", "input/output error"
_ERRORS = {FULL: errno.ENOSPC, BROKEN: errno.EIO}
_CHANGES = {
    "os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.chmod", "os.truncate", "os.link",
    "os.symlink", "os.utime",
}  # fmt: skip
_MAKES = os.O_CREAT | os.O_TRUNC
_FREES = {"os.remove", "os.rmdir", "os.rename", "os.chmod", "unlink"}  # a full disk lets them be


@dataclass
class Fault:
    """What happens at the `at`-th point, counted from 1; a full disk stays full from there on.

    `seen` counts the points; `within` is the part of a path that a change must hold to be counted.
    """

    kind: str
    at: int
    seen: int = 0
    report: Callable[[int], None] = field(default=lambda seen: None)

    def meet(self, what: str, half: Callable[[], object] | None = None) -> int:
        """Pass a point: return 0 to go on, or the number of the error that it fails with."""
        self.seen += 1
        self.report(self.seen)
        if self.seen < self.at or (self.seen > self.at and self.kind != FULL):
            return 0
        if self.kind == TORN and half:
            half()
        if self.kind in (KILL, TORN):
            os.kill(os.getpid(), signal.SIGKILL)
        return 0 if self.kind == FULL and what in _FREES else _ERRORS[self.kind]

    def install(self) -> None:
        """Watch every point of this process from now on."""
        _watch_python(self)
        _watch_sqlite(self)


def _watch_python(fault: Fault) -> None:
    import sys

    def hook(event: str, arguments: tuple[Any, ...]) -> None:
        made = event == "open" and isinstance(arguments[2], int) and arguments[2] & _MAKES
        if (made or event in _CHANGES) and (number := fault.meet(event)):
            raise OSError(number, os.strerror(number), str(arguments[0]))

    real_write = os.write

    def write(handle: int, data: bytes) -> int:
        if number := fault.meet("write", lambda: real_write(handle, data[: len(data) // 2])):
            raise OSError(number, os.strerror(number))
        return real_write(handle, data)

    os.write = write
    _watch_files(fault)
    sys.addaudithook(hook)


def _watch_files(fault: Fault) -> None:
    """Give every file that is opened for writing bytes or text a layer that counts its writes."""

    class Counted(io.FileIO):
        def write(self, data: Any) -> int:
            plain = super().write
            if number := fault.meet("write", lambda: plain(bytes(data)[: len(data) // 2])):
                raise OSError(number, os.strerror(number))
            return plain(data)

    real_open = io.open

    def opened(file: Any, mode: str = "r", buffering: int = -1, *more: Any, **named: Any) -> Any:
        if not set(mode) & set("wxa+") or isinstance(file, int) or named.get("opener"):
            return real_open(file, mode, buffering, *more, **named)
        raw = Counted(file, mode.replace("b", "").replace("t", ""))
        if buffering == 0:
            return raw
        held = io.BufferedRandom(raw) if "+" in mode else io.BufferedWriter(raw)
        return held if "b" in mode else io.TextIOWrapper(held, *more, **named)

    io.open = builtins.open = opened


class _Vfs(ctypes.Structure):
    """`sqlite3_vfs` as far as `xGetSystemCall`."""

    _fields_ = [
        *((name, ctypes.c_int) for name in ("version", "size", "longest")),
        *((name, ctypes.c_void_p) for name in ("next", "name", "data", "open", "delete", "access")),
        *((name, ctypes.c_void_p) for name in ("full", "dlopen", "dlerror", "dlsym", "dlclose")),
        *((name, ctypes.c_void_p) for name in ("random", "sleep", "time", "error", "time64")),
        ("set", ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_char_p, ctypes.c_void_p)),
        ("get", ctypes.CFUNCTYPE(ctypes.c_void_p, ctypes.c_void_p, ctypes.c_char_p)),
    ]


_INT, _BYTES, _OFFSET = ctypes.c_int, ctypes.c_void_p, ctypes.c_int64
_CALLS = {  # name -> what it returns, what it takes; where in that the number of bytes stands
    b"pwrite": (ctypes.c_ssize_t, (_INT, _BYTES, ctypes.c_size_t, _OFFSET), 2),
    b"pwrite64": (ctypes.c_ssize_t, (_INT, _BYTES, ctypes.c_size_t, _OFFSET), 2),
    b"write": (ctypes.c_ssize_t, (_INT, _BYTES, ctypes.c_size_t), 2),
    b"ftruncate": (_INT, (_INT, _OFFSET), None),
    b"unlink": (_INT, (ctypes.c_char_p,), None),
}
_alive: list[object] = []  # what C holds on to must not be collected


def _watch_sqlite(fault: Fault) -> None:
    library = ctypes.CDLL(_sqlite3.__file__)
    library.sqlite3_vfs_find.restype = ctypes.POINTER(_Vfs)
    vfs = library.sqlite3_vfs_find(None)
    for name, (gives, takes, size_at) in _CALLS.items():
        if not (place := vfs.contents.get(vfs, name)):
            continue
        kind = ctypes.CFUNCTYPE(gives, *takes, use_errno=True)
        call = kind(_met(fault, name.decode(), kind(place), size_at))
        _alive.append(call)
        assert vfs.contents.set(vfs, name, ctypes.cast(call, ctypes.c_void_p)) == 0


def _met(fault: Fault, name: str, real: Any, size_at: int | None) -> Callable[..., int]:
    def call(*arguments: Any) -> int:
        def half() -> None:
            some = list(arguments)
            some[size_at or 0] //= 2
            real(*some)

        if number := fault.meet(name, half if size_at else None):
            ctypes.set_errno(number)
            return -1
        return int(real(*arguments))

    return call
