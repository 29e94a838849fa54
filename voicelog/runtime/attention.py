"""What may be kept of an utterance that ends standing by: from the attention word on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.reading import Vocabulary

Phrases = tuple[tuple[str, ...], ...]


def attention_words(vocabulary: Vocabulary) -> Phrases:
    """Every way to say the attention word, and what recognisers make of it, as words."""
    said = (phrase.text for phrase in vocabulary.phrases if phrase.slot == "attention")
    return tuple(tuple(text.split()) for text in said)


def since_attention(heard: Heard, phrases: Phrases) -> tuple[Heard, bool]:
    """The words from the attention word on.

    Args:
        heard: while standing by.
        phrases: as :func:`attention_words` gives them.

    Returns:
        The hypotheses that hold it, without what comes before it, or all as they are where none
        does (then nothing of them is kept); and whether anything came before.
    """
    found = list(_from_it(heard.hypotheses, phrases))
    if not found:
        return heard, False
    kept = tuple(hypothesis for hypothesis, _ in found)
    return replace(heard, hypotheses=kept), any(before for _, before in found)


def _from_it(
    hypotheses: Iterable[Hypothesis], phrases: Phrases
) -> Iterator[tuple[Hypothesis, bool]]:
    for hypothesis in hypotheses:
        words = hypothesis.words or tuple(Word(text) for text in hypothesis.text.split())
        at = _place(words, phrases)
        if at is not None:
            rest = words[at:]
            text = " ".join(word.text for word in rest)
            yield replace(hypothesis, text=text, words=rest), at > 0


def _place(words: Sequence[Word], phrases: Phrases) -> int | None:
    """Where the attention word stands for the last time; None where it does not."""
    plain = ["".join(c for c in word.text.lower() if c.isalnum() or c == "'") for word in words]
    places = [
        at
        for phrase in phrases
        for at in range(len(plain) - len(phrase) + 1)
        if tuple(plain[at : at + len(phrase)]) == phrase
    ]
    return max(places, default=None)
