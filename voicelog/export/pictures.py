"""Opening photographs: when they were taken, whether they are whole, small copies for a page.

Only this module and ``picture_place`` know Pillow, and only this one pi_heif. A picture file is
input from outside: it is never believed about its size, and whatever the libraries raise becomes
one fault with a next step.
"""

from __future__ import annotations

import io
import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from voicelog.errors import InputFault, VoicelogError
from voicelog.export.heic_trial import is_heic, try_heic
from voicelog.export.picture_parts import refuse_many_parts
from voicelog.tongue import to_word, worded

if TYPE_CHECKING:
    from PIL.Image import Image

FORMS = {"JPEG": "jpg", "MPO": "jpg", "PNG": "png", "WEBP": "webp", "TIFF": "tif", "HEIF": "heic"}
"""The kinds of files that are read, and the ending that each is kept under."""
_PLAIN_FORMS = ("JPEG", "PNG", "WEBP", "TIFF")
ENDINGS = frozenset((".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff", ".heic", ".heif"))
LONGEST_FILE = 256 * 1024 * 1024
"""Bytes; no photograph comes near, and a file is held in memory as a whole."""

_QUALITY = 85
_TAKEN, _SUBSECOND, _OFFSET = 0x9003, 0x9291, 0x9011
_EXIF_IFD = 0x8769
_AGAIN = to_word("Copy it from the camera again")


logging.getLogger("PIL").addHandler(logging.NullHandler())  # a fault says what is wrong


@dataclass(frozen=True, slots=True)
class Told:
    """What a picture file tells of its taking; texts as they stand in it.

    Args:
        form: a key of :data:`FORMS`.
        taken: EXIF DateTimeOriginal (0x9003); empty where there is none.
        subsecond: SubSecTimeOriginal (0x9291).
        offset: OffsetTimeOriginal (0x9011).
    """

    form: str
    taken: str = ""
    subsecond: str = ""
    offset: str = ""


def told_by(path: Path) -> Told:
    """Reads what a picture tells; its picture data are not decoded.

    Raises:
        InputFault: it is no picture of a known kind, or has too many pixels.
    """
    with path.open("rb") as file, opened(file) as image:
        return _told(image)


def check_whole(data: bytes) -> None:
    """Decodes all of a picture, to see that nothing of it is missing.

    Raises:
        InputFault: it is cut short, damaged or no picture.
    """
    with opened(io.BytesIO(data), decode=True) as image:
        image.draft("RGB", (image.width // 8, image.height // 8))  # an eighth of the work, for JPEG
        image.load()


def report_jpeg(path: Path, longest_px: int = 1400) -> bytes:
    """A picture as a page needs it: upright, RGB, no larger than asked, without any metadata.

    Args:
        path: the picture, of any kind in :data:`FORMS`.
        longest_px: of its longer side; a smaller picture keeps its size.

    Raises:
        InputFault: it is not there, cut short, damaged or no picture.
    """
    from PIL import Image, ImageOps

    with _reading(path.name), path.open("rb") as file, opened(file, decode=True) as image:
        image.draft("RGB", (longest_px, longest_px))
        image.thumbnail((longest_px, longest_px))
        upright = ImageOps.exif_transpose(image)
        plain = Image.new("RGB", upright.size, "white")
        shown = upright.convert("RGBA")
        plain.paste(shown, mask=shown.getchannel("A"))
        target = io.BytesIO()
        plain.save(target, "JPEG", quality=_QUALITY, optimize=True)
    return target.getvalue()


@contextmanager
def opened(file: BinaryIO, *, decode: bool = False) -> Iterator[Image]:
    """A picture open for reading, its size checked against Pillow's limit.

    Args:
        file: at its beginning.
        decode: whether its picture data will be asked for.

    Raises:
        InputFault: for whatever goes wrong inside, the disk's refusals included.
    """
    from PIL import Image, UnidentifiedImageError

    try:
        forms = _forms(file, decode)
        refuse_many_parts(file)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # odd EXIF is no news
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(file, formats=forms) as image:
                yield image
    except VoicelogError:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        millions = (Image.MAX_IMAGE_PIXELS or 0) // 1_000_000
        raise InputFault(
            worded("The picture has more than {millions} million pixels", millions=millions),
            worded("Save a smaller copy, and give that"),
        ) from None
    except UnidentifiedImageError:
        raise InputFault(
            worded("The file is no picture that can be read"),
            worded("Give JPEG, PNG, WebP, TIFF or HEIC"),
        ) from None
    except Exception as error:  # the libraries raise whatever their parsers meet
        raise InputFault(worded("The picture is cut short, or damaged"), worded(_AGAIN)) from error


@contextmanager
def _reading(name: str) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise InputFault(
            worded("{name} cannot be read ({why})", name=repr(name), why=why),
            worded("Check that it is there"),
        ) from error


def _told(image: Image) -> Told:
    """Nonsense in EXIF is no reason to refuse the picture: it then tells nothing."""
    form = str(image.format)
    try:
        shot = image.getexif().get_ifd(_EXIF_IFD)
        texts = [str(shot.get(tag, "")).strip("\0 ") for tag in (_TAKEN, _SUBSECOND, _OFFSET)]
    except Exception:  # as above
        return Told(form)
    return Told(form, *texts)


def _forms(file: BinaryIO, decode: bool) -> tuple[str, ...]:
    """What the file may be: HEIC by its beginning, which another process opens first."""
    head = file.read(12)
    file.seek(0)
    if not is_heic(head):
        return _PLAIN_FORMS
    try_heic(file.read(LONGEST_FILE), decode=decode)
    file.seek(0)
    _with_heif()
    return ("HEIF",)


@cache
def _with_heif() -> None:
    from pi_heif import register_heif_opener

    register_heif_opener()
