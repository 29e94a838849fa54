"""Where a picture was taken: found wherever it hides, and taken out without touching the picture."""

from __future__ import annotations

import io
import struct
from typing import Any

import pytest
from PIL import Image, PngImagePlugin

from voicelog.errors import InputFault
from voicelog.export.picture_place import ending_of, may_hold_place, without_place

XMP = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><r exif:GPSLatitude="51,30.4N"/></x:xmpmeta>'
WHEN = {"taken": "2026:03:14 09:05:30", "offset": "+01:00"}


def _segment(marker: int, body: bytes) -> bytes:
    return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body


def _with(data: bytes, *segments: bytes) -> bytes:
    return data[:2] + b"".join(segments) + data[2:]


def _drawn(data: bytes) -> bytes:
    """What a JPEG of Pillow's is drawn from: all behind its first table."""
    return data[data.index(b"\xff\xdb") :]


def _pixels(data: bytes) -> bytes:
    with Image.open(io.BytesIO(data)) as image:
        return image.convert("RGB").tobytes()


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_the_place_goes_and_the_time_stays(form: str, camera: Any) -> None:
    """Read by Pillow before and after; every pixel is the same."""
    data = camera.shoot(form, place=True, maker=b"maker\0 51.5 N", more={"lossless": True}, **WHEN)
    assert camera.place_in(data)
    assert may_hold_place(data)
    made, ending = without_place(data)
    assert camera.place_in(made) == {}
    assert 0x927C not in camera.exif_in(made)
    assert camera.exif_in(made)[0x9003] == "2026:03:14 09:05:30"
    assert camera.exif_in(made)[0x9011] == "+01:00"
    assert b"51.5 N" not in made
    assert not may_hold_place(made)
    assert _pixels(made) == _pixels(data)
    assert ending == {"JPEG": "jpg", "PNG": "png", "WEBP": "webp", "TIFF": "tif"}[form]


@pytest.mark.parametrize(
    "more", [{}, {"progressive": True}, {"restart_marker_rows": 1}, {"subsampling": 0}]
)
def test_a_jpegs_scans_stay_as_they_are_to_the_byte(more: dict[str, Any], camera: Any) -> None:
    """Tables, frame and entropy-coded data: what the picture is made from."""
    data = camera.shoot(place=True, more=more)
    made, _ = without_place(data)
    assert _drawn(made) == _drawn(data)


@pytest.mark.parametrize(
    "extra",
    [
        _segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0" + XMP),
        _segment(0xED, b"Photoshop 3.0\0 city"),
        _segment(0xFE, b"taken at home"),
        _segment(0xE2, b"MPF\0 a second picture"),
        _segment(0xEB, b"of some maker"),
        _segment(0xE1, b"Exif\0\0MM\0*\0\0\0\x08\0\0"),
    ],
)
def test_whatever_may_hold_a_place_goes(extra: bytes, camera: Any) -> None:
    """XMP, image resources, comments, other makers' segments, a second EXIF block."""
    data = _with(camera.shoot(**WHEN), extra)
    assert may_hold_place(data)
    made, _ = without_place(data)
    assert extra[4:] not in made
    assert _drawn(made) == _drawn(data)


def test_what_hides_behind_the_end_goes() -> None:
    """A film, an archive or a second picture, as phones append them."""
    file = io.BytesIO()
    Image.new("RGB", (16, 16), "red").save(file, "JPEG")
    data = file.getvalue()
    assert not may_hold_place(data)
    assert may_hold_place(data + b"PK\3\4 loci")
    assert without_place(data + b"PK\3\4 loci")[0] == data


def test_a_picture_with_nothing_to_hide_is_left_alone(camera: Any) -> None:
    """Then the copy is the original."""
    assert not may_hold_place(camera.shoot(**WHEN))
    assert not may_hold_place(camera.shoot("PNG", **WHEN))


@pytest.mark.parametrize(
    ("named", "tag", "value"),
    [
        (True, 0x010E, "garage, 51.5 N"), (True, 0x013B, "Sam of 51.5 N"), (True, 0x9C9C, b"51.5 N"),
        (False, 0xA420, "id at 51.5 N"), (False, 0xA430, "Sam, 51.5 N"),
    ],
)  # fmt: skip
def test_a_place_in_any_text_goes(named: bool, tag: int, value: str | bytes, camera: Any) -> None:
    """A title, an artist, an owner: what is not kept by name is not kept."""
    exif = camera.exif(**WHEN)
    (exif if named else exif[0x8769])[tag] = value
    _assert_it_goes(_saved(exif.tobytes()))


def test_a_place_in_a_thumbnail_goes() -> None:
    """The second directory of EXIF (TIFF 6.0, section 2), here with a title of its own."""
    first = struct.pack(">HHHIHHI", 1, 0x0112, 3, 1, 1, 0, 26)
    second = struct.pack(">HHHIII", 1, 0x010E, 2, 7, 44, 0)
    _assert_it_goes(_saved(b"Exif\0\0MM\0*\0\0\0\x08" + first + second + b"51.5 N\0"))


def test_numbers_about_lens_and_light_are_nothing_to_hide(camera: Any) -> None:
    """A file that holds no more than these is kept to the byte."""
    exif = camera.exif(**WHEN)
    exif[0x8769] |= {0x829A: 0.01, 0x8827: 100, 0x9000: b"0232", 0x920A: 4.2}
    assert not may_hold_place(_saved(exif.tobytes()))


def _saved(exif: bytes) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (16, 16)).save(file, "JPEG", exif=exif)
    return file.getvalue()


def _assert_it_goes(data: bytes) -> None:
    assert b"51.5 N" in data
    assert may_hold_place(data)
    assert b"51.5 N" not in without_place(data)[0]


def test_colours_stay_true(camera: Any) -> None:
    """The colour profile is part of the picture."""
    profile = b"profile" * 20
    for form in ("JPEG", "PNG", "WEBP"):
        made, _ = without_place(camera.shoot(form, place=True, more={"icc_profile": profile}))
        with Image.open(io.BytesIO(made)) as image:
            assert image.info.get("icc_profile") == profile


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_a_picture_held_on_its_side_stays_so(form: str, camera: Any) -> None:
    """Which way is up is kept; a nonsense value of it is not."""
    made, _ = without_place(camera.shoot(form, place=True, turned=6))
    with Image.open(io.BytesIO(made)) as image:
        assert image.getexif()[0x0112] == 6
    made, _ = without_place(camera.shoot(form, place=True, turned=77))
    with Image.open(io.BytesIO(made)) as image:
        assert 0x0112 not in image.getexif()


def test_texts_of_a_png_go(camera: Any) -> None:
    """XMP and comments in their chunks."""
    notes = PngImagePlugin.PngInfo()
    notes.add_itxt("XML:com.adobe.xmp", XMP.decode())
    notes.add_text("Comment", "at home", zip=True)
    data = camera.shoot("PNG", more={"pnginfo": notes})
    assert may_hold_place(data)
    made, _ = without_place(data)
    with Image.open(io.BytesIO(made)) as image:
        image.load()
        assert not getattr(image, "text", {})
    assert b"xmp" not in made


def test_xmp_of_webp_and_tiff_goes(camera: Any) -> None:
    """Pillow writes it; Pillow finds none after."""
    webp = camera.shoot("WEBP", more={"xmp": XMP})
    tiff = camera.shoot("TIFF", more={"tiffinfo": {700: XMP}})
    for data in (webp, tiff):
        assert may_hold_place(data)
        made, _ = without_place(data)
        assert b"GPSLatitude" not in made
        with Image.open(io.BytesIO(made)) as image:
            assert not image.info.get("xmp")


def test_hostile_texts_in_exif_are_not_taken_along(camera: Any) -> None:
    """Only what looks like a time or a name is put into the new EXIF."""
    made, _ = without_place(camera.shoot(place=True, taken="2026\x1b[2J" + "x" * 200))
    assert b"\x1b[2J" not in made


def test_heic_becomes_a_jpeg_without_a_place(heic: bytes, camera: Any) -> None:
    """It cannot be written here; the picture stays the same to the eye, the time is kept."""
    assert camera.place_in(heic)
    made, ending = without_place(heic)
    assert ending == ending_of(made) == "jpg"
    assert camera.place_in(made) == {}
    assert camera.exif_in(made)[0x9003] == "2026:03:14 09:05:30"
    with Image.open(io.BytesIO(made)) as image:
        red, green, blue = image.convert("RGB").getpixel((8, 8))
    assert red > 180 > 60 > max(green, blue)
    assert ending_of(heic) == "heic"


def test_a_tiff_of_several_pages_is_refused(camera: Any) -> None:
    """Which page matters, nobody can know."""
    pages = [Image.new("RGB", (8, 8)), Image.new("RGB", (8, 8))]
    file = io.BytesIO()
    pages[0].save(file, "TIFF", save_all=True, append_images=pages[1:])
    with pytest.raises(InputFault, match="several pages"):
        without_place(file.getvalue())


@pytest.mark.parametrize("cut", [2, 20, 400, -3])
def test_a_jpeg_cut_anywhere_is_a_fault(cut: int, camera: Any) -> None:
    """Never half a copy."""
    with pytest.raises(InputFault):
        without_place(camera.shoot(place=True)[:cut])
