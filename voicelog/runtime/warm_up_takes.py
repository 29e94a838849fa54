"""One sentence of a warm-up as it was heard: did it read right, and which words were taken for others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.interpret.numbers import number_at
from voicelog.interpret.reader import Reader
from voicelog.interpret.tokens import tokenise
from voicelog.interpret.units import unit_at
from voicelog.runtime.warm_up_prompts import Prompt, sense_of

_PART_HEARD = 3
"""One in so many words heard right may be chance: "left" begins half of all sentences. Ours."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Words said, and what was heard in their place.

    Args:
        said: empty where words were heard that nobody said.
        heard: empty where nothing was heard.
    """

    said: str
    heard: str

    @property
    def alike(self) -> bool:
        """They were heard right."""
        return self.said == self.heard


@dataclass(frozen=True, slots=True)
class Take:
    """One sentence as it was said and heard.

    Args:
        prompt: what was to be said.
        heard: the ear's best text.
        right: it reads as it should, every slot, whatever became of the words.
        pairs: said and heard, in order; those heard right come a word at a time.
    """

    prompt: Prompt
    heard: str
    right: bool
    pairs: tuple[Pair, ...]

    @property
    def words(self) -> int:
        """Words that were to be said; a number or a unit counts as one."""
        return sum(len(pair.said.split()) for pair in self.pairs)

    @property
    def wrong_words(self) -> int:
        """Words taken for others, not heard, or heard although nobody said them."""
        wrong = (pair for pair in self.pairs if not pair.alike)
        return sum(max(len(pair.said.split()), len(pair.heard.split())) for pair in wrong)

    @property
    def other_words(self) -> bool:
        """At most a third of the sentence was heard: somebody probably said something else."""
        return _PART_HEARD * sum(pair.alike for pair in self.pairs) <= self.words


def take_of(prompt: Prompt, heard: Heard, reader: Reader) -> Take:
    """Judge what an ear made of a sentence."""
    right = sense_of(reader.read(heard)) == prompt.wanted
    return Take(
        prompt, heard.text, right, tuple(_aligned(words_of(prompt.text), words_of(heard.text)))
    )


def words_of(text: str) -> tuple[str, ...]:
    """The words of a text so that the same thing is written the same: "10" for ten, "mm" for
    millimeters.
    """
    words = [token.text for token in tokenise(Hypothesis(text))]
    return tuple(_same_writing(words))


def _same_writing(words: Sequence[str]) -> Iterator[str]:
    at = 0
    while at < len(words):
        number, unit = number_at(words, at), unit_at(words, at)
        if number is not None:
            yield f"{float(number.value):g}"
            at = number.end
        elif unit is not None:
            yield unit.name
            at = unit.end
        else:
            yield words[at]
            at += 1


def _aligned(said: Sequence[str], heard: Sequence[str]) -> Iterator[Pair]:
    """The words side by side; where as many were said as heard, one against one."""
    matcher = SequenceMatcher(None, said, heard, autojunk=False)
    for kind, begin, end, heard_begin, heard_end in matcher.get_opcodes():
        ours, theirs = said[begin:end], heard[heard_begin:heard_end]
        if kind == "equal" or "".join(ours) == "".join(theirs):  # "crossmember" is no mistake
            yield from (Pair(word, word) for word in ours)
        elif len(ours) == len(theirs):
            yield from (Pair(one, other) for one, other in zip(ours, theirs, strict=True))
        else:
            yield Pair(" ".join(ours), " ".join(theirs))
