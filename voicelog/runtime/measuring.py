"""Recordings heard as ``voicelog hear`` hears them, and judged by the yardstick."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.source import read_audio
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip
from voicelog.errors import EarFault, InputFault
from voicelog.interpret.reader import Reader
from voicelog.recognise.port import ANYTHING, Ear, Expected, hear_clip
from voicelog.runtime.expecting import expected
from voicelog.runtime.inspected import Inspected
from voicelog.runtime.recordings import Recording, Recordings
from voicelog.runtime.second_ear import SecondEar
from voicelog.runtime.understanding import Second
from voicelog.tongue import worded
from voicelog.yardstick.scored import Result, Scored
from voicelog.yardstick.sheet import Item
from voicelog.yardstick.strict import Slots, judge, tally
from voicelog.yardstick.words import count, plain

TYPED = "typed"
"""The system that is given the sheet's words: what the reading could reach if nothing were misheard."""
WITH_SECOND = "{} + second"

APART_S = 3.0
"""Between what was typed before talk and the talk, and between typed utterances."""


@dataclass(frozen=True)
class Measured:
    """What came of a folder.

    Args:
        systems: names in the order of the tables, the typed text last.
        scored: recordings that were heard.
        left_out: recordings that could not be read to their end, with the reason.
        silent: recordings in which no speech was found; they count as heard wrong.
        told: what else a person should know.
    """

    systems: Sequence[str]
    scored: Sequence[Scored]
    left_out: Mapping[Path, str]
    silent: Sequence[Path]
    told: Sequence[str] = field(default=())


class Measuring:
    """Hears and judges.

    Args:
        settings: in force.
        grammar: in force.
        ear: that hears everything.
        second: that is asked where it can change something; None where there is none.
    """

    def __init__(
        self, settings: Settings, grammar: Grammar, ear: Ear, second: SecondEar | None = None
    ) -> None:
        self._settings, self._grammar, self._ear, self._second = settings, grammar, ear, second
        self._reader = Reader(grammar.vocabulary, grammar.zone_map, speech=settings.speech)
        both = (WITH_SECOND.format(ear.engine),) if second is not None else ()
        self.systems = (ear.engine, *both, TYPED)
        self._told: list[str] = []
        self._before: Item | None = None

    def measure(
        self, recordings: Recordings, progress: Callable[[int, int], None] = lambda _d, _t: None
    ) -> Measured:
        """Every recording of a folder, one after another.

        Args:
            recordings: of it.
            progress: told how many are done, and how many there are.

        Raises:
            EarFault: the first ear cannot go on.
        """
        self._before = recordings.sheet.before
        scored, left_out, silent = list[Scored](), dict[Path, str](), list[Path]()
        for number, one in enumerate(recordings.found):
            progress(number, len(recordings.found))
            try:
                scored.append(self._one(one))
            except InputFault as fault:
                left_out[one.path] = fault.message.replace(str(one.path), "it")
                continue
            if not scored[-1].clips:
                silent.append(one.path)
        return Measured(self.systems, scored, left_out, silent, tuple(self._told))

    def _one(self, recording: Recording) -> Scored:
        item, sound = recording.take.item, _Sound(recording.path, self._settings)
        made = {name: self._begun(item) for name in self.systems}
        self._ear.expect(Expected(placed=True) if item.is_talk else ANYTHING)
        heard, asked = list[str](), 0
        for clip in sound.clips():
            text, was_asked = self._hear(clip, list(made.values())[:-1])
            heard.append(text)
            asked += was_asked
        for number, said in enumerate(item.say, 1):
            made[TYPED].take(Heard.typed(said), APART_S * number)
        results = {name: _judged(self._wanted(item), one) for name, one in made.items()}
        text = " ".join(heard)
        wrong = count(plain(item.text), plain(text))
        return Scored(recording.take, sound.seconds, len(heard), text, wrong, asked, results)

    def _hear(self, clip: Clip, made: Sequence[Inspected]) -> tuple[str, bool]:
        """One utterance, by the first ear alone and with the second one; whether that was asked."""
        heard, at_s = hear_clip(self._ear, clip), APART_S + max(0.0, clip.speech_end_s)
        alone, *both = made
        turn = alone.take(heard, at_s).turn
        self._ear.expect(expected(self._grammar.vocabulary, turn, None))
        opinions = [one.take(heard, at_s, self._asking(clip)).opinion for one in both]
        return heard.text, any(opinions)

    def _asking(self, clip: Clip) -> Second | None:
        second = self._second
        if second is None:
            return None

        def ask() -> tuple[Heard | None, float]:
            try:
                return second.hear(clip), 0.0
            except EarFault as fault:
                self._second = None
                self._told.append(
                    worded(
                        "{fault}: from there on its column is the first ear's", fault=fault.message
                    )
                )
                return None, 0.0

        return ask

    def _begun(self, item: Item) -> Inspected:
        """An inspection; before talk, something was found that talk could spoil."""
        inspected = Inspected(self._settings, self._grammar, self._reader)
        for said in self._before.say if item.is_talk and self._before else ():
            inspected.take(Heard.typed(said), 0.0)
        return inspected

    def _wanted(self, item: Item) -> Sequence[Slots]:
        return self._before.want if item.is_talk and self._before else item.want


def _judged(want: Sequence[Slots], made: Inspected) -> Result:
    answer = made.answer
    return Result(tally(judge(want, answer)), answer)


class _Sound:
    """A recording cut into utterances, its length counted on the way."""

    def __init__(self, path: Path, settings: Settings) -> None:
        self._path, self._samples = path, 0
        self._endpointer = Endpointer(
            silence_s=settings.silence_s, preroll_s=settings.preroll_s, longest_s=settings.longest_s
        )

    def clips(self) -> Iterator[Clip]:
        """Its utterances.

        Raises:
            InputFault: it cannot be read to its end.
        """
        for block in read_audio(self._path):
            self._samples += len(block) // BYTES_PER_SAMPLE
            yield from self._endpointer.feed(block)
        yield from self._endpointer.finish()

    @property
    def seconds(self) -> float:
        """Length so far."""
        return self._samples / SAMPLE_RATE
