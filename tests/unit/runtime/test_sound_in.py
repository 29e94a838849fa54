"""What comes in, sorted: the pedal's edges, the tool's own voice, sound that is read late."""

from __future__ import annotations

import pytest
from live_bay import Ears

from voicelog.capture.incoming import Sound
from voicelog.runtime.due import Item
from voicelog.runtime.hearing import Uttered
from voicelog.runtime.sound_in import TAIL_S, SoundIn


class Answers:
    """A tool that talks as a test wants it to."""

    def __init__(self) -> None:
        self.deafening = self.aloud = False
        self.quiet = float("inf")
        self.hushed = 0

    def quiet_s(self) -> float:
        """Since when it is quiet."""
        return self.quiet

    def hush(self) -> None:
        """It is asked to be quiet; a piece may still be on its way."""
        self.hushed += 1


class Bench:
    """A sound side on a clock that a test moves."""

    def __init__(self, *, hands_free: bool) -> None:
        self.now_s = 100.0
        self.ears, self.answers = Ears(lambda: self.now_s), Answers()
        self.sound = SoundIn(
            self.ears, self.answers, lambda _message: None, lambda: self.now_s,  # type: ignore[arg-type]
            hands_free=hands_free,
        )  # fmt: skip

    def hear(self, words: str, at_s: float) -> list[str]:
        """The words that were heard of these, which came in then."""
        return words_of(self.sound.take(Sound(words.encode(), at_s)))


def words_of(items: list[Item]) -> list[str]:
    """The words of utterances."""
    return [i.heard.text for i in items if isinstance(i, Uttered) and i.heard is not None]


@pytest.fixture
def pedal() -> Bench:
    """It listens while the pedal is down."""
    return Bench(hands_free=False)


@pytest.fixture
def free() -> Bench:
    """It listens all the time."""
    return Bench(hands_free=True)


def test_the_last_word_before_the_pedal_goes_up_is_heard(pedal: Bench) -> None:
    """Sound is on its way for a moment; what began after the pedal went up is not heard."""
    pedal.sound.pedal(down=True)
    pedal.sound.pedal(down=False)
    assert pedal.hear("still down", 100.0) == ["still down"]
    assert pedal.sound.listens
    assert pedal.hear("up again", 100.0 + TAIL_S + 1.0) == []
    assert not pedal.sound.listens
    assert pedal.ears.cuts == 1


def test_without_more_sound_the_pedal_ends_it_all_the_same(pedal: Bench) -> None:
    """The microphone may have gone just then."""
    pedal.sound.pedal(down=True)
    pedal.sound.pedal(down=False)
    pedal.now_s += 1.0
    pedal.sound.take(None)
    assert (pedal.sound.listens, pedal.ears.cuts) == (False, 1)


def test_who_cuts_in_is_heard_though_the_tool_has_not_quite_ended(pedal: Bench) -> None:
    """Falling silent takes a moment, and the first word is said in it."""
    pedal.answers.deafening = True
    pedal.sound.pedal(down=True)
    assert pedal.answers.hushed == 1
    assert pedal.hear("first word", 100.1) == ["first word"]
    pedal.answers.deafening = False
    assert pedal.hear("second", 100.2) == ["second"]
    pedal.answers.deafening = True
    assert pedal.hear("its own voice", 100.3) == []


def test_its_own_voice_that_is_read_late_is_no_words(free: Bench) -> None:
    """The machine was busy while it spoke: what came in then is not heard now either."""
    free.now_s, free.answers.quiet = 110.0, 2.0
    assert free.hear("its own voice", 107.0) == []
    assert free.hear("a person", 109.0) == ["a person"]


def test_a_loss_of_unknown_length_is_told_as_such(free: Bench) -> None:
    """Not as none at all."""
    from voicelog.capture.incoming import Dropped
    from voicelog.runtime.messages import Message, Noticed

    told: list[Message] = []
    sound = SoundIn(
        free.ears, free.answers, told.append, lambda: free.now_s, hands_free=True,  # type: ignore[arg-type]
    )  # fmt: skip
    sound.take(Dropped(0.0, "how much is not known"))
    (noticed,) = [message for message in told if isinstance(message, Noticed)]
    assert noticed.text == "Sound was lost: how much is not known"
