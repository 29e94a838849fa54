"""The model of mishearing: at the rate asked for, where ears err, and the same each time."""

from __future__ import annotations

from collections import Counter

import jiwer
import pytest
from corrupt import corrupt, n_best, word_errors
from hypothesis import given
from hypothesis import strategies as st
from mishearings import SHORT, common_words, confusions

MARKS = str.maketrans("", "", ",.:;?!")


def _plain(texts: list[str]) -> list[str]:
    return [text.translate(MARKS) for text in texts]


@pytest.mark.parametrize("rate", [0.05, 0.10, 0.25])
def test_the_corpus_gets_the_asked_word_error_rate(spoken: list[str], rate: float) -> None:
    """Measured by jiwer over both parts, within a tenth of the rate."""
    heard = [corrupt(said, rate, 1) for said in spoken]
    assert jiwer.wer(_plain(spoken), _plain(heard)) == pytest.approx(rate, rel=0.1)


words = st.lists(st.sampled_from(["left", "left,", "sill", "rust", "rest.", "a"]), max_size=8)


@given(said=words.filter(bool), heard=words)
def test_word_errors_are_counted_as_jiwer_counts_them(said: list[str], heard: list[str]) -> None:
    """Over the number of words said they are its word error rate."""
    (plain,), (other,) = _plain([" ".join(said)]), _plain([" ".join(heard)])
    errors = word_errors(tuple(said), tuple(heard))
    assert errors / len(said) == pytest.approx(jiwer.wer(plain, other))


def test_the_same_seed_mishears_alike(spoken: list[str]) -> None:
    """A run can be repeated; another seed errs elsewhere."""
    some = spoken[:60]
    first = [corrupt(said, 0.25, 1) for said in some]
    assert first == [corrupt(said, 0.25, 1) for said in some]
    assert first != [corrupt(said, 0.25, 2) for said in some]


def test_no_rate_changes_nothing(spoken: list[str]) -> None:
    """At rate nought every text comes out as it went in, marks and all."""
    assert [corrupt(said, 0.0, 1) for said in spoken] == spoken


def test_something_is_always_heard(spoken: list[str]) -> None:
    """Even at a rate where everything is wrong there is some word."""
    assert all(corrupt(said, 0.9, seed) for said in [*spoken[:100], "photo"] for seed in range(3))


def test_marks_stay_where_their_word_is() -> None:
    """A comma survives the mishearing of its word."""
    heard = {corrupt("weld, rust, sill", 0.5, seed) for seed in range(40)}
    assert any(text.startswith("well, ") for text in heard)


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("rust", "rest"), ("brake", "break"), ("weld", "well"), ("sill", "seal"), ("rot", "right"),
        ("hole", "whole"), ("seam", "seems"), ("floor", "4"), ("thin", "then"), ("rear", "where"),
        ("inner", "and a"), ("driver", "drive a"), ("passenger", "pass in your"), ("frame", "framed"),
    ],
)  # fmt: skip
def test_measured_confusions_come_up(said: str, heard: str) -> None:
    """What the recognisers really wrote for a word (the project's measurement) is among its slips."""
    texts = {corrupt(f"there is {said} on it", 0.3, seed) for seed in range(400)}
    assert any(f" {heard} " in f" {text} " for text in texts)


def test_word_boundaries_move() -> None:
    """Two words of a name can come out as two others: "crossed number"."""
    texts = {corrupt("rear cross member clean", 0.4, seed) for seed in range(300)}
    assert any("crossed number" in text for text in texts)


def test_numbers_may_come_out_as_digits() -> None:
    """A recogniser writes "thirty five" as 35."""
    texts = {corrupt("make that thirty five millimetres", 0.3, seed) for seed in range(300)}
    assert any(" 35 " in text for text in texts)


def test_ears_err_on_short_and_trade_words_more(spoken: list[str]) -> None:
    """Swallowed words and words of the trade are hit more often than common content words."""
    said_by_class, hit_by_class = Counter[str](), Counter[str]()
    for said in _plain(spoken):
        heard = corrupt(said, 0.15, 1).split()
        for word in said.split():
            said_by_class[_class(word)] += 1
            hit_by_class[_class(word)] += word not in heard
    share = {name: hit_by_class[name] / said_by_class[name] for name in said_by_class}
    assert share["short"] > share["common"]
    assert share["trade"] > share["common"]


def _class(word: str) -> str:
    if word in SHORT:
        return "short"
    return "common" if word in common_words() and (word,) not in confusions() else "trade"


def test_an_n_best_list_starts_with_the_mishearing(spoken: list[str]) -> None:
    """The first hypothesis is the single one, scores fall, and no text stands twice."""
    for said in spoken[:80]:
        listed = n_best(said, 0.25, 1)
        texts, scores = [text for text, _ in listed], [score for _, score in listed]
        assert texts[0] == corrupt(said, 0.25, 1)
        assert len(set(texts)) == len(texts) == 4
        assert scores == sorted(set(scores), reverse=True)
        assert scores[0] < 0


def test_hypotheses_share_most_errors(spoken: list[str]) -> None:
    """Those of one list are nearer to its first than a mishearing by another ear is."""
    some = [said for said in spoken if len(said.split()) > 6][:150]
    lists = [n_best(said, 0.25, 1) for said in some]
    first = _plain([listed[0][0] for listed in lists])
    second = _plain([listed[1][0] for listed in lists])
    apart = _plain([corrupt(said, 0.25, 2) for said in some])
    assert 0 < jiwer.wer(first, second) < 0.75 * jiwer.wer(first, apart)
