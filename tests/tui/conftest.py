"""A stage for the screen: an engine that only records, and real utterances read from text."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.catalogue.extract import extracted
from tests.catalogue.pseudo import install, spoken
from voicelog.config.cache import checked_grammar
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Inspection
from voicelog.domain.signal import Signal
from voicelog.runtime.messages import (
    Action,
    Closed,
    Level,
    Message,
    Opened,
    State,
    StateChanged,
    Told,
    Took,
)
from voicelog.runtime.session import Session
from voicelog.tui.app import LiveApp

SAID = (
    "left front rail",
    "surface rust on the left front rail",
    "scraper went through it, about 25 millimetres",
    "right front rail clean, scraped it, firm",
    "gearbox cross member, scale",
    "can't see inside the left kick up, spare wheel in the way",
    "right rear spring hanger, probed, firm, no rust",
    "rear cross member might be a crack",
    "fuel line surface rust",
    "left control arm mount, hole, about an inch, no solid metal around it",
)


@dataclass
class FakeEngine:
    """Records what it is asked for; a test publishes what an engine would.

    Args:
        answers_stop: it says its last word as soon as it is asked to stop.
    """

    answers_stop: bool = True
    started: int = 0
    actions: list[Action] = field(default_factory=list)
    typed: list[str] = field(default_factory=list)
    stops: int = 0
    publish: Callable[[Message], None] | None = None

    def start(self, publish: Callable[[Message], None]) -> None:
        """Keep where to publish."""
        self.started += 1
        self.publish = publish

    def act(self, action: Action) -> None:
        """Record it."""
        self.actions.append(action)

    def type(self, text: str) -> None:
        """Record it."""
        self.typed.append(text)

    def stop(self) -> None:
        """Record it, and stop unless told otherwise."""
        self.stops += 1
        if self.answers_stop and self.publish is not None:
            self.publish(Closed(None, finished=False))


@dataclass
class Clock:
    """A clock that stands still until a test moves it."""

    now_s: float = 0.0

    def __call__(self) -> float:
        """What it shows."""
        return self.now_s


class Stage:
    """An app with its engine and clock, and the story it can be told.

    Args:
        grammar: words, map and rules.
    """

    def __init__(self, grammar: Grammar) -> None:
        self.grammar, self.engine, self.clock = grammar, FakeEngine(), Clock()

    def app(self, *, linger_s: float = 0.0, **settings: Any) -> LiveApp:
        """A new app with its own engine; ``settings`` change the shipped ones."""
        self.engine = FakeEngine()
        given = replace(Settings(), **settings)
        return LiveApp(self.engine, given, clock=self.clock, linger_s=linger_s)

    def say(self, *messages: Message) -> None:
        """Publish, as the engine would."""
        publish = self.engine.publish
        assert publish is not None, "the screen is not up yet"
        for message in messages:
            publish(message)

    @staticmethod
    def shown(app: LiveApp, widget: type) -> str:
        """What the first widget of that kind reads as."""
        return str(app.screen.query(widget).first().render())

    def opened(self, cautions: tuple[str, ...] | None = None) -> Opened:
        """The first message of a new inspection."""
        told = self.grammar.rules.cautions if cautions is None else cautions
        return Opened(
            log=Path("20260314T090000Z-pickup-12"), subject="pickup 12", ear="built-in, tiny",
            device="headset", cautions=told, inspection=self._session().inspection(),
            zone_map=self.grammar.zone_map, rails=Settings().rails, resume="logbook, go ahead",
            rules={rule.id: rule.text for rule in self.grammar.rules.rules},
        )  # fmt: skip

    def took(self, *lines: str) -> list[Took]:
        """What an engine publishes when these sentences are said, five seconds apart."""
        session = self._session()
        return [_took(session, line, 5.0 * n) for n, line in enumerate(lines)]

    def story(self, *lines: str) -> Iterator[Message]:
        """An inspection under way."""
        yield self.opened()
        yield StateChanged(State.LISTENING)
        yield Level(-23.0, -52.0)
        for took in self.took(*(lines or SAID)):
            yield Told(Signal.FINDING, "taken")
            yield took

    def inspection(self, *lines: str) -> Inspection:
        """What stands after these sentences."""
        session = self._session()
        for n, line in enumerate(lines):
            session.read(line, at_s=5.0 * n)
        return session.inspection()

    def _session(self) -> Session:
        begun = datetime(2026, 3, 14, 9, tzinfo=UTC)
        return Session(Settings(), self.grammar, now=lambda at_s: begun + timedelta(seconds=at_s))


def _took(session: Session, line: str, at_s: float) -> Took:
    event = session.read(line, at_s=at_s)
    return Took(event, session.inspection(), event.turn.place)


@pytest.fixture(autouse=True)
def _colours(monkeypatch: pytest.MonkeyPatch) -> None:
    """Colours are tested, whatever the tester's own terminal wants."""
    monkeypatch.delenv("NO_COLOR", raising=False)


@pytest.fixture(scope="session")
def grammar() -> Grammar:
    """The shipped words, map and rules."""
    return checked_grammar(Settings())


@pytest.fixture
def stage(grammar: Grammar) -> Stage:
    """Everything a test of the screen needs."""
    return Stage(grammar)


@pytest.fixture(scope="session")
def locale(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A language that nobody speaks, installed."""
    folder = tmp_path_factory.mktemp("locale")
    install(extracted(), folder)
    return folder


@pytest.fixture
def _pseudo(locale: Path) -> Iterator[None]:
    """It is spoken."""
    with spoken(locale):
        yield
