"""Picture files made to hurt whoever opens them: bombs, polyglots, EXIF that lies."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable, Mapping

from hostile_strings import STRINGS
from PIL import Image

_PNG = b"\x89PNG\r\n\x1a\n"
_EXIF, _GPS = 0x8769, 0x8825
_NOT_ASCII = "\x1b[31m\u202e"


def plain(form: str = "JPEG", exif: bytes = b"", size: tuple[int, int] = (32, 24)) -> bytes:
    """A picture that means no harm, but for its EXIF."""
    file = io.BytesIO()
    Image.new("RGB", size, (90, 40, 20)).save(file, form, exif=exif)
    return file.getvalue()


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def _png(width: int, height: int, data: bytes, more: bytes = b"", mode: int = 2) -> bytes:
    head = struct.pack(">IIBBBBB", width, height, 8, mode, 0, 0, 0)
    return _PNG + _chunk(b"IHDR", head) + more + _chunk(b"IDAT", data) + _chunk(b"IEND", b"")


def _packed(length: int) -> bytes:
    """So many zeros, deflated: a thousandth of them."""
    pack = zlib.compressobj(9)
    piece = bytes(1_000_000)
    return b"".join(pack.compress(piece) for _ in range(length // len(piece))) + pack.flush()


def _exif(taken: str = "", **shot: object) -> bytes:
    exif = Image.Exif()
    told = {0x9003: taken} | {int(tag[1:], 16): value for tag, value in shot.items()}
    exif.update({_EXIF: {tag: value for tag, value in told.items() if value != ""}})
    return exif.tobytes()


def _gps(**parts: object) -> bytes:
    exif = Image.Exif()
    exif.update({_GPS: {int(tag[1:]): value for tag, value in parts.items()}})
    return exif.tobytes()


def _jpeg_with(segments: bytes) -> bytes:
    raw = plain()
    return raw[:2] + segments + raw[2:]


def _app1(tiff: bytes) -> bytes:
    body = b"Exif\0\0" + tiff
    return b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body


def _directory(entries: list[tuple[int, int, int, int]], following: int = 0) -> bytes:
    """A TIFF directory: tag, kind, count and value of each entry, and where the next one lies."""
    packed = b"".join(struct.pack("<HHII", *entry) for entry in entries)
    return struct.pack("<H", len(entries)) + packed + struct.pack("<I", following)


def _tiff(directory: bytes) -> bytes:
    return b"II*\0" + struct.pack("<I", 8) + directory


_SHAPE = [(256, 4, 1, 8), (257, 4, 1, 8), (258, 3, 1, 8), (259, 3, 1, 1), (262, 3, 1, 1),
          (273, 4, 1, 0), (277, 3, 1, 1), (278, 4, 1, 8), (279, 4, 1, 64)]  # fmt: skip
"""A grey picture of eight by eight, its data the beginning of the file."""


def _tiff_that_claims(times: int, size: int) -> bytes:
    """Directory entries that all point at the same bytes: together they are many times the file."""
    claims = [(40_000 + n, 7, size, 8) for n in range(times)]
    return _tiff(_directory(sorted(_SHAPE + claims))) + bytes(size)


def _tiff_of_pages(count: int) -> bytes:
    """Directories that follow one another, each as short as one can be."""
    size = len(_directory(_SHAPE))
    pages = (_directory(_SHAPE, 8 + (n + 1) * size if n + 1 < count else 0) for n in range(count))
    return _tiff(b"".join(pages)) + bytes(100)


def _small_heic() -> bytes:
    """The beginning of a HEIC file, and nonsense."""
    return struct.pack(">I", 24) + b"ftypheic" + bytes(4) + b"mif1heic" + bytes(range(256)) * 40


DATES = (
    "0000:00:00 00:00:00", "9999:12:31 23:59:59", "10000:01:01 00:00:00", "0001:01:01 00:00:00",
    "2026:02:30 25:61:61", "2026:03:14T09:05:30", ":::::", "-2026:03:14 09:05:30",
    "2026:03:14 09:05:30" + "9" * 5000, "\u0662\u0660\u0662\u0666:03:14 09:05:30", _NOT_ASCII, "\0" * 19,
    "1969:12:31 23:59:59", "2026:03:14 24:00:00",
)  # fmt: skip
"""When a picture may say that it was taken."""

BOMBS: Mapping[str, Callable[[], bytes]] = {
    "PNG of 30,000 by 30,000": lambda: _png(30_000, 30_000, _packed(30_000_000)),
    "PNG of 2 billion by 2 billion": lambda: _png(2**31 - 1, 2**31 - 1, b"x"),
    "PNG of 9,000 by 9,900": lambda: _png(9_000, 9_900, _packed(267_000_000)),
    "PNG with a text that unpacks to 100 MB": lambda: _png(
        8, 8, zlib.compress(bytes(200)), _chunk(b"zTXt", b"a\0\0" + _packed(100_000_000))
    ),
    "PNG with a profile that unpacks to 100 MB": lambda: _png(
        8, 8, zlib.compress(bytes(200)), _chunk(b"iCCP", b"a\0\0" + _packed(100_000_000))
    ),
    "PNG of half a million parts": lambda: _png(
        8, 8, zlib.compress(bytes(200)), _chunk(b"teSt", b"") * 500_000
    ),
    "PNG with EXIF that claims gigabytes": lambda: _png(
        8, 8, zlib.compress(bytes(200)), _chunk(b"eXIf", _tiff_that_claims(2_000, 2_000_000))
    ),
    "PNG animated, of a million frames": lambda: _png(
        8, 8, zlib.compress(bytes(200)), _chunk(b"acTL", struct.pack(">II", 1_000_000, 0))
    ),
    "JPEG of 65,535 by 65,535": lambda: _sized(plain(), 65_535, 65_535),
    "JPEG of a million segments": lambda: _jpeg_with(b"\xff\xe4\0\x02" * 1_000_000),
    "JPEG of a million comments": lambda: _jpeg_with(b"\xff\xfe\0\x03x" * 1_000_000),
    "JPEG with ten million filling bytes": lambda: _jpeg_with(b"\xff" * 10_000_000),
    "JPEG with a segment of no length": lambda: _jpeg_with(b"\xff\xe4\0\0"),
    "JPEG with EXIF that claims gigabytes": lambda: _jpeg_with(_app1(_tiff_that_claims(3_000, 20_000)) * 20),
    "JPEG whose EXIF goes in circles": lambda: _jpeg_with(_app1(_tiff(_directory([(_EXIF, 4, 1, 8), (0x014A, 4, 1, 8)], 8)))),
    "TIFF that claims gigabytes": lambda: _tiff_that_claims(2_000, 2_000_000),
    "TIFF that goes in circles": lambda: _tiff(_directory(_SHAPE, 8)),
    "TIFF whose parts go in circles": lambda: _tiff(_directory(sorted([*_SHAPE, (330, 4, 1, 8), (_EXIF, 4, 1, 8)]), 8)),
    "TIFF of a hundred thousand pages": lambda: _tiff_of_pages(100_000),
    "TIFF of a billion pixels": lambda: _tiff(_directory([(256, 4, 1, 2**16), (257, 4, 1, 2**16), *_SHAPE[2:]])),
    "TIFF with offsets beyond its end": lambda: _tiff(_directory([*_SHAPE, (700, 1, 2**31, 2**31)])),
    "WebP of 16,383 by 16,383": lambda: b"RIFF" + struct.pack("<I", 30) + b"WEBPVP8L" + struct.pack("<I", 18) + b"\x2f" + struct.pack("<I", 16_382 | 16_382 << 14) + bytes(13),
    "HEIC and nonsense": _small_heic,
    "an archive with a picture in front": lambda: plain() + b"PK\x03\x04" + bytes(2_000) + b"PK\x05\x06" + bytes(18),
    "an archive": lambda: b"PK\x03\x04" + bytes(2_000),
    "a web page that is a picture": lambda: _jpeg_with(b"\xff\xfe\x00\x22<script>alert(document)</script>"),
    "a program": lambda: b"\x7fELF" + bytes(2_000),
    "a drawing that loads another": lambda: b'<svg xmlns="http://www.w3.org/2000/svg"><image href="file:///etc/passwd"/></svg>',
    "PostScript": lambda: b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n(/etc/passwd) (r) file\n",
    "half a JPEG": lambda: plain(size=(400, 400))[:600],
    "nothing": lambda: b"",
    "a place of nonsense": lambda: plain(exif=_gps(_1="X", _2=(4e9, 0.0, 9e9), _3="\x1b", _4=(999.0, 999.0, 999.0))),
    **{f"taken {date[:24]!r}": (lambda date=date: plain(exif=_exif(date, x9011="+99:99", x9291="x" * 50))) for date in DATES},
    **{f"a maker called {name}": (lambda text=text: plain(exif=_made_by(text))) for name, text in STRINGS.items()},
}  # fmt: skip
"""Name to what makes the file; the ending says JPEG whatever is in it."""


def _sized(jpeg: bytes, width: int, height: int) -> bytes:
    """The JPEG with another size in its header."""
    at = jpeg.index(b"\xff\xc0")
    return jpeg[: at + 5] + struct.pack(">HH", height, width) + jpeg[at + 9 :]


def _made_by(text: str) -> bytes:
    exif = Image.Exif()
    exif.update({0x010F: text.encode("utf-8", "ignore"), 0x010E: text.encode("utf-8", "ignore")})
    return exif.tobytes()
