"""Picture files taken apart and put together again: all that is no picture left out, the picture
data themselves not touched by a byte.

What is kept is named, everything else goes: a place can hide in maker notes, comments, a second
picture or a film behind the end of the first. JPEG: ITU-T T.81, annex B; PNG: W3C PNG, section 5;
WebP: RFC 9649, section 2.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterator
from itertools import chain

from voicelog.errors import InputFault
from voicelog.export.picture_parts import MOST_PARTS, too_many_parts
from voicelog.tongue import worded

_SOI, _EOI, _SOS, _DNL = 0xD8, 0xD9, 0xDA, 0xDC
_APP0, _APP2, _APP14, _COM = 0xE0, 0xE2, 0xEE, 0xFE
_NEEDED = {_APP0: b"JFIF\0", _APP2: b"ICC_PROFILE\0", _APP14: b"Adobe"}
"""The application segments that a decoder needs, and how they begin."""
_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
"""The end of entropy-coded data: a marker that is neither stuffing nor a restart."""

_FILLING = re.compile(rb"\xff+")

_PNG = b"\x89PNG\r\n\x1a\n"
_PNG_KEPT = frozenset(
    b"IHDR PLTE IDAT IEND tRNS cHRM gAMA iCCP sBIT sRGB cICP bKGD pHYs acTL fcTL fdAT".split()
)
_WEBP_KEPT = frozenset((b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"))
_WEBP_NOTES = 0x08 | 0x04
"""The flags of VP8X that promise EXIF and XMP."""
_EXIF = {"JPEG": b"\xe1Exif", "PNG": b"eXIf", "WEBP": b"EXIF"}
"""The kind of the one part that holds EXIF; a second one is more than a file needs."""

Piece = tuple[bytes, bytes]
"""The kind of a part of a file, and all its bytes."""


def only_picture(data: bytes, form: str, exif: bytes = b"") -> bytes:
    """A JPEG, PNG or WebP file without whatever is not needed to draw it.

    Args:
        data: the file.
        form: ``JPEG``, ``PNG`` or ``WEBP``.
        exif: a TIFF block that is put in instead, small enough for one segment; none when empty.

    Raises:
        InputFault: the file is cut short or not of that form.
    """
    return _FORMS[form](data, exif)


def holds_more(data: bytes, form: str) -> bool:
    """True where such a file holds parts that are not needed to draw it, besides EXIF.

    Raises:
        InputFault: as for :func:`only_picture`.
    """
    pieces = list(_few(_PIECES[form](data)))
    extra = [kind for kind, piece in pieces if not _is_kept(kind, piece, form)]
    return extra not in ([], [_EXIF[form]]) or len(data) > _length(pieces, form)


def _length(pieces: list[Piece], form: str) -> int:
    heads = {"JPEG": 4, "PNG": len(_PNG), "WEBP": 12}  # SOI and EOI; signature; RIFF header
    return heads[form] + sum(len(piece) for _, piece in pieces)


def _is_kept(kind: bytes, piece: bytes, form: str) -> bool:
    if form != "JPEG":
        return kind in (_PNG_KEPT if form == "PNG" else _WEBP_KEPT)
    marker = kind[0]
    if marker in _NEEDED:
        return piece[4:].startswith(_NEEDED[marker])
    return marker < _APP0


def _jpeg(data: bytes) -> Iterator[Piece]:
    """The segments between the first SOI and its EOI; a scan with the data that follow it.

    The kind is the marker, with ``Exif`` behind it for a segment of that.
    """
    if data[:2] != b"\xff\xd8":
        raise _cut("JPEG")
    at = 2
    while True:
        at = _at_marker(data, at)
        marker = data[at + 1]
        if marker == _EOI:
            return
        if marker == _SOI or at + 4 > len(data):
            raise _cut("JPEG")
        end = at + 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        if marker == _SOS:
            found = _MARKER.search(data, end)
            end = found.start() if found else len(data)
        if end > len(data) or end < at + 4:
            raise _cut("JPEG")
        exif = b"Exif" if marker == 0xE1 and data[at + 4 : at + 10] == b"Exif\0\0" else b""
        yield bytes([marker]) + exif, data[at:end]
        at = end


def _at_marker(data: bytes, at: int) -> int:
    """Where the marker begins, fill bytes passed over."""
    filled = _FILLING.match(data, at)
    at = filled.end() - 1 if filled else at
    if len(data) < at + 2 or data[at] != 0xFF:
        raise _cut("JPEG")
    return at


def _jpeg_only(data: bytes, exif: bytes) -> bytes:
    kept = [piece for kind, piece in _few(_jpeg(data)) if _is_kept(kind, piece, "JPEG")]
    first = 1 if kept and kept[0][1] == _APP0 else 0
    body = b"Exif\0\0" + exif
    told = b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body if exif else b""
    return b"".join((b"\xff\xd8", *kept[:first], told, *kept[first:], b"\xff\xd9"))


def _png(data: bytes) -> Iterator[Piece]:
    if not data.startswith(_PNG):
        raise _cut("PNG")
    at, kind = len(_PNG), b""
    while kind != b"IEND":
        size, kind = int.from_bytes(data[at : at + 4], "big"), data[at + 4 : at + 8]
        end = at + 12 + size
        if end > len(data):
            raise _cut("PNG")
        yield kind, data[at:end]
        at = end


def _png_only(data: bytes, exif: bytes) -> bytes:
    kept = [piece for kind, piece in _few(_png(data)) if _is_kept(kind, piece, "PNG")]
    told = b"eXIf" + exif
    chunk = struct.pack(">I", len(exif)) + told + struct.pack(">I", zlib.crc32(told))
    return b"".join((_PNG, kept[0], chunk if exif else b"", *kept[1:]))


def _webp(data: bytes) -> Iterator[Piece]:
    if data[:4] != b"RIFF" or data[8:12] != b"WEBP":
        raise _cut("WebP")
    at, whole = 12, 8 + int.from_bytes(data[4:8], "little")
    if whole > len(data):
        raise _cut("WebP")
    while at + 8 <= whole:
        size = int.from_bytes(data[at + 4 : at + 8], "little")
        end = at + 8 + size + size % 2
        if end > whole:
            raise _cut("WebP")
        yield data[at : at + 4], data[at:end]
        at = end


def _webp_only(data: bytes, exif: bytes) -> bytes:
    """EXIF needs the extended header; where a file has none, the time is left out with it."""
    kept = [piece for kind, piece in _few(_webp(data)) if _is_kept(kind, piece, "WEBP")]
    told = b""
    if kept and kept[0][:4] == b"VP8X":
        flags = kept[0][8] & ~_WEBP_NOTES | (0x08 if exif else 0)
        kept[0] = kept[0][:8] + bytes([flags]) + kept[0][9:]
        told = b"EXIF" + struct.pack("<I", len(exif)) + exif + b"\0" * (len(exif) % 2)
    body = b"WEBP" + b"".join(chain(kept, (told if exif else b"",)))
    return b"RIFF" + struct.pack("<I", len(body)) + body


def _few(pieces: Iterator[Piece]) -> Iterator[Piece]:
    """The pieces, as long as there are no more than a picture has."""
    for number, piece in enumerate(pieces):
        if number == MOST_PARTS:
            raise too_many_parts()
        yield piece


def _cut(form: str) -> InputFault:
    return InputFault(
        worded("The {form} file is cut short, or damaged", form=form),
        worded("Copy it from the camera again"),
    )


_PIECES = {"JPEG": _jpeg, "PNG": _png, "WEBP": _webp}
_FORMS = {"JPEG": _jpeg_only, "PNG": _png_only, "WEBP": _webp_only}
