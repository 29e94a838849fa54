"""What is timed: utterances of one length, and a vocabulary that only grows."""

from __future__ import annotations

from own import shipped
from pace import WORDS, grown, utterances


def test_every_utterance_has_the_same_length() -> None:
    """And no two are alike."""
    texts = [heard.text for heard in utterances(5)]
    assert {len(text.split()) for text in texts} == {WORDS}
    assert len(set(texts)) == 5


def test_a_grown_vocabulary_keeps_its_phrases() -> None:
    """The added ones have as many words in the same slots."""
    vocabulary = shipped().vocabulary
    larger = grown(vocabulary, 3).phrases
    count = len(vocabulary.phrases)
    assert larger[:count] == vocabulary.phrases
    assert len(larger) == 3 * count
    for phrase, made_up in zip(vocabulary.phrases, larger[count:], strict=False):
        assert (made_up.slot, made_up.value) == (phrase.slot, phrase.value)
        assert len(made_up.text.split()) == len(phrase.text.split())
