"""Logs for the bench, made by a session: spoken, with sound, doubts and other readings."""

from __future__ import annotations

import asyncio
import importlib.util
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from shutil import copytree
from typing import Any
from unittest.mock import patch

import numpy as np
import pytest

from voicelog.config.cache import checked_grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.journal.journal import Journal
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.bench_sound import BenchSound
from voicelog.runtime.review import Review
from voicelog.runtime.session import Session
from voicelog.tui.review.app import ReviewApp

WORD_S = 0.4
BEGUN = datetime(2026, 3, 14, 9, tzinfo=UTC)

SPOKEN = (
    "left front rail, surface rust, metal is firm",
    "right seal, hole twenty mil",
    "left front rail, hole ten mil | left rear rail, hole ten mil | left front rail, scale",
    "hole on the left sill, crack on the right",
    "gearbox cross member, scale",
    "can't see inside the left kick up, spare wheel in the way",
    "left cab mount, hole, about an inch",
    "right front rail clean, scraped it, firm",
    "photo of the left cab mount",
)
"""One utterance each; behind the bar, what the ear holds for possible as well."""


def heard_as(text: str, *, faint: str = "seal") -> Heard:
    """What an ear makes of words spoken at an even pace.

    Args:
        text: hypotheses, the best first, with a bar between them.
        faint: a word that it is not sure of.
    """
    hypotheses = []
    for number, one in enumerate(part.strip() for part in text.split("|")):
        words = tuple(
            Word(word, 0.3 if faint in word else 0.95, n * WORD_S, (n + 1) * WORD_S)
            for n, word in enumerate(one.split())
        )
        hypotheses.append(Hypothesis(one, -float(number), words))
    return Heard(tuple(hypotheses), "built-in", "tiny")


def tone(words: int) -> Clip:
    """So many beeps, as long as words spoken at an even pace."""
    at = np.arange(round(words * WORD_S * SAMPLE_RATE))
    beep = np.sin(at * 0.2) * (at % round(WORD_S * SAMPLE_RATE) < 4800) * 9000
    return Clip(beep.astype("<i2").tobytes(), 0.0, words * WORD_S)


def write_log(parent: Path, lines: Sequence[str] = SPOKEN, *, spoken: bool = True) -> Path:
    """A log of these utterances, five seconds apart, as the live engine would write it.

    It is made once for many tests, and no test's clock may decide when it was begun.
    """
    with patch("voicelog.journal.clock.utc_now", lambda: BEGUN):
        return _written(parent, lines, spoken=spoken)


def _written(parent: Path, lines: Sequence[str], *, spoken: bool) -> Path:
    settings = Settings()
    grammar = checked_grammar(settings)
    opened = {"map": grammar.zone_map.id, "rails": str(settings.rails), "ear": "built-in"}
    journal = Journal.create(parent, subject="pickup 12", opened=opened, grammar=grammar.files)
    session = Session(
        settings, grammar, journal=journal, ear=TypedEar(),
        now=lambda at_s: BEGUN + timedelta(seconds=at_s),
    )  # fmt: skip
    with session:
        for number, line in enumerate(lines):
            if spoken:
                heard = heard_as(line)
                session.hear(tone(len(heard.text.split())), offset_s=5.0 * number, heard=heard)
            else:
                session.read(line, at_s=5.0 * number)
    return journal.folder


@dataclass
class FakeDeck:
    """Plays to nobody; a test moves the time."""

    why: str = ""
    why_full_speed: str = ""
    position_s: float | None = None
    finished_whole: bool = False
    played: list[dict[str, Any]] = field(default_factory=list)
    loaded: list[int] = field(default_factory=list)

    def load(self, samples: Any, rate_hz: int) -> None:
        """Keep how many samples there were."""
        assert rate_hz == SAMPLE_RATE
        self.loaded.append(len(samples))
        self.finished_whole = False

    def play(
        self,
        from_s: float = 0.0,
        to_s: float | None = None,
        *,
        speed: float = 1.0,
        loop: bool = False,
    ) -> None:
        """Begin."""
        self.played.append({"from_s": from_s, "speed": speed, "loop": loop})
        self.position_s = from_s

    def stop(self) -> None:
        """End."""
        self.position_s = None

    def look_again(self) -> bool:
        """There is no other speaker."""
        return False

    def close(self) -> None:
        """Nothing to let go."""


@dataclass
class Table:
    """A log, and the app that shows it.

    Args:
        folder: the log's.
    """

    folder: Path
    deck: FakeDeck = field(default_factory=FakeDeck)
    review: Review | None = None

    def app(self, **changed: Any) -> ReviewApp:
        """A new app on the log, opened anew."""
        self.close()
        told = {name: changed.pop(name) for name in ("dictate",) if name in changed}
        settings = replace(Settings(), inspector="Sam", **changed)
        self.review = Review.open(self.folder, settings)
        sound = BenchSound(self.folder, lambda: None)
        return ReviewApp(self.review, settings, self.deck, clock=lambda: 0.0, sound=sound, **told)

    @property
    def log(self) -> Review:
        """The log as the app has it open."""
        assert self.review is not None
        return self.review

    def close(self) -> None:
        """Let the log go."""
        if self.review is not None:
            self.review.close()
            self.review = None


async def settled(pilot: Any, seconds: float = 0.15) -> None:
    """Wait until the cursor has rested and nothing is under way."""
    await pilot.pause(seconds)
    await pilot.pause()


async def until(pilot: Any, true: Callable[[], bool], most_s: float = 5.0) -> None:
    """Wait for something that a thread has to do first."""
    for _ in range(round(most_s / 0.02)):
        if true():
            return
        await asyncio.sleep(0.02)
    raise AssertionError("it did not happen")


@pytest.fixture(scope="session")
def logs_made(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Path]:
    """Makes each log once; reading takes longer than copying."""
    made: dict[tuple[Any, ...], Path] = {}

    def make(lines: Sequence[str], *, spoken: bool) -> Path:
        key = (*lines, spoken)
        if key not in made:
            made[key] = write_log(tmp_path_factory.mktemp("log"), lines, spoken=spoken)
        return made[key]

    return make


@pytest.fixture
def tablefor(tmp_path: Path, logs_made: Callable[..., Path]) -> Iterator[Callable[..., Table]]:
    """A log of its own with these utterances, and a stand for it."""
    made: list[Table] = []

    def make(*lines: str, spoken: bool = True) -> Table:
        log = logs_made(lines or SPOKEN, spoken=spoken)
        here = tmp_path / str(len(made)) if made else tmp_path  # all were begun at the same time
        made.append(Table(Path(copytree(log, here / log.name))))
        return made[-1]

    yield make
    for table in made:
        table.close()


@pytest.fixture
def settle() -> Callable[..., Any]:
    """Waits until the cursor has rested and nothing is under way."""
    return settled


@pytest.fixture
def wait_until() -> Callable[..., Any]:
    """Waits for something that a thread has to do first."""
    return until


@pytest.fixture
def heard() -> Callable[..., Heard]:
    """Makes what an ear hears."""
    return heard_as


@pytest.fixture(scope="session")
def weak() -> Callable[[Any], dict[Any, float]]:
    """What is drawn with too little contrast, measured as on the live screen."""
    path = Path(__file__).parents[1] / "test_contrast.py"
    spec = importlib.util.spec_from_file_location("measure_of_contrast", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    found: Callable[[Any], dict[Any, float]] = module._weak
    return found


@pytest.fixture(autouse=True)
def _colours(monkeypatch: pytest.MonkeyPatch) -> None:
    """Colours are tested, whatever the tester's own terminal wants."""
    monkeypatch.delenv("NO_COLOR", raising=False)
