"""The ear of a warm-up: as the settings have it, and leaning more or less to the vocabulary."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Protocol

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.recognise.moonshine_engine import MoonshineEar
from voicelog.recognise.port import hear_clip
from voicelog.runtime.opening import open_the_ear

if TYPE_CHECKING:
    from voicelog.recognise.moonshine_model import MoonshineModel

Hear = Callable[[Clip], Heard]


class Ears(Protocol):
    """What hears in a warm-up."""

    @property
    def engine(self) -> str:
        """Which kind of ear it is."""

    @property
    def model(self) -> str:
        """The model in use, with its version."""

    @property
    def leans(self) -> bool:
        """It has a bias that can be tuned."""

    def hear(self, clip: Clip) -> Heard:
        """What it makes of an utterance as it is set now."""

    def at(self, bias: float) -> Hear:
        """The same ear with another bias, in nats a character.

        Raises:
            EarFault: its model cannot be loaded.
        """

    def close(self) -> None:
        """Let go of every model."""


class InstalledEars:
    """The ear that the settings ask for.

    Args:
        settings: in force.
        grammar: whose vocabulary it leans towards.

    Raises:
        EarFault: the ear cannot be used here.
    """

    def __init__(self, settings: Settings, grammar: Grammar) -> None:
        self._settings, self._words = settings, grammar.vocabulary
        self._ear = open_the_ear(settings, grammar)
        self._model: MoonshineModel | None = None

    @property
    def engine(self) -> str:
        """Which kind of ear it is."""
        return self._ear.engine

    @property
    def model(self) -> str:
        """The model in use, with its version."""
        return self._ear.model

    @property
    def leans(self) -> bool:
        """Only the built-in ear does: Vosk is given the words and has no such strength."""
        return self._ear.engine == MoonshineEar.engine

    def hear(self, clip: Clip) -> Heard:
        """What it makes of an utterance as it is set now."""
        return hear_clip(self._ear, clip)

    def at(self, bias: float) -> Hear:
        """The built-in ear with another bias; all of them share one model."""
        if self._model is None:
            from voicelog.recognise.moonshine_model import MoonshineModel

            self._ear.close()  # one model at a time: it takes as much memory as all the rest
            self._model = MoonshineModel(adapted=self._settings.adapted)
        ear = MoonshineEar(
            self._words.telling(), bias=bias, beam=self._settings.beam, model=self._model,
            classes=self._words.classes(),
        )  # fmt: skip
        return partial(hear_clip, ear)

    def close(self) -> None:
        """Let go of every model."""
        self._ear.close()
        if self._model is not None:
            self._model.close()
