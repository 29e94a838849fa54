"""Lines of a log as patterns, to be written again with other numbers; and the files they tell of."""

from __future__ import annotations

import hashlib
import io
import json
import random
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.photo import PHOTO
from voicelog.journal.naming import CLIPS, PHOTOS

CLIPS_KEPT = 0.01
"""Share of the utterances with sound, a file each: more would only measure how fast a disk makes files."""

_ID = re.compile(r'"([ue])([1-9][0-9]*)(\.[0-9]+)?"')


@dataclass(frozen=True)
class Pattern:
    """A line of the stretch: its JSON between the numbers that change.

    Args:
        kind: the fact's type.
        pieces: one more than there are ids.
        ids: letter, number in the stretch, and what follows it.
    """

    kind: str
    pieces: tuple[str, ...]
    ids: tuple[tuple[str, int, str], ...]

    @classmethod
    def of(cls, fact: Fact, more: dict[str, Any]) -> Pattern:
        """The pattern of a fact, with what is added to its body."""
        text = json.dumps({**fact.body, **more}, separators=(",", ":"))
        found = list(_ID.finditer(text))
        bounds = [0, *(edge for one in found for edge in one.span()), len(text)]
        pieces = tuple(text[bounds[n] : bounds[n + 1]] for n in range(0, len(bounds), 2))
        return cls(fact.type, pieces, tuple((m[1], int(m[2]), m[3] or "") for m in found))

    def at(self, shift: int) -> str:
        """The body, so many lines further on."""
        told = [self.pieces[0]]
        for (letter, number, tail), piece in zip(self.ids, self.pieces[1:], strict=True):
            told.append(f'"{letter}{number + shift}{tail}"{piece}')
        return "".join(told)


def pattern_of(fact: Fact, chance: random.Random) -> Pattern:
    """Numbers that stand in file names and in an undo are filled in as if they were ids."""
    more: dict[str, Any] = {}
    if fact.type == PHOTO:
        more = {"file": "\0photo", "sha256": "\0sha"}
    elif fact.type == "utterance" and chance.random() < CLIPS_KEPT:
        more = {"clip": {"file": "\0clip", "sha256": "\0sha", "start_s": 1.0, "duration_s": 0.1,
                         "samples": 1600}}  # fmt: skip
    return Pattern.of(fact, more)


class Files:
    """Sound and pictures of the long log: small, and no two alike."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        for name in (CLIPS, PHOTOS):
            (folder / name).mkdir(exist_ok=True)

    def filled(self, body: str, seq: int) -> str:
        """The body with the name and the hash of a file that lies there."""
        clip = "\\u0000clip" in body
        file = f"{CLIPS}/u{seq}.flac" if clip else f"{PHOTOS}/p{seq}.jpg"
        data = _sound(seq) if clip else _picture(seq)
        (self._folder / file).write_bytes(data)
        body = body.replace("\\u0000clip", file).replace("\\u0000photo", file)
        return body.replace("\\u0000sha", hashlib.sha256(data).hexdigest())


def _sound(number: int) -> bytes:
    import numpy as np
    import soundfile

    noise = np.random.default_rng(number).integers(-300, 300, 1600).astype(np.int16)
    file = io.BytesIO()
    soundfile.write(file, noise, 16_000, format="FLAC", subtype="PCM_16")
    return file.getvalue()


def _picture(number: int) -> bytes:
    from PIL import Image

    file = io.BytesIO()
    Image.new("RGB", (16, 12), (number % 256, number // 256 % 256, 90)).save(file, "JPEG")
    return file.getvalue()
