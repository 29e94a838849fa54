"""Where a photograph was taken is nobody's business but the photographer's: found, and taken out."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from voicelog.errors import InputFault
from voicelog.export.picture_bytes import holds_more, only_picture
from voicelog.export.pictures import FORMS, opened
from voicelog.tongue import worded

if TYPE_CHECKING:
    from PIL.Image import Image

_EXIF_IFD, _GPS_IFD = 0x8769, 0x8825
_HIDING = (_GPS_IFD, 0x014A, 0x02BC, 0x83BB, 0x8649)
"""EXIF tags that hold a place or may, whatever their form: GPS, more pictures, XMP, IPTC, image
resources."""
_SMALL_PICTURE = -1
"""Pillow's number for the directory of a thumbnail, which is a file within the file."""
_NEEDED = (0x015B, 0x8773)
"""What a TIFF is drawn with: tables of JPEG, colour profile."""
_SHORTEST_TEXT = 4
"""Texts up to this length are versions and codes, which name no place."""

_ORIENTATION = 0x0112
_KEPT = {
    0x010F: str, 0x0110: str, 0x0132: str, _ORIENTATION: int,
}  # fmt: skip
"""Make, model, time of change, which way is up."""
_KEPT_IN_EXIF = dict.fromkeys(
    (0x9003, 0x9004, 0x9010, 0x9011, 0x9012, 0x9290, 0x9291, 0x9292), str
)  # fmt: skip
"""The times of taking and digitising, their fractions and offsets."""
_PLAIN = re.compile(r"[ -~]{1,64}")
_LOSSLESS = ("JPEG", "PNG", "WEBP")


def may_hold_place(data: bytes) -> bool:
    """True where a picture file holds a place of taking, or parts that may: maker notes, XMP,
    comments, whatever lies behind the picture.

    Raises:
        InputFault: it is damaged or no picture.
    """
    with opened(io.BytesIO(data)) as image:
        form, several = _form(image), _has_more(image)
        if _exif_hides(image):
            return True
        if form in _LOSSLESS:
            return holds_more(data, form)
        return bool(image.info.get("xmp") or image.info.get("metadata")) or several


def without_place(data: bytes) -> tuple[bytes, str]:
    """The same picture without a place of taking, and the ending of its file's name.

    Of its metadata only times, camera and which way is up are left. JPEG, PNG and WebP keep their
    picture data to the byte; TIFF is written anew, without loss and unpacked; HEIC, which cannot be
    written here, becomes a JPEG.

    Raises:
        InputFault: it is damaged, no picture, or a TIFF of several pages.
    """
    with opened(io.BytesIO(data), decode=True) as image:
        form = _form(image)
        if form in _LOSSLESS:
            made, ending = only_picture(data, form, _bare_exif(image)[6:]), FORMS[form]
        else:
            made, ending = _saved_anew(image, form)
    if may_hold_place(made):
        raise InputFault(
            worded("The place of taking cannot be taken out of this picture"),
            worded("Save it as JPEG, or keep the place with --keep-location"),
        )
    return made, ending


def ending_of(data: bytes) -> str:
    """The ending that a picture file as it stands is kept under.

    Raises:
        InputFault: it is damaged or no picture.
    """
    with opened(io.BytesIO(data)) as image:
        return FORMS[str(image.format)]


def _form(image: Image) -> str:
    """A JPEG with a second picture behind it is a JPEG."""
    return "JPEG" if image.format == "MPO" else str(image.format)


def _exif_hides(image: Image) -> bool:
    """What cannot be read may hide anything."""
    try:
        exif = image.getexif()
        named, shot = dict(exif), dict(exif.get_ifd(_EXIF_IFD))
        hidden = bool(exif.get_ifd(_SMALL_PICTURE)) or any(tag in named for tag in _HIDING)
        return hidden or _tells_more(named, _KEPT) or _tells_more(shot, _KEPT_IN_EXIF)
    except Exception:  # as Pillow's parsers raise it
        return True


def _tells_more(tags: Mapping[int, Any], kept: Mapping[int, type]) -> bool:
    """True where a text stands that would not be kept: a title, a comment, a maker's note. Numbers
    tell of lens and light.
    """
    return any(
        isinstance(value, str | bytes)
        and len(value) > _SHORTEST_TEXT
        and tag not in _NEEDED
        and not (tag in kept and _fits(value, kept[tag]))
        for tag, value in tags.items()
    )


def _bare_exif(image: Image, *, upright: bool = False) -> bytes:
    """EXIF made anew from what is kept; empty where that is nothing."""
    from PIL import Image as Pillow

    bare = Pillow.Exif()
    try:
        exif = image.getexif()
        named, shot = _kept(exif, _KEPT), _kept(exif.get_ifd(_EXIF_IFD), _KEPT_IN_EXIF)
    except Exception:  # nonsense tells nothing
        return b""
    if upright:
        named.pop(_ORIENTATION, None)
    bare.update(named | ({_EXIF_IFD: shot} if shot else {}))
    return bare.tobytes() if len(bare) else b""


def _kept(tags: Mapping[int, Any], wanted: Mapping[int, type]) -> dict[int, Any]:
    return {
        tag: tags[tag] for tag, kind in wanted.items() if tag in tags and _fits(tags[tag], kind)
    }


def _fits(value: object, kind: type) -> bool:
    if kind is int:
        return type(value) is int and 1 <= value <= 8
    return isinstance(value, str) and _PLAIN.fullmatch(value) is not None


def _saved_anew(image: Image, form: str) -> tuple[bytes, str]:
    if form == "TIFF" and _has_more(image):
        raise InputFault(
            worded("The TIFF file has several pages"),
            worded("Save the one that matters as a file of its own"),
        )
    target, heif = io.BytesIO(), form == "HEIF"
    more: dict[str, Any] = {"exif": _bare_exif(image, upright=heif)}
    if image.info.get("icc_profile"):
        more["icc_profile"] = image.info["icc_profile"]
    plain = _plain(image, "RGB" if heif else image.mode)
    if heif:
        plain.save(target, "JPEG", quality=95, subsampling=0, **more)
    else:
        plain.save(target, "TIFF", **more)  # packed, EXIF could not be written
    return target.getvalue(), "jpg" if heif else "tif"


def _has_more(image: Image) -> bool:
    """True where a second picture stands behind the first. They are not counted: a TIFF can have a
    million, or be a ring of them.
    """
    if image.format != "TIFF":
        return getattr(image, "n_frames", 1) > 1
    try:
        image.seek(1)
    except EOFError:
        return False
    finally:
        image.seek(0)
    return True


def _plain(image: Image, mode: str) -> Image:
    """Nothing but the picture: a copy takes no notes of its file along."""
    plain = image.convert(mode) if image.mode != mode else image.copy()
    keep: Iterable[str] = ("transparency",)
    plain.info = {name: plain.info[name] for name in keep if name in plain.info}
    return plain
