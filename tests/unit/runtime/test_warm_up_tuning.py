"""The bias is moved for a clear gain, and for nothing less."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from voicelog.config.cache import checked_grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.interpret.reader import Reader
from voicelog.runtime.warm_up_prompts import Prompt
from voicelog.runtime.warm_up_takes import Pair, Take
from voicelog.runtime.warm_up_tuning import SHIPPED, Trial, choose, luck, tuned

OF = 24


def _trial(bias: float, right: set[int], wrong_words: int = 0) -> Trial:
    """A trial in which these sentences read right, with so many wrong words in each other one."""
    return Trial(bias, tuple(_take(n, n in right, wrong_words) for n in range(OF)))


def _take(number: int, right: bool, wrong_words: int) -> Take:
    prompt = Prompt(f"sentence {number}", ())
    missing = 0 if right else max(1, wrong_words)
    pairs = (*[Pair("a", "a")] * (5 - missing), *[Pair("a", "b")] * missing)
    return Take(prompt, "", right, pairs)


def _without(*wrong: int) -> set[int]:
    return set(range(OF)) - set(wrong)


def test_the_sign_test_has_its_textbook_values() -> None:
    """Five heads of five: 1/32; four of four: 1/16; seven of eight: 9/256; nothing: certain."""
    assert luck(5, 0) == pytest.approx(1 / 32)
    assert luck(4, 0) == pytest.approx(1 / 16)
    assert luck(7, 1) == pytest.approx(9 / 256)
    assert luck(0, 0) == 1.0


def test_a_clear_gain_moves_it() -> None:
    """Six sentences better and none worse."""
    tuning = choose([_trial(0.3, _without()), _trial(0.4, _without(*range(6)))], 0.4)
    assert tuning.bias == 0.3
    assert tuning.moved
    assert tuning.why == "0.3 gets 24 of 24 sentences right, 0.4 gets 18"


def test_one_lucky_sentence_does_not() -> None:
    """Nor do two, nor five: the best of three other biases is taken, and one may be lucky."""
    for wrong in (1, 2, 5):
        tuning = choose([_trial(0.3, _without()), _trial(0.4, _without(*range(wrong)))], 0.4)
        assert tuning.bias == 0.4
        assert not tuning.moved
        assert "luck" in tuning.why


def test_a_gain_that_costs_as_much_does_not() -> None:
    """Seven better and four worse may be luck."""
    now = _trial(0.4, _without(*range(7)))
    other = _trial(0.3, _without(20, 21, 22, 23))
    assert not choose([other, now], 0.4).moved


def test_better_words_alone_do_not() -> None:
    """What counts is that entries are right; words only decide between equals."""
    now, other = _trial(0.4, _without(*range(8)), 4), _trial(0.5, _without(*range(8)), 1)
    assert choose([now, other], 0.4).bias == 0.4


def test_better_words_can_confirm_a_small_gain() -> None:
    """Two sentences more, and fewer wrong words in six others: more than luck."""
    now, other = _trial(0.4, _without(*range(8)), 4), _trial(0.3, _without(*range(6)), 1)
    assert choose([other, now], 0.4).bias == 0.3


def test_between_equals_the_shipped_one_wins() -> None:
    """It was measured on many voices."""
    trials = [_trial(bias, _without()) for bias in (0.2, 0.3, 0.4, 0.5)]
    assert choose([*trials, _trial(0.0, _without(*range(9)))], 0.0).bias == SHIPPED


def test_the_shipped_one_wins_where_only_luck_parts_them() -> None:
    """A strong bias can invent words in talk, which nobody says in a warm-up."""
    trials = [
        _trial(0.2, _without(*range(9))), _trial(0.4, _without(0)), _trial(0.5, _without()),
    ]  # fmt: skip
    assert choose(trials, 0.2).bias == SHIPPED


def test_fewer_than_a_dozen_tell_nothing() -> None:
    """The ear is not even asked."""

    def ear_at(_bias: float) -> object:
        raise AssertionError("nothing is to be decoded")

    clip = Clip(b"\0\0", 0.0, 0.0)
    said = [(_take(n, False, 1), clip) for n in range(11)]
    grammar = checked_grammar(Settings())
    reader = Reader(grammar.vocabulary, grammar.zone_map)
    tuning = tuned(said, ear_at, reader, before=0.4)  # type: ignore[arg-type]
    assert (tuning.bias, tuning.trials) == (0.4, ())
    assert "11 of at least 12" in tuning.why


def test_every_sentence_is_decoded_once_for_each_other_bias() -> None:
    """What was heard at first counts for the bias in force, which may be one of a person's own."""
    asked: list[float] = []

    def ear_at(bias: float) -> Callable[[Clip], Heard]:
        def hear(_clip: Clip) -> Heard:
            asked.append(bias)
            return Heard.typed("left sill, hole")

        return hear

    clip = Clip(b"\0\0", 0.0, 0.0)
    grammar = checked_grammar(Settings())
    done: list[tuple[int, int]] = []
    tuning = tuned(
        [(_take(n, False, 1), clip) for n in range(12)], ear_at,
        Reader(grammar.vocabulary, grammar.zone_map), before=0.35,
        done=lambda so_far, of: done.append((so_far, of)),
    )  # fmt: skip
    assert [asked.count(bias) for bias in (0.2, 0.3, 0.35, 0.4, 0.5)] == [12, 12, 0, 12, 12]
    assert [trial.bias for trial in tuning.trials] == [0.2, 0.3, 0.35, 0.4, 0.5]
    assert done == [(n, 48) for n in range(1, 49)]
