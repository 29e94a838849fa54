"""Recordings whose headers lie: WAV, FLAC, OGG and AIFF files that nobody should believe."""

from __future__ import annotations

import io
import struct
from collections.abc import Callable, Mapping

import numpy as np
import soundfile

_SOUND = (np.sin(np.arange(8_000) / 9) * 3_000).astype(np.int16)
_PCM = _SOUND.tobytes()


def _wav(
    rate: int = 16_000, channels: int = 1, *, claims: int | None = None, form: int = 1, bits: int = 16,
    more: bytes = b"", data: bytes = _PCM, whole: int | None = None,
) -> bytes:  # fmt: skip
    """A WAV file whose header says what is asked of it.

    Args:
        rate: samples a second.
        channels: how many.
        claims: bytes that the data are said to have.
        form: 1 for plain samples.
        bits: of a sample.
        more: chunks in front of the data.
        data: the samples.
        whole: bytes that the file is said to have.
    """
    frame = channels * bits // 8
    head = struct.pack(
        "<HHIIHH", form, channels % 65_536, rate, rate * frame % 2**32, frame % 65_536, bits
    )
    size = len(data) if claims is None else claims
    body = b"WAVEfmt " + struct.pack("<I", len(head)) + head + more
    body += b"data" + struct.pack("<I", size) + data
    return b"RIFF" + struct.pack("<I", len(body) if whole is None else whole) + body


def _kept(form: str, subtype: str | None = None, rate: int = 16_000) -> bytes:
    file = io.BytesIO()
    soundfile.write(file, _SOUND, rate, format=form, subtype=subtype)
    return file.getvalue()


def _flac(
    *, frames: int | None = None, rate: int | None = None, channels: int | None = None
) -> bytes:
    """A FLAC file with another STREAMINFO: 20 bits of rate, 3 of channels, 5 of bits, 36 of frames."""
    raw = bytearray(_kept("FLAC"))
    packed = int.from_bytes(raw[18:26], "big")
    told = [packed >> 44, packed >> 41 & 7, packed >> 36 & 31, packed & (2**36 - 1)]
    told[0] = told[0] if rate is None else rate
    told[1] = told[1] if channels is None else channels - 1
    told[3] = told[3] if frames is None else frames
    packed = told[0] << 44 | told[1] << 41 | told[2] << 36 | told[3]
    raw[18:26] = packed.to_bytes(8, "big")
    return bytes(raw)


def _flac_with(block: bytes) -> bytes:
    raw = _kept("FLAC")
    return raw[:4] + bytes([raw[4] & 0x7F]) + raw[5:42] + block + raw[42:]


def _ogg(change: Callable[[bytearray], None]) -> bytes:
    raw = bytearray(_kept("OGG", "VORBIS"))
    change(raw)
    return bytes(raw)


def _put(at: int, data: bytes) -> Callable[[bytearray], None]:
    def change(raw: bytearray) -> None:
        raw[at : at + len(data)] = data

    return change


LYING: Mapping[str, Callable[[], bytes]] = {
    "WAV at no samples a second": lambda: _wav(0),
    "WAV at one sample a second": lambda: _wav(1),
    "WAV at 4 GHz": lambda: _wav(2**32 - 1),
    "WAV of no channel": lambda: _wav(channels=0),
    "WAV of 65,535 channels": lambda: _wav(channels=65_535, data=bytes(65_535 * 2 * 20)),
    "WAV of 1,024 channels": lambda: _wav(channels=1_024, data=bytes(1_024 * 2 * 5_000)),
    "WAV of no bits": lambda: _wav(bits=0),
    "WAV of 65,535 bits": lambda: _wav(bits=65_535),
    "WAV of a form nobody knows": lambda: _wav(form=0xFFFE),
    "WAV packed as GSM and is not": lambda: _wav(form=49),
    "WAV with 4 GB of data that are not there": lambda: _wav(claims=2**32 - 2),
    "WAV with 2 GB of data that are not there": lambda: _wav(claims=2**31 - 2),
    "WAV with no data": lambda: _wav(claims=0),
    "WAV with half a sample": lambda: _wav(data=b"x"),
    "WAV of no length": lambda: _wav(whole=0),
    "WAV of half a million chunks": lambda: _wav(more=(b"junk" + bytes(4)) * 500_000),
    "WAV with a chunk of 4 GB": lambda: _wav(more=b"junk" + b"\xff\xff\xff\xff"),
    "WAV with formats again and again": lambda: _wav(more=(b"fmt " + struct.pack("<IHHIIHH", 16, 1, 9, 9, 9, 9, 9)) * 10_000),
    "WAV with ten thousand data": lambda: _wav() + (b"data" + struct.pack("<I", 2) + b"xx") * 10_000,
    "WAV with a list of nonsense": lambda: _wav(more=b"LIST" + struct.pack("<I", 40) + b"INFO" + b"INAM\xff\xff\xff\x7f" + bytes(28)),
    "WAV with cues by the billion": lambda: _wav(more=b"cue " + struct.pack("<II", 4, 2**32 - 1)),
    "WAV with samples that are no numbers": lambda: _wav(form=3, bits=32, data=np.full(8_000, np.nan, "<f4").tobytes()),
    "WAV with samples beyond all": lambda: _wav(form=3, bits=64, data=np.full(8_000, 1e308, "<f8").tobytes()),
    "RF64 that is endless": lambda: b"RF64\xff\xff\xff\xffWAVEds64" + struct.pack("<IQQQI", 28, 2**63, 2**63, 2**63, 0) + _wav()[12:],
    "FLAC with more frames than there are": lambda: _flac(frames=2**36 - 1),
    "FLAC that knows no length": lambda: _flac(frames=0),
    "FLAC at no samples a second": lambda: _flac(rate=0),
    "FLAC at a million samples a second": lambda: _flac(rate=2**20 - 1),
    "FLAC of eight channels and is not": lambda: _flac(channels=8),
    "FLAC with a block of 16 MB that is not there": lambda: _flac_with(b"\x01\xff\xff\xff"),
    "FLAC with ten thousand blocks": lambda: _flac_with(b"\x01\0\0\0" * 10_000),
    "FLAC with comments by the billion": lambda: _flac_with(b"\x04\0\0\x08" + bytes(4) + b"\xff\xff\xff\xff"),
    "FLAC with a picture of 4 GB": lambda: _flac_with(b"\x06\0\0\x20" + b"\xff" * 32),
    "FLAC cut short": lambda: _kept("FLAC")[:900],
    "FLAC damaged": lambda: _kept("FLAC")[:600] + bytes(range(256)) * 20,
    "OGG of 255 channels": lambda: _ogg(_put(39, b"\xff")),
    "OGG at 4 GHz": lambda: _ogg(_put(40, b"\xff\xff\xff\xff")),
    "OGG cut short": lambda: _kept("OGG", "VORBIS")[:3_000],
    "OGG damaged": lambda: _ogg(_put(3_500, bytes(range(256)))),
    "OGG of nothing but pages": lambda: (b"OggS" + bytes(23)) * 20_000,
    "AIFF of nonsense": lambda: b"FORM\x7f\xff\xff\xffAIFFCOMM\0\0\0\x12" + b"\xff" * 18 + b"SSND\x7f\xff\xff\xff",
    "an archive": lambda: b"PK\x03\x04" + bytes(2_000),
    "an archive with a recording in front": lambda: _wav() + b"PK\x03\x04" + bytes(2_000),
    "text": lambda: b"#!/bin/sh\ntouch owned\n",
    "zeros": lambda: bytes(100_000),
    "nothing": lambda: b"",
}  # fmt: skip
"""Name to what makes the file."""
