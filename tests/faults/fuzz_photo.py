"""Pictures under random input: they are read, made smaller, freed of their place, or refused."""

from __future__ import annotations

import io
import random
import tempfile
from collections.abc import Iterator
from pathlib import Path

from fuzz_target import Target, memory

from voicelog.errors import VoicelogError
from voicelog.export.picture_place import ending_of, may_hold_place, without_place
from voicelog.export.pictures import check_whole, report_jpeg, told_by
from voicelog.review.photo_clock import exif_time

_EXIF, _GPS = 0x8769, 0x8825
_WORDS = (
    b"\xff\xd8", b"\xff\xe0", b"\xff\xe1", b"Exif\x00\x00", b"II*\x00", b"MM\x00*", b"\x88%", b"\x87i", b"MPF\x00",
    b"\x89PNG\r\n\x1a\n", b"IHDR", b"IDAT", b"eXIf", b"IEND", b"RIFF", b"WEBP", b"VP8X", b"EXIF", b"ftypmif1",
    b"\xff\xff\xff\xff", b"\x00\x00\x00\x00",
)  # fmt: skip


def photo() -> Target:
    """A picture, as the program takes one in: everything it asks of a file."""
    path = Path(tempfile.mkdtemp(prefix="voicelog-fuzz-", dir=memory())) / "picture.jpg"

    def run(data: bytes) -> None:
        path.write_bytes(data)
        refused = [_refused(check, path, data) for check in (_told, _whole, _small, _placeless)]
        assert not refused[1] or refused[2], "what is not whole was drawn all the same"

    return Target(
        "photos: EXIF, whole, smaller, without a place", run, _pictures, None, _WORDS,
        longest=8_192, patience_s=20, growth_mb=1_200,
    )  # fmt: skip


def _refused(check: object, path: Path, data: bytes) -> bool:
    try:
        check(path, data)  # type: ignore[operator]
    except VoicelogError:
        return True
    return False


def _told(path: Path, _data: bytes) -> None:
    from datetime import UTC

    told = told_by(path)
    exif_time(told.taken, told.subsecond, told.offset, UTC)


def _whole(_path: Path, data: bytes) -> None:
    check_whole(data)


def _small(path: Path, _data: bytes) -> None:
    made = report_jpeg(path, 64)
    check_whole(made)
    assert not may_hold_place(made), "a picture for the page tells a place"


def _placeless(_path: Path, data: bytes) -> None:
    may_hold_place(data)
    ending_of(data)
    made, _ = without_place(data)
    assert not may_hold_place(made), "a place was left in it"


def _pictures() -> Iterator[bytes]:
    """A small drawing of every kind that can be written here, with a time and a place in it."""
    from PIL import Image

    exif = Image.Exif()
    exif[0x0112], exif[0x010F] = 6, "Camera"
    exif.update({
        _EXIF: {0x9003: "2026:03:14 09:05:30", 0x9011: "+01:00", 0x9291: "25", 0x927C: b"notes"},
        _GPS: {1: "N", 2: (51.0, 30.0, 26.0), 3: "W", 4: (0.0, 7.0, 39.0)},
    })  # fmt: skip
    drawn = Image.frombytes("RGB", (24, 16), random.Random(1).randbytes(24 * 16 * 3))
    for form in ("JPEG", "PNG", "WEBP", "TIFF"):
        for told in (exif.tobytes(), b""):
            file = io.BytesIO()
            drawn.save(file, form, exif=told)
            yield file.getvalue()
