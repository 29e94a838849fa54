"""A whole warm-up on scripted sound: what is asked, what is heard, how it ends."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path

import pytest

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.incoming import Dropped, Ended, Gone, Incoming, Sound
from voicelog.capture.mute import WHY as MUTED
from voicelog.capture.voice import BLOCK
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault, InputFault, MicrophoneFault
from voicelog.runtime.warm_up import Learned, WarmUp
from voicelog.runtime.warm_up_listening import End, Wish
from voicelog.runtime.warm_up_prompts import Prompt
from voicelog.runtime.warm_up_takes import Take

BLOCK_S = BLOCK / 16_000
SIDES, ZONES = ("left", "right"), ("sill", "front rail", "shock mount", "floor pan", "engine mount",
                                   "rear rail", "axle bracket")  # fmt: skip
TEXTS = tuple(f"{side} {zone}, surface rust" for zone in ZONES for side in SIDES)
"""Fourteen sentences."""


class Loud:
    """Takes everything that is not silent for speech."""

    def speech(self, pcm: bytes) -> float:
        """1 or 0."""
        return float(any(pcm))


class Script:
    """A source that gives what a list holds, faults included, and then nothing."""

    device = "a scripted microphone"

    def __init__(self, came: Sequence[Incoming | Exception]) -> None:
        self._came = iter(came)

    def read(self, timeout_s: float) -> Incoming | None:
        """The next of the list."""
        came = next(self._came, None)
        if isinstance(came, Exception):
            raise came
        return came

    def close(self) -> None:
        """Nothing to let go of."""


class ScriptedEars:
    """Hears what a table says for a bias and the number that the sound is made of."""

    engine, model = "built-in", "a scripted model"

    def __init__(
        self, heard: Callable[[float, int], str], *, leans: bool = True, bias: float = 0.4
    ) -> None:
        self._heard, self.leans, self._bias = heard, leans, bias
        self.closed = False
        self.tried: set[float] = set()

    def hear(self, clip: Clip) -> Heard:
        """With the bias in force."""
        return Heard.typed(self._heard(self._bias, max(clip.pcm)))

    def at(self, bias: float) -> Callable[[Clip], Heard]:
        """With another one."""
        self.tried.add(bias)
        return lambda clip: Heard.typed(self._heard(bias, max(clip.pcm)))

    def close(self) -> None:
        """Remembers that it was."""
        self.closed = True


class Watched:
    """Keeps what it was told, and wishes what a table says once a sentence is shown."""

    def __init__(self, wishes: Mapping[int, Wish] | None = None) -> None:
        self._wishes = dict(wishes or {})
        self.shown: list[str] = []
        self.takes: list[Take] = []
        self.notes: list[str] = []
        self.tuned: list[tuple[int, int]] = []

    def show(self, number: int, of: int, prompt: Prompt) -> None:
        """Keeps the sentence."""
        self.shown.append(prompt.text)
        assert (number, of) == (len(self.shown), len(TEXTS))

    def took(self, take: Take) -> None:
        """Keeps the take."""
        self.takes.append(take)

    def note(self, text: str) -> None:
        """Keeps the note."""
        self.notes.append(text)

    def tuning(self, done: int, of: int) -> None:
        """Keeps how far it is."""
        self.tuned.append((done, of))

    def wish(self) -> Wish | None:
        """Each wish once."""
        return self._wishes.pop(len(self.shown), None)


def _silence(seconds: float) -> Iterator[Sound]:
    for _ in range(round(seconds / BLOCK_S)):
        yield Sound(bytes(2 * BLOCK), 0.0)


def _utterance(number: int, *, clipped: bool = False) -> Iterator[Sound]:
    """Half a second of sound made of a number from 1 to 127, and the silence that closes it."""
    for _ in range(16):
        yield Sound(bytes([number, 0]) * BLOCK, 0.0, clipped)
    yield from _silence(1.2)


def _all(numbers: Sequence[int]) -> list[Incoming | Exception]:
    return [sound for number in numbers for sound in _utterance(number)]


def _as_said(_bias: float, number: int) -> str:
    return TEXTS[number - 1]


def _run(
    came: Sequence[Incoming | Exception],
    heard: Callable[[float, int], str] = _as_said,
    *,
    watch: Watched | None = None,
    leans: bool = True,
    bias: float = 0.4,
) -> Learned:
    ears = ScriptedEars(heard, leans=leans, bias=bias)
    warm = WarmUp(Settings(bias=bias), texts=TEXTS, ears=ears)
    endpointer = Endpointer(silence_s=1.0, detector=Loud())
    return warm.run(Script(came), watch or Watched(), endpointer=endpointer)


ALL = range(1, len(TEXTS) + 1)


def test_every_sentence_is_asked_heard_and_judged() -> None:
    """In order, each with its own sound."""
    watch = Watched()
    learned = _run(_all(ALL), watch=watch)
    assert watch.shown == list(TEXTS)
    assert [take.prompt.text for take in learned.takes] == list(TEXTS)
    assert watch.takes == list(learned.takes)
    assert all(take.right for take in learned.takes)
    assert (learned.end, learned.asked) == (End.DONE, len(TEXTS))
    assert (learned.device, learned.ear) == ("a scripted microphone", "built-in")
    assert learned.confusions == learned.missed == ()


def test_the_bias_that_hears_better_is_chosen() -> None:
    """Here a weaker one: the ear in force hears another fault in six sentences."""

    def heard(bias: float, number: int) -> str:
        text = _as_said(bias, number)
        return text if bias < 0.35 or number > 6 else text.replace("rust", "pitting")

    learned = _run(_all(ALL), heard)
    assert learned.tuning is not None
    assert learned.tuning.moved
    assert learned.tuning.bias == 0.3
    assert [trial.right for trial in learned.tuning.trials] == [14, 14, 8, 8]


def test_one_lucky_sentence_does_not_move_it() -> None:
    """The same with a single sentence."""

    def heard(bias: float, number: int) -> str:
        text = _as_said(bias, number)
        return text if bias < 0.35 or number > 1 else text.replace("rust", "pitting")

    learned = _run(_all(ALL), heard)
    assert learned.tuning is not None
    assert learned.tuning.bias == 0.4
    assert not learned.tuning.moved


def test_confusions_and_words_never_right_are_told() -> None:
    """Over all sentences, from what was heard at first."""
    learned = _run(_all(ALL), lambda bias, n: _as_said(bias, n).replace("sill", "seal"))
    (confusion,) = learned.confusions
    assert (confusion.said, confusion.heard, confusion.times) == ("sill", "seal", 2)
    assert confusion.sentences == TEXTS[:2]
    assert [one.word for one in learned.missed] == ["sill"]


def test_an_ear_without_a_bias_is_not_tuned() -> None:
    """What it confuses is told all the same."""
    learned = _run(_all(ALL), lambda b, n: _as_said(b, n).replace("sill", "seal"), leans=False)
    assert learned.tuning is None
    assert learned.confusions


def test_a_key_skips_and_a_word_skips() -> None:
    """Nothing is counted for either, and the next sentence has the next sound."""
    watch = Watched({1: Wish.NEXT})
    numbers = [2, 100, *ALL[3:]]
    learned = _run(_all(numbers), lambda b, n: "Next!" if n == 100 else _as_said(b, n), watch=watch)
    assert [take.prompt.text for take in learned.takes] == [TEXTS[1], *TEXTS[3:]]
    assert all(take.right for take in learned.takes)


def test_silence_moves_on_with_a_note() -> None:
    """After ten seconds; the person need not do anything."""
    watch = Watched()
    came = [*_silence(11.0), *_all(ALL[1:])]
    learned = _run(came, watch=watch)
    assert watch.notes == ["Nothing was heard for 10 s; here is the next one."]
    assert [take.prompt.text for take in learned.takes] == list(TEXTS[1:])


def test_a_source_that_gives_nothing_is_silence_too() -> None:
    """Every sentence is passed, and it ends."""
    watch = Watched()
    learned = _run([], watch=watch)
    assert watch.shown == list(TEXTS)
    assert len(watch.notes) == len(TEXTS)
    assert learned.takes == ()
    assert learned.levels is None


def test_stopping_keeps_what_was_said() -> None:
    """Too few to tune by, which is said."""
    learned = _run(_all(ALL), watch=Watched({5: Wish.STOP}))
    assert learned.end is End.STOPPED
    assert len(learned.takes) == 4
    assert learned.tuning is not None
    assert "too few" in learned.tuning.why


def test_a_microphone_that_vanishes_ends_it_politely() -> None:
    """With what was said so far, tuned when it is enough."""
    watch = Watched()
    came = [*_all(ALL[:13]), Gone("a scripted microphone", "it was unplugged"), *_all(ALL[13:])]
    learned = _run(came, watch=watch)
    assert learned.end is End.MICROPHONE_LOST
    assert len(learned.takes) == 13
    assert watch.notes == ["a scripted microphone gives no sound any more: it was unplugged"]
    assert learned.tuning is not None
    assert len(learned.tuning.trials) == 4


def test_a_microphone_that_gives_zeros_for_a_while_does_not_end_it() -> None:
    """Some headsets do so between words; it is told, and the rest is heard."""
    watch = Watched()
    learned = _run([*_all(ALL[:3]), Gone("headset", MUTED), *_all(ALL[3:])], watch=watch)
    assert (learned.end, len(learned.takes)) == (End.DONE, len(TEXTS))
    assert watch.notes == [f"headset: {MUTED}"]


def test_the_end_of_the_sound_ends_it() -> None:
    """What is open at the end still counts."""
    speech = list(_utterance(2))[:20]
    learned = _run([*_all([1]), *speech, Ended()])
    assert learned.end is End.SOUND_OVER
    assert [take.prompt.text for take in learned.takes] == list(TEXTS[:2])


@pytest.mark.parametrize("fault", [InputFault("It broke off"), MicrophoneFault("It is gone")])
def test_sound_that_breaks_off_loses_nothing(fault: Exception) -> None:
    """The fault is told, and what came before it counts."""
    watch = Watched()
    learned = _run([*_all([1, 2, 3]), fault], watch=watch)
    assert len(learned.takes) == 3
    assert learned.end is End.SOUND_OVER
    assert watch.notes == [str(fault)]


def test_an_ear_that_fails_is_no_end_of_sound() -> None:
    """It goes on to whoever can tell the person."""

    def broken(_bias: float, _number: int) -> str:
        raise EarFault("The model is damaged")

    with pytest.raises(EarFault, match="damaged"):
        _run(_all(ALL), broken)


def test_lost_sound_is_told() -> None:
    """The sentence it fell into still counts."""
    watch = Watched()
    _run([Dropped(0.4, "the machine was busy"), *_all(ALL)], watch=watch)
    assert watch.notes == ["0.4 s of sound were lost: the machine was busy"]


def test_levels_are_told() -> None:
    """How loud, and in how many sentences too loud."""
    came = [s for n in ALL for s in _utterance(n, clipped=n in (3, 4))]
    levels = _run(came).levels
    assert levels is not None
    assert levels.clipped == 2
    assert levels.noise_dbfs is None
    assert -80 < levels.speech_dbfs < -60


def test_hostile_sentences_and_hearing_change_nothing() -> None:
    """Control characters are no words; they are kept as they came and made inert where shown."""
    evil = "\x1b[2J[bold]left sill[/bold], surface rust\x07"
    learned = _run(_all([1]), lambda _bias, _number: evil)
    assert learned.takes[0].heard == evil
    assert all(one.heard.isprintable() for one in learned.confusions)


def test_the_ear_is_let_go(tmp_path: Path) -> None:
    """By whoever made the warm-up."""
    ears = ScriptedEars(_as_said)
    WarmUp(Settings(), texts=TEXTS, ears=ears).close()
    assert ears.closed


def test_no_sentences_are_refused() -> None:
    """Before any model is loaded."""
    with pytest.raises(InputFault, match="no sentences"):
        WarmUp(Settings(), texts=())


def test_rounds_multiply_the_sentences() -> None:
    """Two dozen each."""
    warm = WarmUp(Settings(), rounds=2, ears=ScriptedEars(_as_said))
    assert len(warm.prompts) == 48
