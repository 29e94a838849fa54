"""A baseline: rapidfuzz's best match over the vocabulary's phrases.

Every run of up to six words is compared with every phrase of the classes in :data:`scribe.CLASSES`
(``rapidfuzz.fuzz.ratio`` without spaces, so that "crossmember" fits "cross member"). In each class
the best phrase at or above :data:`THRESHOLD` wins, of equally good ones the longest. As with
keyword search a place carries over, numbers are read by voicelog's own code, and one sentence makes
at most one entry. An entry is marked doubtful when a phrase was not there word for word.

The threshold is the one with the most exact cases over the tuning part, as typed and at 10 % word
errors together; run ``python tests/bench/best_match.py`` to find it again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cache

import numpy as np
import scribe
from corpus import Hearing, Said, load, utter
from own import shipped
from rapidfuzz import fuzz, process

from voicelog.domain.reading import Phrase, Speech
from voicelog.yardstick.strict import Answer, judge

THRESHOLD = 88.0
"""Least likeness, 0 to 100."""
LONGEST_RUN = 6
"""Words."""


def understand(
    said: Sequence[Said], flags: Mapping[str, str], threshold: float = THRESHOLD
) -> Answer:
    """One inspection of the corpus."""
    return scribe.understand(
        said, flags, lambda sentence, speech: [_found(sentence, speech, threshold)]
    )


@cache
def _phrases() -> tuple[list[Phrase], list[str]]:
    phrases = [p for p in shipped().vocabulary.phrases if p.slot in scribe.CLASSES]
    return phrases, [scribe.folded(phrase.text).replace(" ", "") for phrase in phrases]


def _found(sentence: scribe.Sentence, speech: Speech, threshold: float) -> scribe.Found:
    found = scribe.Found()
    condition_at = len(sentence.words)
    for likeness, start, phrase in _hits(sentence.words, threshold):
        told = scribe.value(phrase, speech)
        if told is not None and told[0] not in found.slots:
            found.slots[told[0]] = told[1]
            found.sure = found.sure and likeness == 100
            condition_at = start if told[0] == "condition" else condition_at
    found.measures = scribe.numbered(sentence.words, sentence.measures, condition_at)
    return found


def _hits(words: Sequence[str], threshold: float) -> list[tuple[float, int, Phrase]]:
    """Likeness, place and phrase of everything near enough, the best first."""
    phrases, texts = _phrases()
    runs = [
        (start, "".join(words[start:end]))
        for start in range(len(words))
        for end in range(start + 1, min(start + LONGEST_RUN, len(words)) + 1)
        if not words[end - 1].startswith(scribe.MEASURE)
    ]
    likeness = process.cdist(
        [run for _, run in runs], texts, scorer=fuzz.ratio, score_cutoff=threshold
    )
    hits = [
        (float(likeness[row, column]), runs[row][0], phrases[column])
        for row, column in np.argwhere(likeness >= threshold)
    ]
    return sorted(hits, key=lambda hit: (-hit[0], -len(hit[2].text)))


def tune(thresholds: Iterable[float], sources: Sequence[str], rates: Sequence[float]) -> None:
    """Print how many cases of the tuning part each threshold gets exactly."""
    heard = [
        (case, utter(case, Hearing(rate)))
        for source in sources
        for case in load(source)
        for rate in rates
    ]
    for threshold in thresholds:
        exact = sum(
            judge(case.want, understand(said, case.settings, threshold), case.tags).exact
            for case, said in heard
        )
        print(f"{threshold:g}: {exact}/{len(heard)}", flush=True)


if __name__ == "__main__":
    tune((76, 80, 84, 86, 88, 90, 92, 95, 100), ("tuning/hand", "tuning/generated"), (0.0, 0.1))
