"""A camera for the tests: pictures drawn by Pillow, with whatever EXIF a test needs."""

from __future__ import annotations

import base64
import io
import zlib
from dataclasses import dataclass
from typing import Any

import pytest
from pi_heif import register_heif_opener
from PIL import Image, ImageDraw

_EXIF, _GPS = 0x8769, 0x8825
PLACE = {1: "N", 2: (51.0, 30.0, 26.0), 3: "W", 4: (0.0, 7.0, 39.0)}

HEIC = zlib.decompress(
    base64.b85decode(
        b"c-muNV30{GsVvAy%}izhg51nBLl8SRGck>UfpKqcYDppk1Sn>t<P<^K3<a6VB@Af5Br_);Y>0~k0}}%yh{gC2LIZ&s"
        b"Pz(r|*x@2;fY>54GcOIy1Ida4IjLY}Ks6a<$%YI_f{Y*~t`(VJ<$ML1CAkbxl?;C}3yKPW^qtIt<a{7q3e@Y&$P5yi"
        b"09GXTf#J{JA3qov_?Z)cIwTwzc^Loy2Pt3%sbB^nxm`>Si9ktBCq_mznFR`stkYhtoAvC0;(`MW3=BLCAmNrIplUW3"
        b"#)HKNJArlxC+FuB<t67-07ZEj*nmnHL^6vDQlY+efMSj0oJ5er1fXsQ)BpefzW@pY7!49H$gIc&X=LW$-~dt*nFYD9"
        b"s9<DZWNl<(W^Dnor80|B)1cyf$tlIj;IIdod@DC45fn*E8jR~%goJ$_{CIgN!~UlE&sAX@{pxR5Yd`j!U%pXd(#rn}"
        b"fU4LaLF?<wpatY{FfcO;fqV}!t38u}1?pa-4plfi2NH7=n87X<0pfrOf?zf~5T}47jSP&;tPG5;3{4aaEUgSot&9yA"
        b"v<(cc3=F{j1V<_ZlOH4nurh!{oS_TqA7iLJa!?xVcK~K9boT"
    )
)
"""16 x 16 pixels of red as a phone writes them, with time and place: made once by an encoder that the
program does not carry, from a picture that Pillow drew."""


@dataclass(frozen=True)
class Camera:
    """Takes pictures of nothing."""

    size: tuple[int, int] = (64, 48)

    def exif(
        self,
        taken: str = "",
        *,
        offset: str = "",
        subsecond: str = "",
        place: bool = False,
        maker: bytes = b"",
        turned: int = 1,
    ) -> Image.Exif:
        """What a camera writes beside a picture."""
        exif = Image.Exif()
        exif[0x0112] = turned
        told = {0x9003: taken, 0x9011: offset, 0x9291: subsecond, 0x927C: maker}
        shot = {tag: value for tag, value in told.items() if value}
        exif.update(({_EXIF: shot} if shot else {}) | ({_GPS: PLACE} if place else {}))
        return exif

    def shoot(self, form: str = "JPEG", *, seed: int = 0, more: Any = None, **told: Any) -> bytes:
        """A picture file; ``seed`` makes another picture, ``more`` goes to Pillow's ``save``."""
        image = Image.new("RGB", self.size, (seed * 37 % 256, 90, 120))
        ImageDraw.Draw(image).line((0, 0, *self.size), fill="white", width=3)
        file = io.BytesIO()
        image.save(file, form, exif=self.exif(**told).tobytes(), **(more or {}))
        return file.getvalue()

    @staticmethod
    def place_in(data: bytes) -> dict[int, Any]:
        """The GPS tags that an outside reader finds."""
        with Image.open(io.BytesIO(data)) as image:
            return dict(image.getexif().get_ifd(_GPS))

    @staticmethod
    def exif_in(data: bytes) -> dict[int, Any]:
        """The EXIF tags of the shot that an outside reader finds."""
        with Image.open(io.BytesIO(data)) as image:
            return dict(image.getexif().get_ifd(_EXIF))


@pytest.fixture(scope="session")
def camera() -> Camera:
    """A camera of 64 by 48 pixels."""
    return Camera()


@pytest.fixture(scope="session")
def heic() -> bytes:
    """A HEIC file, taken 2026-03-14 at 09:05:30+01:00; the outside reader can open it from now on."""
    register_heif_opener()
    return HEIC
