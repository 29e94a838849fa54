"""A microphone that is turned up too far is told after several utterances, not after a blow."""

from __future__ import annotations

from voicelog.capture.overdriven import AGAIN_AFTER, Overdriven


def _uttered(follows: Overdriven, clipped: int, blocks: int = 60) -> bool:
    for number in range(blocks):
        follows.sound(clipped=number < clipped)
    return follows.ended()


def test_three_of_five_utterances_are_no_accident() -> None:
    """Told with the third, and then not with each one after it."""
    follows = Overdriven()
    assert [_uttered(follows, 20) for _ in range(6)] == [False, False, True, False, False, False]


def test_blows_of_a_hammer_are_none_of_the_microphones_fault() -> None:
    """A block or two of an utterance go past the limit."""
    follows = Overdriven()
    assert not any(_uttered(follows, 3) for _ in range(20))


def test_two_loud_ones_far_apart_are_forgotten() -> None:
    """Only the last five count."""
    follows = Overdriven()
    loud = [20, 0, 0, 0, 0, 20, 0, 0, 0, 0, 20]
    assert not any(_uttered(follows, clipped) for clipped in loud)


def test_whoever_does_nothing_about_it_is_told_again() -> None:
    """Not sooner than twenty utterances later."""
    follows = Overdriven()
    told = [number for number in range(50) if _uttered(follows, 60)]
    assert told == [2, 2 + AGAIN_AFTER, 2 + 2 * AGAIN_AFTER]
