"""Pictures of very many parts are refused before a library takes them apart."""

from __future__ import annotations

import io
import struct

import pytest

from voicelog.errors import InputFault
from voicelog.export.picture_parts import MOST_PARTS, refuse_many_parts

_PNG = b"\x89PNG\r\n\x1a\n"
_CHUNK = struct.pack(">I", 1) + b"IDATx" + bytes(4)
_END = bytes(4) + b"IEND" + bytes(4)
_SEGMENT = b"\xff\xe2\0\x03x"
_SCAN = b"\xff\xda\0\x02"


@pytest.mark.parametrize(
    "data",
    [_PNG + _CHUNK * (MOST_PARTS - 1) + _END, b"\xff\xd8" + _SEGMENT * 3_000 + _SCAN + _SEGMENT * 9_000,
     b"\xff\xd8" + b"\xff" * 900 + _SEGMENT + _SCAN, b"\xff\xd8", _PNG, b"", b"II*\0", _PNG + b"\xff" * 8],
)  # fmt: skip
def test_what_a_camera_could_write_passes(data: bytes) -> None:
    """What is cut short is for the libraries to tell; the file is at its beginning again."""
    file = io.BytesIO(data)
    refuse_many_parts(file)
    assert file.tell() == 0


@pytest.mark.parametrize(
    "data",
    [_PNG + _CHUNK * MOST_PARTS + _END, b"\xff\xd8" + _SEGMENT * 4_001 + _SCAN,
     b"\xff\xd8" + b"\xff" * 6_000 + _SEGMENT],
)  # fmt: skip
def test_what_nobody_writes_is_refused(data: bytes) -> None:
    """Parts of a PNG, segments of a JPEG, and filling in front of them."""
    with pytest.raises(InputFault, match="more parts than a picture has"):
        refuse_many_parts(io.BytesIO(data))
