"""How many parts a picture file is made of: counted before a library takes it apart.

A part costs the libraries microseconds and hundreds of bytes of memory, and can be four bytes long
in the file: a small file of nothing but parts would keep them busy for minutes.
"""

from __future__ import annotations

from io import SEEK_CUR
from typing import BinaryIO

from voicelog.errors import InputFault
from voicelog.tongue import worded

MOST_PARTS = 40_000
"""A picture of 256 MiB in the smallest parts that encoders write, 8 KiB, has fewer."""

_MOST_SEGMENTS = 4_000
"""In front of the picture data of a JPEG; a profile and EXIF in pieces of 64 KiB have some dozens."""
_MOST_FILLING = 1_000
"""Bytes of filling in front of markers, which nobody writes today."""
_PNG = b"\x89PNG\r\n\x1a\n"
_SOS, _EOI = 0xDA, 0xD9


def refuse_many_parts(file: BinaryIO) -> None:
    """Looks over a picture file, which is at its beginning again afterwards.

    Raises:
        InputFault: it has more parts than any picture.
        OSError: it cannot be read.
    """
    head = file.read(len(_PNG))
    if head == _PNG:
        _count_chunks(file)
    elif head[:2] == b"\xff\xd8":
        file.seek(2)
        _count_segments(file)
    file.seek(0)


def too_many_parts() -> InputFault:
    """The fault of such a file."""
    return InputFault(
        worded("The picture is made of more parts than a picture has"),
        worded("Save it again as JPEG, and give that"),
    )


def _count_chunks(file: BinaryIO) -> None:
    """PNG: length, kind, data, checksum."""
    for _ in range(MOST_PARTS):
        head = file.read(8)
        if len(head) < 8 or head[4:] == b"IEND":
            return
        file.seek(int.from_bytes(head[:4], "big") + 4, SEEK_CUR)
    raise too_many_parts()


def _count_segments(file: BinaryIO) -> None:
    """JPEG: filling, marker, length, data; up to the picture data."""
    filling = 0
    for _ in range(_MOST_SEGMENTS):
        while (begin := file.read(1)) == b"\xff":
            filling += 1
            if filling > _MOST_FILLING + _MOST_SEGMENTS:
                raise too_many_parts()
        if not begin or begin[0] in (_SOS, _EOI):
            return
        length = int.from_bytes(file.read(2), "big")
        file.seek(max(0, length - 2), SEEK_CUR)
    raise too_many_parts()
