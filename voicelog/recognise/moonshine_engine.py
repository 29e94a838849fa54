"""The built-in ear: the embedded model with a beam that leans towards the vocabulary."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import islice
from typing import TYPE_CHECKING

from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE
from voicelog.recognise.beam import Path, Spelling, search
from voicelog.recognise.bias import NO_KINDS, PhraseTree
from voicelog.recognise.context import CARRIED, START, kind_of
from voicelog.recognise.fitted import fitted_confidence, fitted_context
from voicelog.recognise.moonshine_model import MODEL, MoonshineModel
from voicelog.recognise.moonshine_utterance import END, Utterance
from voicelog.recognise.no_speech import HABIT, holds_nothing, is_answer_to_noise
from voicelog.recognise.pieces import MOST_HYPOTHESES, joined, split
from voicelog.recognise.port import ANYTHING, Expected

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

TOKENS_PER_SECOND = 6.5
"""Length guard: nobody speaks more tokens a second than this."""

FEWEST_TOKENS = 6
"""Length guard for very short sound."""

BIAS_PER_SECOND, LEAST_BIAS = 8.0, 8.0
"""Nats that leaning may give for a second of sound, and for very short sound: fast speech made of
nothing but the vocabulary earns 7 a second, so that only what nobody can have said is held back."""

LONGEST_S = 12.0
"""Sound decoded at once; time and memory of the encoder grow with its square (20 s take 140 MB)."""

PARTIAL_EVERY_S = 0.4
"""With the time until somebody asks again, a new text comes twice a second."""

PARTIAL_FROM_S = 0.3


class MoonshineEar:
    """Hears English with the embedded model.

    Args:
        phrases: the vocabulary to lean towards.
        bias: nats a letter; 0 switches leaning off.
        beam: texts carried at once; 1 with bias 0 is plain greedy decoding.
        adapted: with the corrections for inspections in shop noise; an open model is as it is.
        classes: the word class of each phrase, to lean by what came before.
        chances: give the chance that a word is right; else the model's own probability.
        model: an open model; the installed one is opened when left out.
        clock: seconds that only go up, for pacing partials.

    Raises:
        EarFault: when the model is missing or altered.
    """

    engine = "built-in"
    model = MODEL

    def __init__(
        self,
        phrases: Sequence[str] = (),
        *,
        bias: float = 0.4,
        beam: int = 4,
        adapted: bool = True,
        classes: Mapping[str, str] = NO_KINDS,
        chances: bool = True,
        model: MoonshineModel | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._model = model or MoonshineModel(adapted=adapted)
        self.model = self._model.name
        self._spelling = Spelling(self._model.texts, END)
        self._bias, self._expected = bias, ANYTHING
        self._confidence = fitted_confidence(self._model.name) if chances else None
        self._whole = _tree(phrases, bias, {p: kind_of(slot) for p, slot in classes.items()})
        self._tree = self._whole
        self._beam = max(1, beam)
        self._habit = self._model.texts.index(f" {HABIT.capitalize()}")
        self._clock = clock
        self._pcm = bytearray()
        self._partial, self._partial_due = "", 0.0

    def expect(self, expected: Expected) -> None:
        """Lean only towards what is waited for, or more towards what is likely."""
        if expected == self._expected:
            return
        self._expected = expected
        if expected.only:
            self._tree = _tree(expected.only, self._bias, NO_KINDS)
        elif self._whole is not None:
            first = CARRIED if expected.placed else START
            self._tree = self._whole.expecting(expected.likely, first)
        else:
            self._tree = None

    def feed(self, pcm: bytes) -> None:
        """Take the next sound of the open utterance (16 kHz mono s16le)."""
        self._pcm += pcm

    def partial(self) -> str:
        """The open utterance decoded with one text carried; about twice a second, less often when slow.

        It leans to the vocabulary like the rest: a tenth more time, a third of the wrong words less.
        """
        began = self._clock()
        if (
            began < self._partial_due
            or len(self._pcm) < PARTIAL_FROM_S * SAMPLE_RATE * BYTES_PER_SAMPLE
        ):
            return self._partial
        texts = self._decode(1, self._tree)
        self._partial = texts[0].text if texts else ""
        took = self._clock() - began
        self._partial_due = began + max(PARTIAL_EVERY_S, 2 * took)
        return self._partial

    def finish(self) -> Heard:
        """Decode the utterance and forget its sound."""
        try:
            return Heard(self._decode(self._beam, self._tree), self.engine, self.model)
        finally:
            self.forget()

    def forget(self) -> None:
        """Drop the open utterance unheard."""
        self._pcm.clear()
        self._partial, self._partial_due = "", 0.0

    def close(self) -> None:
        """Let go of the networks."""
        self._pcm.clear()
        self._model.close()

    def _decode(self, width: int, tree: PhraseTree | None) -> tuple[Hypothesis, ...]:
        pieces = split(self._samples(), longest_s=LONGEST_S, within_s=LONGEST_S / 2)
        return joined([self._hear(piece, width, tree) for piece in pieces])

    def _hear(self, samples: Floats, width: int, tree: PhraseTree | None) -> tuple[Hypothesis, ...]:
        if holds_nothing(samples):
            return ()
        utterance = self._model.utterance(samples)
        long_s = len(samples) / SAMPLE_RATE
        longest = max(FEWEST_TOKENS, int(long_s * TOKENS_PER_SECOND) + 2)
        most = max(LEAST_BIAS, long_s * BIAS_PER_SECOND)
        paths = search(
            utterance, self._spelling, width=width, longest=longest, tree=tree, most=most
        )
        found = tuple(islice(self._hypotheses(paths, utterance), MOST_HYPOTHESES))
        return self._confidence.calibrated(found) if self._confidence else found

    def _samples(self) -> Floats:
        import numpy as np

        whole = len(self._pcm) // BYTES_PER_SAMPLE * BYTES_PER_SAMPLE
        samples = np.frombuffer(bytes(self._pcm[:whole]), "<i2").astype(np.float32)
        return samples / np.float32(32768)

    def _hypotheses(self, paths: Sequence[Path], utterance: Utterance) -> Iterator[Hypothesis]:
        """Each text once, and none at all when the best of them is the model's, not a person's."""
        habit_chance = utterance.first_chance(self._habit)
        seen: set[str] = set()
        for path in paths:
            words = tuple(self._words(path))
            text = " ".join(word.text for word in words)
            if is_answer_to_noise(text, habit_chance):
                if not seen:
                    return
                continue
            said = "".join(c for c in text.casefold() if c.isalnum())
            if said not in seen:
                seen.add(said)
                yield Hypothesis(text, round(path.rank, 4), words)

    def _words(self, path: Path) -> Iterator[Word]:
        """Words with the product of their tokens' probabilities; punctuation does not count."""
        groups: list[tuple[list[int], float]] = []
        for token, logprob in zip(path.tokens, path.logprobs, strict=False):
            shown = self._model.texts[token]
            counted = logprob if any(c.isalnum() for c in shown) else 0.0
            if groups and not shown.startswith(" "):
                tokens, total = groups[-1]
                groups[-1] = ([*tokens, token], total + counted)
            else:
                groups.append(([token], counted))
        for tokens, total in groups:
            text = self._model.spell(tokens)
            if text:
                yield Word(text, round(math.exp(total), 4))


def _tree(phrases: Sequence[str], bias: float, kinds: Mapping[str, str]) -> PhraseTree | None:
    """None where there is nothing to lean towards, or leaning is switched off."""
    if bias <= 0 or not phrases:
        return None
    return PhraseTree(phrases, nats_per_letter=bias, kinds=kinds, context=fitted_context())
