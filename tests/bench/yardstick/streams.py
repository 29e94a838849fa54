"""Long sound: half an hour of chatter and an hour of noise, cut into clips as ``voicelog hear`` does.

It is made minute by minute (a *scene*: one noise at one level) and goes block by block through the
end-pointer, so that never more than a minute is held. What the end-pointer takes for utterances is
kept as clips.
"""

from __future__ import annotations

import hashlib
import inspect
import json
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from itertools import cycle
from pathlib import Path
from types import ModuleType

import numpy as np
import soundfile
from corpus import FOLDER, load

import voicelog
from voicelog.capture.endpoint import Endpointer
from voicelog.domain.sound import SAMPLE_RATE, Clip
from yardstick import noises, talkers
from yardstick.speech_set import SEED
from yardstick.talkers import Talker, radio_scene, talk_scene
from yardstick.voices import VOICES, Sound, studio

SCENE_S = 60
CHATTER_MINUTES, NOISE_MINUTES = 30, 60
QUIETEST_DBFS, LOUDEST_DBFS = -45.0, -18.0
"""Level of the noise alone. Under chatter it stays 8 dB below the loudest, or nobody would talk."""
RADIO_EVERY = 3
"""One scene of so many is the radio's."""
BLOCK_S = 0.1


@dataclass(frozen=True, slots=True)
class Caught:
    """A clip that the end-pointer took out of long sound.

    Args:
        key: of its sound.
        file: where it is.
        start_s: when it began.
        kind: of noise in its scene.
        source: ``talk``, ``radio`` or ``noise``.
    """

    key: str
    file: Path
    start_s: float
    kind: str
    source: str


@dataclass(frozen=True, slots=True)
class Scene:
    """A minute of sound.

    Args:
        kind: of noise.
        level_dbfs: of the noise.
        source: what is to be heard in it.
        number: which one it is.
    """

    kind: str
    level_dbfs: float
    source: str
    number: int


def chatter(part: str, minutes: int, folder: Path) -> list[Caught]:
    """What is caught of shop talk and of a radio, none of it about the vehicle at hand.

    Args:
        part: ``tuning`` or ``kept out``: whose lines, noises and voices.
        minutes: how long.
        folder: of the clips.
    """
    scenes = _scenes(part, minutes, LOUDEST_DBFS - 8, ("talk",) * (RADIO_EVERY - 1) + ("radio",))
    lines = [case.say[0] for case in load(f"{_source(part)}/chatter")]
    radio = (FOLDER / "radio.txt").read_text("utf-8").splitlines()
    radio = [line for line in radio if line][0 if part == "tuning" else 1 :: 2]
    talkers = {
        "talk": Talker(lines, _voices(part), SEED),
        "radio": Talker(radio, _voices(part), SEED + 1),
    }
    make = {"talk": talk_scene, "radio": radio_scene}

    def sound(scene: Scene, rng: np.random.Generator) -> Sound:
        said = make[scene.source](talkers[scene.source], SCENE_S, rng)
        return noise_of(scene, rng) + said

    what = repr((lines, radio, _voices(part)))
    return _caught(f"chatter {part}", scenes, sound, folder, what)


def noise_alone(part: str, minutes: int, folder: Path) -> list[Caught]:
    """What is caught of noise in which nobody speaks."""
    return _caught(
        f"noise {part}", _scenes(part, minutes, LOUDEST_DBFS, ("noise",)), noise_of, folder, ""
    )


def noise_of(scene: Scene, rng: np.random.Generator) -> Sound:
    """A scene's noise at its level."""
    sound = noises.make_noise(scene.kind, SCENE_S * SAMPLE_RATE, rng)
    return np.asarray(sound * studio().amplitude(scene.level_dbfs))


def _scenes(part: str, minutes: int, loudest: float, sources: Sequence[str]) -> list[Scene]:
    rng = np.random.default_rng([SEED, len(part), len(sources)])
    kinds = sorted({"pink", *noises.TUNING} | (set(noises.KEPT_OUT) if part != "tuning" else set()))
    turns = zip(range(minutes * 60 // SCENE_S), cycle(kinds), strict=False)
    return [
        Scene(kind, float(rng.uniform(QUIETEST_DBFS, loudest)), sources[n % len(sources)], n)
        for n, kind in turns
    ]


def _caught(
    name: str,
    scenes: Sequence[Scene],
    sound: Callable[[Scene, np.random.Generator], Sound],
    folder: Path,
    what: str,
) -> list[Caught]:
    """The clips of it, as they were caught before or anew."""
    index = folder / f"{name.replace(' ', '-')}-{_digest(scenes, what)}.json"
    if not index.exists():
        folder.mkdir(parents=True, exist_ok=True)
        found = [_kept(clip, scenes, folder) for clip in _clips(scenes, sound)]
        rows = [{**asdict(c), "file": c.file.name} for c in found]
        index.write_text(json.dumps(rows), encoding="utf-8")
    rows = json.loads(index.read_text("utf-8"))
    return [Caught(**{**row, "file": folder / row["file"]}) for row in rows]


def _clips(
    scenes: Sequence[Scene], sound: Callable[[Scene, np.random.Generator], Sound]
) -> Iterator[Clip]:
    """One scene at a time through the end-pointer, as recordings go through it."""
    endpointer = Endpointer()
    for scene in scenes:
        made = sound(scene, np.random.default_rng([SEED, scene.number, len(scene.source)]))
        pcm = np.round(np.clip(made, -1, 1) * 32767).astype("<i2")
        for block in np.array_split(pcm, int(SCENE_S / BLOCK_S)):
            yield from endpointer.feed(block.tobytes())
    yield from endpointer.finish()


def _kept(clip: Clip, scenes: Sequence[Scene], folder: Path) -> Caught:
    key = hashlib.sha256(clip.pcm).hexdigest()[:24]
    scene = scenes[min(int(clip.start_s / SCENE_S), len(scenes) - 1)]
    file = folder / f"{key}.flac"
    soundfile.write(file, np.frombuffer(clip.pcm, "<i2"), SAMPLE_RATE, format="FLAC")
    return Caught(key, file, round(clip.start_s, 3), scene.kind, scene.source)


def _digest(scenes: Sequence[Scene], what: str) -> str:
    """Changes with whatever changes the sound or how it is cut."""
    capture = Path(voicelog.__file__).parent / "capture"
    names = ("endpoint", "keeping", "level", "noise", "stretch", "voice")
    texts = [(capture / f"{name}.py").read_text("utf-8") for name in names]
    own: list[ModuleType] = [noises, talkers, sys.modules[__name__]]
    made = [inspect.getsource(module) for module in own]
    return hashlib.sha256(repr((scenes, what, texts, made)).encode()).hexdigest()[:12]


def _source(part: str) -> str:
    return "tuning" if part == "tuning" else "untouched"


def _voices(part: str) -> list[str]:
    """The tuning part never uses a voice that is kept out; the other part uses all."""
    return [voice.name for voice in VOICES if part != "tuning" or not voice.kept_out]
