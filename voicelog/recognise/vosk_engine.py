"""The Vosk ear: a free recogniser and one limited to the vocabulary, over one model.

The model is always loaded by path: loading by name may download something or end the process.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.errors import EarFault
from voicelog.recognise.pieces import MOST_HYPOTHESES, joined
from voicelog.recognise.port import ANYTHING, Expected
from voicelog.recognise.vosk_joint import joint
from voicelog.recognise.vosk_limited import Limited
from voicelog.recognise.vosk_models import check_model, has_fixed_graph
from voicelog.recognise.vosk_recogniser import Recogniser
from voicelog.recognise.vosk_results import sure
from voicelog.recognise.vosk_words import Respelt, respell
from voicelog.tongue import to_word, worded

QUIET = -1
"""Vosk's log level that says nothing."""

BUILT_IN_INSTEAD = to_word(
    "Install it anew (pip install --force-reinstall vosk), or use --ear built-in"
)

ALTERNATIVES = 32
"""Texts that the library is asked for, of which a few are kept: from so many, the chances of words
come within 0.04 on average of its own confidences, from four within 0.11. They cost no time."""

ENOUGH_WORDS = 20
"""A vocabulary of fewer words tells nothing of a model's language."""

OWN_LANGUAGE = 0.5
"""Least share of the vocabulary's words that a model of its language knows."""


class VoskEar:
    """Hears whatever language the model is made for.

    Args:
        folder: the model's folder.
        phrases: the vocabulary; without one there is only the free recogniser.
        library: what offers Vosk's Python interface; the installed package when left out.

    Raises:
        EarFault: when Vosk or the model cannot be loaded, or the model knows too few of the words.
    """

    engine = "vosk"

    def __init__(self, folder: Path, phrases: Sequence[str] = (), *, library: Any = None) -> None:
        self.model = folder.name
        self._library = library or checked_library(folder)
        self._loaded, made = load(folder, self._library)
        self._recogniser: Recogniser | None = Recogniser(made)
        self._spelling = respell(phrases, self._knows)
        _check_language(self.model, phrases, self._spelling)
        self._phrases = () if has_fixed_graph(folder) else self._spelling.phrases
        self._limited = Limited(self._library, self._loaded, self._phrases)
        self._expected = ANYTHING
        self._segments: list[tuple[Hypothesis, ...]] = []
        self._pcm = bytearray()

    @property
    def spelling(self) -> Respelt:
        """The vocabulary in the model's words."""
        return self._spelling

    def expect(self, expected: Expected) -> None:
        """Limit the limited recogniser further, or have it think some phrases likelier."""
        if expected == self._expected or not self._phrases:
            return
        self._expected = expected
        only, likely = (respell(p, self._knows).phrases for p in (expected.only, expected.likely))
        self._limited.expect(only if expected.only else self._phrases, likely)

    def feed(self, pcm: bytes) -> None:
        """Take the next sound of the open utterance (16 kHz mono s16le)."""
        self._pcm += pcm
        self._segments.append(self._opened().take(pcm))

    def partial(self) -> str:
        """What the open utterance sounds like so far, to the free recogniser."""
        said = [segment[0].text for segment in self._segments if segment]
        return " ".join(text for text in (*said, self._opened().partial()) if text)

    def finish(self) -> Heard:
        """Close the utterance and say what was heard in it."""
        free = joined(self._ended())
        both = joint(free, self._limited.hear(bytes(self._pcm)) if free else ())
        self._pcm.clear()
        return Heard(tuple(map(self._spelling.spelt_back, both)), self.engine, self.model)

    def forget(self) -> None:
        """Drop the open utterance unheard."""
        self._ended()
        self._pcm.clear()

    def close(self) -> None:
        """Let go of the model."""
        self._limited.close()
        self._recogniser, self._loaded = None, None
        self._segments = []
        self._pcm.clear()

    def unknown_words(self, words: Iterable[str]) -> tuple[str, ...]:
        """Those of the words that the model can never write, in order."""
        return tuple(word for word in words if not self._knows(word))

    def _knows(self, word: str) -> bool:
        return bool(self._loaded.vosk_model_find_word(word.lower()) >= 0)

    def _ended(self) -> list[tuple[Hypothesis, ...]]:
        """The segments of the open utterance, which is closed."""
        segments, self._segments = [*self._segments, self._opened().end()], []
        return [sure(segment, MOST_HYPOTHESES) for segment in segments]

    def _opened(self) -> Recogniser:
        if self._recogniser is None:
            raise EarFault(worded("The ear has been closed"), worded("Open it again"))
        return self._recogniser


def vosk_library() -> Any:
    """The installed Vosk package.

    Raises:
        EarFault: when it is missing or its native library does not load here.
    """
    try:
        import vosk
    except (ImportError, OSError, TypeError) as error:
        raise EarFault(
            worded("Vosk does not load on this machine ({error})", error=error),
            worded(BUILT_IN_INSTEAD),
        ) from error
    return vosk


def checked_library(folder: Path) -> Any:
    """The installed package, once the folder holds all it will look for.

    Raises:
        EarFault: when either is not whole.
    """
    library = vosk_library()
    check_model(folder)
    return library


def load(folder: Path, library: Any) -> tuple[Any, Any]:
    """The model in a folder and the free recogniser over it: a damaged graph shows only there.

    Raises:
        EarFault: when it cannot.
    """
    library.SetLogLevel(QUIET)
    try:
        loaded = library.Model(str(folder))
        recogniser = library.KaldiRecognizer(loaded, SAMPLE_RATE)
    except Exception as error:  # Vosk raises plain Exception
        raise EarFault(
            worded(
                "The Vosk model in {folder} cannot be loaded ({error})", folder=folder, error=error
            ),
            worded("Fetch it again: voicelog model get, or name another with --model"),
        ) from error
    recogniser.SetMaxAlternatives(ALTERNATIVES)
    return loaded, recogniser


def _check_language(model: str, phrases: Iterable[str], spelling: Respelt) -> None:
    words = {word for phrase in phrases for word in phrase.lower().split()}
    known = len(words) - len(spelling.unknown)
    if len(words) >= ENOUGH_WORDS and known < OWN_LANGUAGE * len(words):
        raise EarFault(
            worded(
                "The Vosk model {model} knows only {known} of the {count} words of the "
                "vocabulary: it is made for another language",
                model=model,
                known=known,
                count=len(words),
            ),
            worded(
                "Name a model of your words' language with --model, or words of its language with --grammar"
            ),
        )
