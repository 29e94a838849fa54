"""Pictures opened: what they tell, what is refused, and the small copy for a page."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from voicelog.errors import InputFault
from voicelog.export.pictures import check_whole, report_jpeg, told_by


def _kept(folder: Path, data: bytes, name: str = "a.jpg") -> Path:
    (folder / name).write_bytes(data)
    return folder / name


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_a_picture_tells_when_it_was_taken(form: str, camera: Any, tmp_path: Path) -> None:
    """Time, fraction and offset as they stand in it, whatever its ending says."""
    data = camera.shoot(form, taken="2026:03:14 09:05:30", subsecond="25", offset="+01:00")
    told = told_by(_kept(tmp_path, data))
    assert told.form == form
    assert (told.taken, told.subsecond, told.offset) == ("2026:03:14 09:05:30", "25", "+01:00")


def test_heic_is_read(heic: bytes, tmp_path: Path) -> None:
    """As a phone writes it."""
    told = told_by(_kept(tmp_path, heic, "a.heic"))
    assert (told.form, told.taken, told.offset) == ("HEIF", "2026:03:14 09:05:30", "+01:00")
    check_whole(heic)


@pytest.mark.parametrize(
    "exif",
    [
        b"Exif\0\0",
        b"Exif\0\0II*\0\xff\xff\xff\xff",
        b"Exif\0\0MM\0*\0\0\0\x08" + b"\xff" * 60,
        b"x" * 99,
    ],
)
def test_nonsense_exif_tells_nothing(exif: bytes, camera: Any, tmp_path: Path) -> None:
    """The picture itself is good."""
    image = Image.open(io.BytesIO(camera.shoot()))
    image.info.pop("exif", None)
    image.save(tmp_path / "a.jpg", exif=exif)
    assert told_by(tmp_path / "a.jpg").taken == ""


@pytest.mark.parametrize(
    "data", [b"", b"PK\3\4" + b"0" * 200, b"\xff\xd8\xff", b"GIF89a" + b"\0" * 40]
)
def test_what_is_no_picture_is_refused(data: bytes, tmp_path: Path) -> None:
    """An archive under a picture's name, an empty file, another kind."""
    with pytest.raises(InputFault, match=r"no picture|cut short"):
        told_by(_kept(tmp_path, data))


def test_a_picture_of_too_many_pixels_is_refused(
    camera: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A small file can unpack to more than the memory holds; that it is just above the limit is
    enough.
    """
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 64 * 48 - 1)
    with pytest.raises(InputFault, match="million pixels"):
        told_by(_kept(tmp_path, camera.shoot()))


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_a_picture_cut_short_is_told(form: str, camera: Any) -> None:
    """Half a file is no evidence."""
    data = camera.shoot(form)
    check_whole(data)
    with pytest.raises(InputFault, match=r"cut short|no picture"):
        check_whole(data[: len(data) * 2 // 3])


def test_a_page_gets_a_small_upright_copy_without_metadata(camera: Any, tmp_path: Path) -> None:
    """The camera was held on its side; the page needs no more pixels than it shows."""
    data = camera.shoot(taken="2026:03:14 09:05:30", place=True, turned=6)
    made = report_jpeg(_kept(tmp_path, data), longest_px=32)
    with Image.open(io.BytesIO(made)) as image:
        assert (image.format, image.mode, image.size) == ("JPEG", "RGB", (24, 32))
        assert not image.getexif()
        assert "icc_profile" not in image.info
    assert b"Exif" not in made


def test_a_small_picture_keeps_its_size(camera: Any, tmp_path: Path) -> None:
    """Nothing is blown up."""
    with Image.open(io.BytesIO(report_jpeg(_kept(tmp_path, camera.shoot())))) as image:
        assert image.size == (64, 48)


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P", "CMYK", "L", "1", "I;16"])
def test_every_kind_of_colour_becomes_plain(mode: str, tmp_path: Path) -> None:
    """What can be seen through is white behind."""
    form = "TIFF" if mode in ("CMYK", "I;16") else "PNG"
    Image.new(mode, (8, 8)).save(tmp_path / "a", form)
    with Image.open(io.BytesIO(report_jpeg(tmp_path / "a"))) as image:
        assert image.mode == "RGB"
        if mode in ("RGBA", "LA"):
            assert image.getpixel((0, 0)) == (255, 255, 255)


@pytest.mark.parametrize("data", [b"", b"PK\3\4", None])
def test_a_page_is_told_of_a_broken_picture(data: bytes | None, tmp_path: Path) -> None:
    """One clear fault, also where it is gone."""
    if data is not None:
        _kept(tmp_path, data)
    with pytest.raises(InputFault):
        report_jpeg(tmp_path / "a.jpg")
