"""The speech set: who says what, under which conditions, and the clips of it.

Two parts that share nothing: *tuning* (texts of the corpus's tuning part, tuning voices, tuning
noises) for trying things out, and *kept out* (texts of its untouched part, kept-out voices, kept-out
noises) for what is reported. Sound is made from the text, the voice and a seed, and is kept in a
folder under a name that says what went into it, so that a second run need not speak again.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
import soundfile
from corpus import Case, load

from voicelog.domain.sound import SAMPLE_RATE, Clip
from yardstick.noises import CONDITIONS, KEPT_OUT, TUNING, Condition, mixed
from yardstick.voices import VOICES, Sound, Voice, speak

SEED = 20261126
PARTS = ("tuning", "kept out")
EACH = {"tuning": 28, "kept out": 56}
"""Utterances a voice of a part says: 168 in six voices and 168 in three."""
GENERATED = 0.3
"""Share of them that the corpus's generator made; people wrote the others."""


@dataclass(frozen=True, slots=True)
class Spoken:
    """One utterance as somebody says it somewhere.

    Args:
        part: ``tuning`` or ``kept out``.
        case: of the corpus; a single utterance without settings.
        voice: who says it.
        condition: where.
        kind: of noise.
    """

    part: str
    case: Case
    voice: Voice
    condition: Condition
    kind: str

    @property
    def text(self) -> str:
        """What is said."""
        return self.case.say[0]

    @property
    def key(self) -> str:
        """A name that no other sound has."""
        voice = self.voice
        what = (self.text, voice.engine, voice.model, voice.pitch, voice.speed, SEED)
        where = (self.condition.snr_db, self.condition.room_s, self.kind)
        return hashlib.sha256(repr((what, where)).encode()).hexdigest()[:24]


def speech_set(
    part: str, *, conditions: Sequence[Condition] = CONDITIONS, each: int | None = None
) -> list[Spoken]:
    """The utterances of a part under every condition, the same at every call.

    Args:
        part: one of :data:`PARTS`.
        conditions: where they are said.
        each: utterances a voice, :data:`EACH` when left out; fewer are the first of them.
    """
    voices = [voice for voice in VOICES if voice.kept_out == (part == "kept out")]
    kinds = KEPT_OUT if part == "kept out" else TUNING
    cases = _cases(part, EACH[part] * len(voices))
    spoken = []
    for number, case in enumerate(cases[: (each or EACH[part]) * len(voices)]):
        voice, kind = voices[number % len(voices)], kinds[number // len(voices) % len(kinds)]
        spoken += [Spoken(part, case, voice, condition, kind) for condition in conditions]
    return spoken


def _cases(part: str, count: int) -> list[Case]:
    """So many single utterances that make an entry, drawn by the seed, hand-written and generated mixed."""
    source = "untouched" if part == "kept out" else "tuning"
    rng = np.random.default_rng(SEED)
    of_generator = round(GENERATED * count)
    drawn: list[Case] = []
    for origin, wanted in (("hand", count - of_generator), ("generated", of_generator)):
        fit = [c for c in load(f"{source}/{origin}") if _is_single(c)]
        drawn += [fit[i] for i in rng.permutation(len(fit))[:wanted]]
    return [drawn[i] for i in rng.permutation(len(drawn))]


def _is_single(case: Case) -> bool:
    return len(case.say) == 1 and not case.settings and bool(case.want)


def clip_of(spoken: Spoken, folder: Path) -> Clip:
    """Its sound as one clip, made now or read from the folder."""
    return read_clip(clip_file(spoken, folder))


def clip_file(spoken: Spoken, folder: Path) -> Path:
    """The file of its sound, made now unless the folder has it."""
    file = folder / f"{spoken.key}.flac"
    if not file.exists():
        folder.mkdir(parents=True, exist_ok=True)
        rng = np.random.default_rng(list(bytes.fromhex(spoken.key)))
        speech = _spoken(spoken.text, spoken.voice)
        sound = mixed(speech, spoken.condition, spoken.kind, rng)
        half = file.with_suffix(f".{os.getpid()}")
        soundfile.write(half, np.round(sound * 32767).astype(np.int16), SAMPLE_RATE, format="FLAC")
        half.rename(file)
    return file


@lru_cache(maxsize=1)
def _spoken(text: str, voice: Voice) -> Sound:
    """Spoken once for all conditions."""
    return speak(text, voice)


def read_clip(file: Path) -> Clip:
    """A file of 16 kHz mono as one clip."""
    samples, _ = soundfile.read(file, dtype="int16")
    return Clip(samples.astype("<i2").tobytes(), 0.0, len(samples) / SAMPLE_RATE)


def clips(spoken: Sequence[Spoken], folder: Path) -> Iterator[tuple[Spoken, Clip]]:
    """Every utterance with its sound."""
    for each in spoken:
        yield each, clip_of(each, folder)
