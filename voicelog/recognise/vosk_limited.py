"""The limited one of the two Vosk recognisers: it knows the vocabulary's phrases and no others.

It hears an utterance when that has ended: it takes a tenth of the time that the free one takes, and
what is dropped in the middle costs it nothing. It must never be given a grammar while it hears, nor
one without a word that the model knows: the library ends the process then.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from voicelog.domain.heard import Word
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.recognise.vosk_joint import UNKNOWN_WORDS
from voicelog.recognise.vosk_recogniser import Recogniser

LIKELIER = 5
"""How many times a likely phrase is given: the library counts how often words follow each other."""


class Limited:
    """Hears nothing but some phrases.

    Args:
        library: what offers Vosk's Python interface.
        model: a loaded model.
        phrases: in words that the model knows; with none, it hears nothing.
    """

    def __init__(self, library: Any, model: Any, phrases: Sequence[str]) -> None:
        self._library, self._model = library, model
        self._unknown = _word_for_unknown(model) if phrases else ()
        self._recogniser: Recogniser | None = None
        self.expect(phrases)

    def expect(self, phrases: Sequence[str], likely: Sequence[str] = ()) -> None:
        """Know these phrases from the next utterance on.

        Args:
            phrases: in words that the model knows; with none, it hears nothing.
            likely: phrases likelier than the others.
        """
        self._grammar = ""
        if phrases:
            known = [*phrases, *(tuple(likely) * LIKELIER), *self._unknown]
            self._grammar = json.dumps(known, ensure_ascii=False)
            self._give()

    def hear(self, pcm: bytes) -> tuple[Word, ...]:
        """The words of a whole utterance, with times and confidences."""
        if self._recogniser is None or not self._grammar or not pcm:
            return ()
        segments = (self._recogniser.take(pcm), self._recogniser.end())
        return tuple(word for found in segments if found for word in found[0].words)

    def close(self) -> None:
        """Let go of the model."""
        self._recogniser = self._model = None
        self._grammar = ""

    def _give(self) -> None:
        if self._recogniser is not None:
            self._recogniser.limit(self._grammar)
            return
        made = self._library.KaldiRecognizer(self._model, SAMPLE_RATE, self._grammar)
        self._recogniser = Recogniser(made)


def _word_for_unknown(model: Any) -> tuple[str, ...]:
    """What the model calls a word it does not know; nothing where it has no name for it."""
    return tuple(w for w in UNKNOWN_WORDS if model.vosk_model_find_word(w) >= 0)[:1]
