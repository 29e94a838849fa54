"""A process that opens HEIC files, so that one made to crash the decoder crashes only this.

Run as a script by :mod:`voicelog.export.heic_trial`: it reads a letter (``o``: open, ``d``: decode),
eight bytes of length and a file from standard input, and answers with one byte once it lived
through that.
"""

from __future__ import annotations

import io
import struct
import sys
from contextlib import suppress


def serve() -> None:
    """Answers until standard input ends."""
    from pi_heif import register_heif_opener
    from PIL import Image

    register_heif_opener()
    while len(head := sys.stdin.buffer.read(9)) == 9:
        (size,) = struct.unpack(">Q", head[1:])
        data = sys.stdin.buffer.read(size)
        with suppress(Exception), Image.open(io.BytesIO(data), formats=("HEIF",)) as image:
            image.getexif()
            if head[:1] == b"d":
                image.load()
        sys.stdout.buffer.write(b".")
        sys.stdout.buffer.flush()


if __name__ == "__main__":
    serve()
