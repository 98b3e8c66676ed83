"""A job that goes from one shop to another as a bundle, and bundles that must not come in."""

import hashlib
import json
import struct
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile

import pytest

from jobnotes.bundle.form import MANIFEST, RECORD
from jobnotes.bundle.pack import pack
from jobnotes.bundle.unpack import receive
from jobnotes.errors import (
    BundleError,
    FormVersionError,
    JobnotesError,
    KnownJobError,
    MissingFileError,
    OutputError,
    StoreError,
)
from jobnotes.record import Issued, Job, Photo, Recording
from jobnotes.store.media import Media
from jobnotes.store.store import Store
from jobnotes.store.verify import verify

NOW = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)
SOUND, PICTURE, PRINTED = b"RIFF sound" * 999, b"\xff\xd8 picture" * 999, b"%PDF-1.7 story"


@dataclass
class Shop:
    store: Store
    media: Media

    def kept(self, content: bytes, name: str) -> str:
        return self.media.keep_pieces([content], name)

    def files(self) -> list[Path]:
        return [path for path in self.media.folder.rglob("*") if path.is_file()]


def shop_in(folder: Path) -> Shop:
    return Shop(Store(f"sqlite:///{folder / 'jobs.db'}"), Media(folder / "originals"))


@pytest.fixture
def here(tmp_path: Path) -> Shop:
    return shop_in(tmp_path / "here")


@pytest.fixture
def there(tmp_path: Path) -> Shop:
    return shop_in(tmp_path / "there")


def job_in(shop: Shop) -> Job:
    sound, picture = shop.kept(SOUND, "a.wav"), shop.kept(PICTURE, "a.jpg")
    report = Issued(at=NOW, name="story.pdf", sha256=shop.kept(PRINTED, "story.pdf"))
    job = Job(
        id="",
        created_at=NOW,
        customer="Ms. Ellen Marsh",
        recordings=(
            Recording(id="r1", name="a.wav", sha256=sound, format="wav"),
            Recording(id="r2", name="typed", format="text"),
        ),
        photos=(Photo(id="p1", name="a.jpg", sha256=picture, format="jpeg", width=4, height=3),),
        reports=(report,),
    )
    return shop.store.create(job).job


@pytest.fixture
def bundle(here: Shop, tmp_path: Path) -> Path:
    pack(job_in(here), here.media, tmp_path / "job.zip")
    return tmp_path / "job.zip"


def rewritten(
    bundle: Path,
    change: Callable[[dict[str, bytes]], dict[str, bytes]],
    how: int = ZIP_STORED,
    sign: bool = True,
) -> Path:
    """Write a bundle anew with other files in it; `sign` makes its manifest fit them."""
    with ZipFile(bundle) as held:
        files = change({name: held.read(name) for name in held.namelist()})
    if sign:
        listed = {name: content for name, content in files.items() if name != MANIFEST}
        files[MANIFEST] = manifest(listed)
    with ZipFile(bundle, "w", how) as made:
        for name, content in files.items():
            made.writestr(name, content)
    return bundle


def manifest(files: dict[str, bytes], **other: object) -> bytes:
    listed = [
        {"name": name, "size": len(content), "sha256": hashlib.sha256(content).hexdigest()}
        for name, content in files.items()
    ]
    told = {"form": "jobnotes bundle", "version": 1, "files": listed, **other}
    return json.dumps(told).encode()


def record(files: dict[str, bytes], **changes: object) -> dict[str, bytes]:
    return {**files, RECORD: json.dumps({**json.loads(files[RECORD]), **changes}).encode()}


def nothing_came(shop: Shop) -> bool:
    return not shop.store.list() and not shop.files()


def test_another_shop_has_the_same_job(here, there, bundle):
    came = receive(bundle, there.store, there.media)
    (sent,) = (here.store.load(one.id).job for one in here.store.list())
    assert came.having(bundle="") == sent
    assert there.store.load(came.id).job == came


def test_originals_and_reports_come_whole(there, bundle):
    job = receive(bundle, there.store, there.media)
    taken = (job.recordings[0].sha256, job.photos[0].sha256, job.reports[0].sha256)
    held = [there.media.path(sha256).read_bytes() for sha256 in taken]
    assert held == [SOUND, PICTURE, PRINTED]
    assert verify(there.store, there.media) == ()


def test_the_same_job_makes_the_same_bytes(here, bundle, tmp_path):
    (one,) = here.store.list()
    pack(here.store.load(one.id).job, here.media, tmp_path / "again.zip")
    assert (tmp_path / "again.zip").read_bytes() == bundle.read_bytes()


def test_a_taken_number_gives_way_to_a_new_one(there, bundle):
    own = there.store.create(Job(id="", created_at=datetime(2026, 1, 2, tzinfo=UTC))).job
    came = receive(bundle, there.store, there.media)
    assert (own.id, came.id) == ("2026-0001", "2026-0002")
    assert there.store.load(own.id).job == own


def test_the_next_own_job_passes_over_a_number_that_came_from_elsewhere(there, bundle):
    assert receive(bundle, there.store, there.media).id == "2026-0001"
    own = there.store.create(Job(id="", created_at=datetime(2026, 1, 2, tzinfo=UTC))).job
    assert own.id == "2026-0002"


def test_taking_in_the_same_bundle_twice_says_so(there, bundle):
    there.store.create(Job(id="", created_at=datetime(2026, 1, 2, tzinfo=UTC)))
    receive(bundle, there.store, there.media)
    with pytest.raises(KnownJobError, match="2026-0002"):
        receive(bundle, there.store, there.media)
    assert len(there.store.list()) == 2


def test_the_shop_that_sent_it_has_it_already(here, bundle):
    with pytest.raises(KnownJobError, match="2026-0001"):
        receive(bundle, here.store, here.media)


def test_a_lost_report_is_found_by_verify(here):
    job = job_in(here)
    here.media.path(job.reports[0].sha256).unlink()
    (problem,) = verify(here.store, here.media)
    assert "the report story.pdf of job 2026-0001 is missing" in problem


def test_an_altered_original_is_not_sent(here, tmp_path):
    job = job_in(here)
    path = here.media.path(job.photos[0].sha256)
    path.chmod(0o600)
    path.write_bytes(PICTURE + b"x")
    with pytest.raises(StoreError, match="altered"):
        pack(job, here.media, tmp_path / "job.zip")
    assert not (tmp_path / "job.zip").exists()


def test_a_bundle_that_cannot_be_written_leaves_nothing(here, tmp_path):
    with pytest.raises(OutputError):
        pack(job_in(here), here.media, tmp_path / "none" / "job.zip")


def test_a_missing_bundle_is_named(there, tmp_path):
    with pytest.raises(MissingFileError, match=r"none\.zip"):
        receive(tmp_path / "none.zip", there.store, there.media)


@pytest.mark.parametrize("content", [b"", b"PK", b"a picture" * 99])
def test_a_file_that_is_no_bundle_is_refused(there, tmp_path, content):
    (tmp_path / "a.zip").write_bytes(content)
    with pytest.raises(BundleError):
        receive(tmp_path / "a.zip", there.store, there.media)
    assert nothing_came(there)


@pytest.mark.parametrize("part", [0.1, 0.5, 0.9, 0.999])
def test_a_bundle_cut_short_is_refused(there, bundle, part):
    content = bundle.read_bytes()
    bundle.write_bytes(content[: int(len(content) * part)])
    with pytest.raises(BundleError):
        receive(bundle, there.store, there.media)
    assert nothing_came(there)


def test_no_flipped_bit_comes_in_or_ends_in_anything_but_an_own_error(there, bundle):
    content = bundle.read_bytes()
    refused = 0
    for place in range(0, len(content), 97):
        bundle.write_bytes(content[:place] + bytes([content[place] ^ 16]) + content[place + 1 :])
        try:
            receive(bundle, there.store, there.media)
        except KnownJobError:
            continue
        except JobnotesError:
            refused += 1
    assert refused > 200
    # what came in did so by a bit that means nothing, such as one of a file's time
    assert verify(there.store, there.media) == ()
    assert len(there.store.list()) <= 1


def drop(name: str) -> Callable[[dict[str, bytes]], dict[str, bytes]]:
    return lambda files: {n: c for n, c in files.items() if not n.startswith(name)}


CHANGES: dict[str, Callable[[dict[str, bytes]], dict[str, bytes]]] = {
    "a file too many": lambda files: {**files, "originals/" + "a" * 64: b"a"},
    "a way out of the folder": lambda files: {**files, "../../escaped": b"a"},
    "an absolute name": lambda files: {**files, "/tmp/escaped": b"a"},
    "a missing original": drop("originals/"),
    "a missing report": drop("reports/"),
    "no record": drop(RECORD),
    "a record that is none": lambda files: {**files, RECORD: b"[]"},
    "a record with a way out": lambda files: record(
        files, recordings=[{"id": "r1", "name": "a", "format": "wav", "sha256": "../../etc/passwd"}]
    ),
    "two things of one id": lambda files: record(
        files, recordings=[*json.loads(files[RECORD])["recordings"][1:]] * 2
    ),
}


@pytest.mark.parametrize("name", CHANGES)
def test_a_bundle_signed_anew_with_other_content_is_refused(there, bundle, name):
    with pytest.raises(BundleError):
        receive(rewritten(bundle, CHANGES[name]), there.store, there.media)
    assert nothing_came(there)


@pytest.mark.parametrize("kind", ["originals/", "reports/", RECORD])
def test_a_file_that_its_manifest_does_not_fit_is_refused(there, bundle, kind):
    def changed(files: dict[str, bytes]) -> dict[str, bytes]:
        name = next(name for name in files if name.startswith(kind))
        return {**files, name: files[name].replace(b"s", b"z")}

    with pytest.raises(BundleError):
        receive(rewritten(bundle, changed, sign=False), there.store, there.media)
    assert nothing_came(there)


def test_an_original_under_the_hash_of_another_is_refused(there, bundle):
    def swapped(files: dict[str, bytes]) -> dict[str, bytes]:
        one, other = (name for name in files if name.startswith("originals/"))
        return {**files, one: files[other], other: files[one]}

    with pytest.raises(BundleError, match="altered"):
        receive(rewritten(bundle, swapped), there.store, there.media)
    assert nothing_came(there)


def test_a_packed_bundle_is_refused_before_it_is_unpacked(there, bundle):
    # 200 MB of zeros in 200 kB: what is packed can be larger inside than outside
    def zeros(files: dict[str, bytes]) -> dict[str, bytes]:
        return {**files, RECORD: bytes(200 << 20)}

    with pytest.raises(BundleError, match="more than there is"):
        receive(rewritten(bundle, zeros, how=ZIP_DEFLATED), there.store, there.media)


def test_a_packed_file_is_refused_even_if_it_is_small(there, bundle):
    with ZipFile(bundle, "a", ZIP_DEFLATED) as more:
        more.writestr("a", b"a")
    with pytest.raises(BundleError, match="packed"):
        receive(bundle, there.store, there.media)


def test_files_that_overlap_are_refused(there, bundle):
    # the directory at the end of a zip (APPNOTE.TXT, 4.3.12) may name one place many times
    content = bytearray(bundle.read_bytes())
    directory = content.index(b"PK\x01\x02")
    struct.pack_into("<II", content, directory + 20, 2**31, 2**31)
    bundle.write_bytes(content)
    with pytest.raises(BundleError):
        receive(bundle, there.store, there.media)


def test_a_bundle_that_lost_bytes_in_its_middle_is_refused(there, bundle):
    # the places in the directory of a zip then begin before the file does
    content = bytearray(bundle.read_bytes())
    middle = content.index(SOUND) + 100
    del content[middle : middle + 7]
    bundle.write_bytes(content)
    with pytest.raises(BundleError):
        receive(bundle, there.store, there.media)
    assert nothing_came(there)


def test_a_name_given_twice_is_refused(there, bundle):
    with pytest.warns(UserWarning, match="Duplicate name"), ZipFile(bundle, "a") as more:
        more.writestr(RECORD, b"{}")
    with pytest.raises(BundleError):
        receive(bundle, there.store, there.media)
    assert nothing_came(there)


def test_a_bundle_of_a_later_version_is_told_from_a_damaged_one(there, bundle):
    def later(files: dict[str, bytes]) -> dict[str, bytes]:
        listed = {name: content for name, content in files.items() if name != MANIFEST}
        return {**files, MANIFEST: manifest(listed, version=2)}

    with pytest.raises(FormVersionError):
        receive(rewritten(bundle, later, sign=False), there.store, there.media)
    assert nothing_came(there)


def test_a_record_of_a_later_version_is_told_from_a_damaged_one(there, bundle):
    with pytest.raises(FormVersionError):
        receive(rewritten(bundle, lambda files: record(files, version=2)), there.store, there.media)
    assert nothing_came(there)


def test_nothing_is_kept_if_the_store_fails_at_the_end(there, bundle):
    with ZipFile(bundle) as held:
        first = next(name for name in held.namelist() if name.startswith("originals/"))
    already = [there.kept(content, "a") for content in (SOUND, PICTURE) if is_of(content, first)]
    there.store.close()
    (there.media.folder.parent / "jobs.db").write_bytes(b"no database")
    with pytest.raises(StoreError):
        receive(bundle, there.store, there.media)
    assert [path.name for path in there.files()] == already


def is_of(content: bytes, name: str) -> bool:
    return name.endswith(hashlib.sha256(content).hexdigest())


def test_an_odd_number_gives_way_to_one_of_the_shop_s_own(there, bundle):
    job = receive(
        rewritten(bundle, lambda files: record(files, id="../x")), there.store, there.media
    )
    assert job.id == "2026-0001"


def test_a_bundle_that_two_programs_take_in_at_once_keeps_its_originals(
    bundle: Path, there: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep, other = Media.keep_pieces, shop_in(there.media.folder.parent)

    def kept_late(media: Media, *given: object) -> str:
        monkeypatch.setattr(Media, "keep_pieces", keep)
        sha256 = keep(media, *given)
        receive(bundle, other.store, other.media)  # the other program is done first
        return sha256

    monkeypatch.setattr(Media, "keep_pieces", kept_late)
    with pytest.raises(StoreError):
        receive(bundle, there.store, there.media)
    assert verify(there.store, there.media) == ()
