import io
import os
import struct
import wave
import zlib
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pillow_heif
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from PIL.ExifTags import IFD, Base

from jobnotes.errors import (
    DamagedFileError,
    EmptyFileError,
    FormatError,
    InputError,
    MissingFileError,
    TooLargeError,
)
from jobnotes.intake.take_in import take_in
from jobnotes.record import Job, Photo
from jobnotes.store.media import Media

EMPTY = Job(id="2026-0001", created_at=datetime(2026, 9, 17, 8, tzinfo=UTC))
TAKEN = "2026:09:17 08:15:30"


@pytest.fixture
def media(tmp_path: Path) -> Media:
    return Media(tmp_path / "originals")


def exif_of(taken: str = TAKEN, offset: str = "", orientation: int = 1) -> Image.Exif:
    exif = Image.Exif()
    exif[Base.Orientation] = orientation
    exif.get_ifd(IFD.Exif)[Base.DateTimeOriginal] = taken
    if offset:
        exif.get_ifd(IFD.Exif)[Base.OffsetTimeOriginal] = offset
    return exif


def picture_bytes(form: str = "JPEG", exif: Image.Exif | None = None) -> bytes:
    buffer = io.BytesIO()
    picture = Image.effect_noise((96, 64), 90).convert("RGB")
    picture.save(buffer, form, exif=(exif or Image.Exif()).tobytes())
    return buffer.getvalue()


def heic_bytes(exif: Image.Exif | None = None) -> bytes:
    buffer = io.BytesIO()
    stored = pillow_heif.from_pillow(Image.effect_noise((96, 64), 90).convert("RGB"))
    stored.save(buffer, exif=(exif or Image.Exif()).tobytes())
    return buffer.getvalue()


def sound(file: Path, seconds: float = 2.0) -> Path:
    with wave.open(str(file), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(16_000)
        out.writeframes(os.urandom(int(seconds * 16_000) * 2))
    return file


def file_of(folder: Path, name: str, content: bytes) -> Path:
    (folder / name).write_bytes(content)
    return folder / name


def the_photo(media: Media, file: Path) -> Photo:
    taken = take_in(EMPTY, [file], media)
    assert taken.refused == ()
    return taken.job.photos[0]


def refusal(media: Media, file: Path) -> InputError:
    taken = take_in(EMPTY, [file], media)
    assert taken.job == EMPTY
    return taken.refused[0]


def originals(media: Media) -> list[bytes]:
    return [path.read_bytes() for path in media.folder.rglob("*") if path.is_file()]


@pytest.mark.parametrize(
    ("content", "form"),
    [
        (picture_bytes(), "jpeg"),
        (picture_bytes("PNG"), "png"),
        (picture_bytes("WEBP"), "webp"),
        (heic_bytes(), "heic"),
    ],
)
def test_a_photo_is_known_by_its_content_whatever_its_name_says(
    media: Media, tmp_path: Path, content: bytes, form: str
) -> None:
    photo = the_photo(media, file_of(tmp_path, "note.wav", content))
    assert (photo.format, photo.width, photo.height) == (form, 96, 64)


def test_a_sound_file_is_known_by_its_content_whatever_its_name_says(
    media: Media, tmp_path: Path
) -> None:
    recording = take_in(EMPTY, [sound(tmp_path / "photo.jpg")], media).job.recordings[0]
    assert recording.format == "wav"
    assert recording.duration_s == pytest.approx(2.0)


def test_the_original_is_kept_byte_for_byte(media: Media, tmp_path: Path) -> None:
    content = picture_bytes(exif=exif_of())
    photo = the_photo(media, file_of(tmp_path, "photo.jpg", content))
    assert media.path(photo.sha256).read_bytes() == content


def test_the_size_of_a_photo_is_that_of_the_upright_picture(media: Media, tmp_path: Path) -> None:
    content = picture_bytes(exif=exif_of(orientation=6))
    photo = the_photo(media, file_of(tmp_path, "photo.jpg", content))
    assert (photo.width, photo.height) == (64, 96)


def test_a_turned_heic_has_the_size_of_the_upright_picture(media: Media, tmp_path: Path) -> None:
    photo = the_photo(media, file_of(tmp_path, "a.heic", heic_bytes(exif_of(orientation=8))))
    assert (photo.width, photo.height) == (64, 96)


@pytest.mark.parametrize("make", [picture_bytes, heic_bytes])
def test_the_camera_time_is_read_with_its_zone(media: Media, tmp_path: Path, make) -> None:  # type: ignore[no-untyped-def]
    photo = the_photo(media, file_of(tmp_path, "photo", make(exif=exif_of(offset="-05:30"))))
    zone = timezone(-timedelta(hours=5, minutes=30))
    assert photo.taken_at == datetime(2026, 9, 17, 8, 15, 30, tzinfo=zone)
    assert photo.zone_known


def test_the_camera_time_without_a_zone_has_none(media: Media, tmp_path: Path) -> None:
    photo = the_photo(media, file_of(tmp_path, "a.jpg", picture_bytes(exif=exif_of())))
    assert (photo.taken_at, photo.zone_known) == (datetime(2026, 9, 17, 8, 15, 30), False)


@pytest.mark.parametrize("taken", ["0000:00:00 00:00:00", "    :  :     :  :  ", "yesterday", ""])
def test_a_camera_time_that_is_none_is_passed_over(
    media: Media, tmp_path: Path, taken: str
) -> None:
    photo = the_photo(media, file_of(tmp_path, "a.jpg", picture_bytes(exif=exif_of(taken))))
    assert photo.taken_at is None


@pytest.mark.parametrize("offset", ["+99:00", "Z", "two hours", "+2"])
def test_a_zone_that_makes_no_sense_is_passed_over(
    media: Media, tmp_path: Path, offset: str
) -> None:
    content = picture_bytes(exif=exif_of(offset=offset))
    assert not the_photo(media, file_of(tmp_path, "a.jpg", content)).zone_known


def test_a_photo_without_camera_time_has_that_of_its_name(media: Media, tmp_path: Path) -> None:
    photo = the_photo(media, file_of(tmp_path, "IMG_20260917_081530.jpg", picture_bytes()))
    assert photo.taken_at == datetime(2026, 9, 17, 8, 15, 30)


def test_a_photo_that_tells_where_it_was_taken_is_noticed(media: Media, tmp_path: Path) -> None:
    exif = exif_of()
    exif.get_ifd(IFD.GPSInfo).update({1: "N", 2: (1.0, 2.0, 3.0)})
    assert the_photo(media, file_of(tmp_path, "a.jpg", picture_bytes(exif=exif))).has_location
    assert not the_photo(media, file_of(tmp_path, "b.jpg", picture_bytes())).has_location


def test_a_location_in_the_xmp_metadata_is_noticed(media: Media, tmp_path: Path) -> None:
    buffer = io.BytesIO()
    Image.new("RGB", (20, 20)).save(buffer, "JPEG", xmp=b'<x exif:GPSLatitude="1,2.0N"/>')
    assert the_photo(media, file_of(tmp_path, "a.jpg", buffer.getvalue())).has_location


def test_a_dark_photo_is_flagged_when_it_is_taken_in(media: Media, tmp_path: Path) -> None:
    buffer = io.BytesIO()
    Image.new("RGB", (96, 64), (9, 9, 9)).save(buffer, "JPEG")
    photo = the_photo(media, file_of(tmp_path, "a.jpg", buffer.getvalue()))
    assert [(flag.by, flag.code, flag.open) for flag in photo.flags] == [("photos", "dark", True)]


def test_a_file_that_the_job_has_already_is_passed_over(media: Media, tmp_path: Path) -> None:
    photo = file_of(tmp_path, "a.jpg", picture_bytes())
    again = file_of(tmp_path, "b.jpg", photo.read_bytes())
    note = sound(tmp_path / "a.wav")
    first = take_in(EMPTY, [photo, note], media).job
    second = take_in(first, [again, note], media)
    assert second.job == first
    assert second.known == (again, note)


def test_recordings_and_photos_are_numbered_in_the_order_given(
    media: Media, tmp_path: Path
) -> None:
    files = [sound(tmp_path / "b.wav"), sound(tmp_path / "a.wav")]
    files += [file_of(tmp_path, "z.jpg", picture_bytes())]
    job = take_in(EMPTY, files, media).job
    assert [(r.id, r.name) for r in job.recordings] == [("r1", "b.wav"), ("r2", "a.wav")]
    assert [(p.id, p.name) for p in job.photos] == [("p1", "z.jpg")]


def test_a_folder_stands_for_the_files_in_it(media: Media, tmp_path: Path) -> None:
    card = tmp_path / "card"
    (card / "deeper").mkdir(parents=True)
    for name in ("b.jpg", "a.jpg", ".hidden"):
        file_of(card, name, picture_bytes())
    taken = take_in(EMPTY, [card], media)
    assert [photo.name for photo in taken.job.photos] == ["a.jpg", "b.jpg"]
    assert taken.refused == ()


def test_a_bad_file_does_not_stop_the_others(media: Media, tmp_path: Path) -> None:
    files = [
        file_of(tmp_path, "bad.jpg", b"<svg/>"),
        tmp_path / "nowhere.wav",
        file_of(tmp_path, "good.jpg", picture_bytes()),
    ]
    taken = take_in(EMPTY, files, media)
    assert [photo.name for photo in taken.job.photos] == ["good.jpg"]
    assert [type(error) for error in taken.refused] == [FormatError, MissingFileError]


def test_progress_is_told_after_each_file(media: Media, tmp_path: Path) -> None:
    told: list[float] = []
    files = [file_of(tmp_path, f"{n}.jpg", picture_bytes()) for n in range(4)]
    take_in(EMPTY, files, media, told.append)
    assert told == [0.25, 0.5, 0.75, 1.0]


def test_an_empty_file_is_refused(media: Media, tmp_path: Path) -> None:
    assert type(refusal(media, file_of(tmp_path, "a.jpg", b""))) is EmptyFileError
    assert originals(media) == []


def test_a_drawing_named_as_a_photo_is_refused(media: Media, tmp_path: Path) -> None:
    svg = b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>'
    assert type(refusal(media, file_of(tmp_path, "photo.jpg", svg))) is FormatError
    assert originals(media) == []


@pytest.mark.parametrize("part", [0.3, 0.6, 0.95])
@pytest.mark.parametrize("content", [picture_bytes(), picture_bytes("PNG"), heic_bytes()])
def test_a_photo_cut_short_is_named_and_its_original_kept(
    media: Media, tmp_path: Path, content: bytes, part: float
) -> None:
    short = content[: int(len(content) * part)]
    error = refusal(media, file_of(tmp_path, "photo.jpg", short))
    assert type(error) is DamagedFileError
    assert "photo.jpg" in str(error)
    assert originals(media) == [short]


def png_of_size(width: int, height: int) -> bytes:
    """The start of a PNG (W3C PNG specification, 11.2.2) that says it is that large."""
    body = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    header = struct.pack(">I", 13) + body + struct.pack(">I", zlib.crc32(body))
    return b"\x89PNG\r\n\x1a\n" + header + b"\0\0\0\0IDAT" + struct.pack(">I", zlib.crc32(b"IDAT"))


@pytest.mark.parametrize("size", [(30_000, 30_000), (2**31 - 1, 2**31 - 1), (16_385, 12_288)])
def test_a_picture_too_large_to_decode_is_refused(
    media: Media, tmp_path: Path, size: tuple[int, int]
) -> None:
    error = refusal(media, file_of(tmp_path, "bomb.jpg", png_of_size(*size)))
    assert type(error) is TooLargeError
    assert "bomb.jpg" in str(error)


def test_a_picture_as_large_as_the_largest_phones_take_is_not_too_large(
    media: Media, tmp_path: Path
) -> None:
    error = refusal(media, file_of(tmp_path, "large.png", png_of_size(16_384, 12_288)))
    assert type(error) is DamagedFileError  # what follows the header is missing


def test_a_sound_file_cut_short_is_named_and_its_original_kept(
    media: Media, tmp_path: Path
) -> None:
    # ISO/IEC 14496-12: a file that was cut off before its "moov" box was written
    short = b"\0\0\0\x18ftypM4A \0\0\0\0M4A isom" + b"\0\0\x10\0mdat" + bytes(4000)
    error = refusal(media, file_of(tmp_path, "note.m4a", short))
    assert type(error) is DamagedFileError
    assert "note.m4a" in str(error)
    assert originals(media) == [short]


def test_a_name_that_is_not_text_is_shown_as_well_as_it_can_be(
    media: Media, tmp_path: Path
) -> None:
    file = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.jpg"))
    file.write_bytes(picture_bytes())
    assert the_photo(media, file).name == "caf\ufffd.jpg"


CORPUS = [picture_bytes(exif=exif_of(offset="+02:00")), picture_bytes("PNG"), heic_bytes(exif_of())]


@settings(max_examples=150, deadline=None)
@given(data=st.data(), content=st.sampled_from(CORPUS))
def test_no_damage_to_a_photo_ends_in_anything_but_a_photo_or_an_input_error(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject, content: bytes
) -> None:
    folder = tmp_path_factory.mktemp("damage")
    damaged = bytearray(content[: data.draw(st.integers(1, len(content)))])
    for place in data.draw(st.lists(st.integers(0, len(damaged) - 1), max_size=8)):
        damaged[place] = data.draw(st.integers(0, 255))
    file = file_of(folder, "photo.jpg", bytes(damaged))
    taken = take_in(EMPTY, [file], Media(folder / "originals"))
    assert len(taken.job.photos) + len(taken.refused) == 1
