"""Which of two recognisers over one model is believed where."""

from __future__ import annotations

import pytest

from voicelog.domain.heard import Hypothesis, Word
from voicelog.recognise.vosk_joint import joint
from voicelog.recognise.vosk_results import sure


def _words(said: str, *, each_s: float = 0.3, confidence: float | None = 1.0) -> tuple[Word, ...]:
    """Words one after another; a word with ``~n`` behind it takes n times as long."""
    words, at_s = [], 0.0
    for part in said.split():
        text, _, times = part.partition("~")
        end_s = at_s + each_s * int(times or 1)
        words.append(Word(text, confidence, round(at_s, 2), round(end_s, 2)))
        at_s = end_s
    return tuple(words)


def _free(said: str, score: float = 200.0) -> Hypothesis:
    words = _words(said, confidence=0.8)
    return Hypothesis(" ".join(word.text for word in words), score, words)


@pytest.mark.parametrize(
    ("free", "limited", "expected"),
    [
        ("left front rain hall", "left front rail hole", "left front rail hole"),
        ("left cross member", "left crossmember~2", "left crossmember"),
        ("so i think left rain hall", "[unk]~3 left rail hole", "so i think left rail hole"),
        (
            "no rest at all on the rail",
            "[unk] rust [unk]~2 on the rail",
            "no rust at all on the rail",
        ),
    ],
)
def test_the_limited_one_puts_words_right(free: str, limited: str, expected: str) -> None:
    """Where it knows none, the free one's words stand, a negation among them."""
    found = joint([_free(free)], _words(limited))
    assert [hypothesis.text for hypothesis in found] == [free, expected]


@pytest.mark.parametrize(
    ("free", "limited"),
    [
        ("tell him i am busy", "left rail hole~2 rust"),
        ("left we had a nice day there", "left [unk]~6"),
        ("hello", "go ahead"),
        ("left rail", "left rail"),
        ("left rail", "[unk] [unk]"),
        ("left rail", ""),
    ],
)
def test_nothing_is_added_where_too_little_bears_it_out(free: str, limited: str) -> None:
    """A limited recogniser makes vocabulary of everything, with full confidence."""
    assert joint([_free(free)], _words(limited)) == (_free(free),)


def test_what_nobody_but_the_limited_one_heard_is_no_word() -> None:
    """Noise before and behind the words is where it invents most."""
    late = (Word("left", 1.0, 0.0, 0.3), Word("rail", 1.0, 0.3, 0.6), Word("hole", 1.0, 2.0, 2.4))
    assert [h.text for h in joint([_free("left rain")], late)] == ["left rain", "left rail"]


def test_every_letter_costs_and_the_alike_are_surer() -> None:
    """The first hypothesis stays the first: the scores of the two cannot be compared."""
    near = joint([_free("left rain")], _words("left rail"))
    far = joint([_free("left radio")], _words("left rail"))
    assert [h.score for h in near] == [200.0, 199.0]
    assert far[1].score < near[1].score
    assert (near[1].words[0].confidence, near[1].words[1].confidence) == (1.0, 0.75)


def test_any_hypothesis_may_bear_it_out() -> None:
    """Only the second has something alike; it is a nat behind, and so is what comes of it."""
    found = joint([_free("left pain", 200.0), _free("left hall", 199.0)], _words("left hole"))
    assert [h.text for h in found] == ["left pain", "left hall", "left hole"]
    assert found[2].score == 197.0


def test_two_hypotheses_at_most_are_added() -> None:
    """Each costs the reader as long as one of the free recogniser's."""
    free = [
        _free(f"left rain {word}", 200.0 - n) for n, word in enumerate(("a", "be", "see", "dee"))
    ]
    assert len(joint(free, _words("left rail [unk]"))) == 6


def test_nothing_heard_stays_nothing() -> None:
    """Silence to the free one is silence, whatever the limited one makes of it."""
    assert joint((), _words("left rail hole")) == ()


def test_words_written_in_blocks_are_compared_letter_by_letter() -> None:
    """Two syllables of which no block is the same may differ in one letter."""
    found = joint([_free("예속")], _words("계속"))
    assert [h.text for h in found] == ["예속", "계속"]
    assert found[1].score == 199.0


def test_shares_among_the_alternatives_are_confidences() -> None:
    """A word in all of them is certain; one in the better of two has its share of belief."""
    first, second = sure(
        [
            Hypothesis("left rail", 2.0, _words("left rail", confidence=None)),
            Hypothesis("left rain", 1.0, _words("left rain", confidence=None)),
        ],
        2,
    )
    assert [word.confidence for word in first.words] == [1.0, 0.731]
    assert [word.confidence for word in second.words] == [1.0, 0.269]


def test_what_is_not_kept_counts_all_the_same() -> None:
    """The more alternatives, the nearer to the library's own confidences."""
    heard = [Hypothesis(text, 1.0, _words(text, confidence=None)) for text in ("rail", "rain")]
    (kept,) = sure(heard, 1)
    assert kept.words[0].confidence == 0.5


def test_a_confidence_of_the_librarys_own_stands() -> None:
    """It knows more than the few best texts."""
    (one,) = sure([Hypothesis("left", 2.0, _words("left", confidence=0.4))], 4)
    assert one.words[0].confidence == 0.4
