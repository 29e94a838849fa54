"""One of Vosk's recognisers, from utterance to utterance, each heard as if it were the only one."""

from __future__ import annotations

import json
from typing import Any

from voicelog.domain.heard import Hypothesis
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE
from voicelog.recognise.vosk_results import hypotheses

PAUSE = bytes(SAMPLE_RATE // 100 * BYTES_PER_SAMPLE)
"""Silence heard between two utterances. The library fits itself to a voice and keeps that for one
utterance more: behind a long one, the next was heard otherwise than by itself, every time. With ten
milliseconds of nothing between them it is not; a new recogniser takes several times as long."""


class Recogniser:
    """Hears utterances, with times from the beginning of each.

    The library counts time over all it has ever heard.

    Args:
        made: a ``KaldiRecognizer`` of the library.
    """

    def __init__(self, made: Any) -> None:
        self._made = made
        self._made.SetWords(True)
        self._fed_samples = self._began_samples = 0

    def limit(self, grammar: str) -> None:
        """Know only these phrases; between utterances only, or the library ends the process.

        Args:
            grammar: a JSON list of phrases, of which one at least has a word the model knows.
        """
        self._made.SetGrammar(grammar)

    def take(self, pcm: bytes) -> tuple[Hypothesis, ...]:
        """Hear more of the utterance; a segment of it, where the library sees an end."""
        return self._heard(self._made.Result()) if self._feed(pcm) else ()

    def partial(self) -> str:
        """The segment so far."""
        return str(json.loads(self._made.PartialResult()).get("partial", ""))

    def end(self) -> tuple[Hypothesis, ...]:
        """The last segment of the utterance, which is closed."""
        last = self._heard(self._made.FinalResult())
        if self._fed_samples > self._began_samples:
            self._feed(PAUSE)
            self._made.FinalResult()
        self._began_samples = self._fed_samples
        return last

    def _feed(self, pcm: bytes) -> bool:
        self._fed_samples += len(pcm) // BYTES_PER_SAMPLE
        return bool(self._made.AcceptWaveform(pcm))

    def _heard(self, result: str) -> tuple[Hypothesis, ...]:
        return hypotheses(result, began_s=self._began_samples / SAMPLE_RATE)
