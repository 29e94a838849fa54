"""What stands in for a person and a machine: an ear that is told what it hears, a clock that is held,
sound and a picture of nothing in particular.
"""

from __future__ import annotations

import os
import time
import uuid
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from unittest import mock

from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.sound import Clip
from voicelog.journal import clock
from voicelog.recognise.port import Expected

ZONE = "UTC-1"
"""An hour ahead of UTC, as POSIX writes it."""
SETTINGS = ("XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA")
"""Variables of the folder in which settings are looked for."""
APART_S, LONG_S = 15.0, 4.5
"""From one utterance to the next, and how long each is."""


class Told:
    """An ear that hears one sentence after another (an ``Ear`` of ``voicelog.recognise.port``)."""

    engine, model = "built-in", "told"

    def __init__(self, *texts: str) -> None:
        self._texts = list(texts)

    def expect(self, expected: Expected) -> None:
        """Whatever it is."""

    def feed(self, pcm: bytes) -> None:
        """Whatever it is."""

    def partial(self) -> str:
        """Nothing yet."""
        return ""

    def finish(self) -> Heard:
        """The next sentence."""
        return heard(self._texts.pop(0))

    def forget(self) -> None:
        """Nothing was begun."""

    def close(self) -> None:
        """Nothing to let go of."""


def heard(text: str, engine: str = Told.engine) -> Heard:
    """A sentence as an ear hands it over, each word as likely as the next."""
    words = tuple(Word(word, 0.95) for word in text.split())
    return Heard((Hypothesis(text, -0.5, words),), engine, Told.model)


class Held:
    """A clock that goes on only when it is told to."""

    def __init__(self) -> None:
        self.at = datetime(2025, 1, 1, tzinfo=UTC)

    def now(self) -> datetime:
        """The moment."""
        return self.at

    def monotonic(self) -> float:
        """The same in seconds."""
        return self.at.timestamp()

    def wait(self, seconds: float = APART_S) -> None:
        """Lets time go by."""
        self.at += timedelta(seconds=seconds)


@contextmanager
def held_still(ids: Iterator[uuid.UUID], home: Path) -> Iterator[Held]:
    """The clock of the journal held, its ids given, the zone set, nobody's own settings read."""
    held = Held()
    os.environ |= {"TZ": ZONE, **dict.fromkeys(SETTINGS, str(home))}
    time.tzset()
    with ExitStack() as held_so:
        patch = mock.patch.object
        held_so.enter_context(patch(clock, "utc_now", held.now))
        held_so.enter_context(patch(clock, "time", SimpleNamespace(monotonic=held.monotonic)))
        held_so.enter_context(patch(uuid, "uuid4", lambda: next(ids)))
        yield held


def sound(at_s: float) -> Clip:
    """Sound that lasts as long as a sentence."""
    return Clip(bytes(range(250)) * int(LONG_S * 128), at_s - LONG_S, at_s)


def camera(folder: Path, at: str) -> None:
    """A picture taken five seconds after a moment, with the place of taking in it."""
    from PIL import Image

    folder.mkdir()
    picture, taken = Image.new("RGB", (64, 48), "brown"), datetime.fromisoformat(at)
    notes = Image.Exif()
    local = taken + timedelta(hours=1, seconds=5)
    notes.get_ifd(0x8769).update({0x9003: f"{local:%Y:%m:%d %H:%M:%S}", 0x9011: "+01:00"})
    notes.get_ifd(0x8825).update({1: "N", 2: (51.0, 0.0, 0.0)})
    picture.save(folder / "right front 0042.jpg", exif=notes)
