"""What comes from the microphone, sorted: what is heard, what is missed, what gets in the way."""

from __future__ import annotations

from collections.abc import Callable

from voicelog.capture.incoming import Back, Dropped, Ended, Gone, Incoming, Odd, Sound
from voicelog.capture.loudness import Loudness
from voicelog.capture.meter import Meter
from voicelog.capture.overdriven import Overdriven
from voicelog.capture.talk_over import TalkOver
from voicelog.domain.signal import Signal
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE
from voicelog.runtime import states_aloud
from voicelog.runtime.answering import Answering
from voicelog.runtime.due import Item, Note
from voicelog.runtime.hearing import Hearing
from voicelog.runtime.messages import Level, Message, Noticed, Partial, SoundEnded
from voicelog.tongue import to_word, worded

TAIL_S = 0.15
"""After the pedal went up, sound from before that is still on its way: the device's own delay (0.1 s
are asked for) and a block."""

BEHIND_S = 1.0
"""So far behind the sound, nothing is shown of open utterances: catching up comes first."""


ALOUD_S = 0.3
"""A loss from so much on is told aloud, and a shorter one where somebody was speaking: who has both
hands in a wheel arch reads no screen."""
OVERDRIVEN = to_word(
    "The microphone is overdriven: turn it down, or hold it further away; voicelog doctor --listen"
    " tells how well it can be heard"
)
AGAIN_S = 10.0
"""So soon the next loss is told by the screen alone."""


class SoundIn:
    """Turns what comes in into what is to be taken.

    Args:
        hearing: cuts sound into utterances.
        answering: what answers; the tool is deaf while that speaks.
        hands_free: it listens all the time; else only while the pedal is down.
        publish: tells the screen.
        clock: the source's clock.
    """

    def __init__(
        self,
        hearing: Hearing,
        answering: Answering,
        publish: Callable[[Message], None],
        clock: Callable[[], float],
        *,
        hands_free: bool,
    ) -> None:
        self._hearing, self._answering = hearing, answering
        self._publish, self._clock = publish, clock
        self._meter, self._loudness, self._talk_over = Meter(), Loudness(), TalkOver()
        self._overdriven, self._told_lost_s = Overdriven(), float("-inf")
        self._hands_free = self.listens = hands_free
        self.away = ""
        self.ended = False
        self.private = False
        self._partial = ""
        self._deaf = self._cut_in = self._too_hot = False
        self._up_s: float | None = (
            None  # the pedal went up: sound from before that is still to come
        )
        self._heard_s = clock()

    @property
    def speaking(self) -> bool:
        """Somebody is speaking."""
        return self._hearing.speaking

    @property
    def busy(self) -> bool:
        """Somebody may be speaking: an utterance is open, or sound is still to be looked at."""
        behind = self._clock() - self._heard_s > BEHIND_S and not (self.away or self.ended)
        return self._hearing.is_open or behind

    @property
    def reading(self) -> bool:
        """What was said last is being made sense of, or would be at its end."""
        return self._hearing.reading

    @property
    def too_loud(self) -> bool:
        """The noise is too loud to hear words in."""
        return self._loudness.too_loud

    def pedal(self, *, down: bool) -> None:
        """The pedal goes down (it listens, whatever the tool was saying) or up (that was it)."""
        if down:
            self._answering.hush()
            self.listens = self._cut_in = True
            self._up_s = None
        elif not self._hands_free:
            self._up_s = self._clock() + TAIL_S

    def cut(self) -> list[Item]:
        """Close what is open now."""
        return [*self._hearing.cut()]

    def take(self, incoming: Incoming | None) -> list[Item]:
        """What is to be taken and written after this came in."""
        match incoming:
            case Sound():
                return [*self._released(_begin_s(incoming)), *self._sound(incoming)]
            case Dropped(lost_s, why):
                self._say_lost(lost_s)
                return self._lost(lost_s, why)
            case Odd():
                return self._odd(incoming)
            case Gone(device, why):
                self.away = why
                self._answering.alarm(
                    Signal.MICROPHONE_LOST, states_aloud.microphone_lost(device, why)
                )
                return self.cut()
            case Back(device, away_s):
                self.away = ""
                self._answering.alarm(
                    Signal.MICROPHONE_BACK, states_aloud.microphone_back(device, away_s)
                )
                return self._lost(
                    away_s, worded("the microphone {device} gave nothing", device=device)
                )
            case Ended():
                self.ended = True
                self._publish(SoundEnded())
                return self.cut()
            case None:
                self._heard_s = self._clock()
                return self._released(self._clock() - TAIL_S)

    def look_round(self) -> None:
        """Say once that it is too loud, and once that it no longer is; and what the microphone makes
        of voices, once what was said is answered.
        """
        if self._too_hot:
            self._too_hot = False
            self._publish(Noticed(worded(OVERDRIVEN), serious=True))
            self._answering.alarm(Signal.TOO_LOUD, states_aloud.overdriven())
        was = self._loudness.too_loud
        loud = self._loudness.take(self._hearing.noise_dbfs, self._clock())
        if loud and not was:
            self._answering.alarm(Signal.TOO_LOUD, states_aloud.too_loud())
        elif was and not loud:
            self._answering.alarm(Signal.LISTENING, states_aloud.clear_again())

    def _released(self, now_s: float) -> list[Item]:
        """What was said while the pedal was down, once all of it has come in."""
        if self._up_s is None or now_s < self._up_s:
            return []
        self._up_s, self.listens = None, False
        return self.cut()

    def _lost(self, lost_s: float, why: str) -> list[Item]:
        """Missing sound is told, written down, and never glued over."""
        told = (
            worded("{seconds} s of sound were lost: {why}", seconds=f"{lost_s:.1f}", why=why)
            if lost_s > 0
            else worded("Sound was lost: {why}", why=why)
        )
        self._publish(Noticed(told, serious=True))
        return [*self.cut(), Note("gap", {"lost_s": round(lost_s, 3), "why": why})]

    def _say_lost(self, lost_s: float) -> None:
        """What was lost may have been said."""
        matters = lost_s >= ALOUD_S or self._hearing.is_open
        if matters and self._clock() - self._told_lost_s >= AGAIN_S:
            self._told_lost_s = self._clock()
            self._answering.alarm(Signal.MICROPHONE_BACK, states_aloud.sound_lost(lost_s))

    def _odd(self, odd: Odd) -> list[Item]:
        """Speech that is too fast or too slow for any ear is kept all the same."""
        told = worded(
            "The microphone {device} gives {given} samples a second where it says {said}: choose"
            " another, or another rate in the system's sound settings",
            device=odd.device,
            given=f"{odd.given_hz:,.0f}",
            said=f"{odd.said_hz:,}",
        )
        self._publish(Noticed(told, serious=True))
        self._answering.alarm(Signal.REFUSED, states_aloud.wrong_rate(odd.device))
        return []

    def _sound(self, sound: Sound) -> list[Item]:
        for level in self._meter.feed(sound.pcm, clipped=sound.clipped):
            noise_dbfs = self._hearing.noise_dbfs
            self._publish(Level(level.level_dbfs, noise_dbfs, level.clipped))
        self._heard_s = sound.at_s
        if not self._answering.deafening:
            self._cut_in = False
        if not self._cut_in and self._spoken_over(sound):
            return self._listen_over(sound)
        self._deaf = False
        if self.listens:
            return self._hear(sound)
        self._hearing.hold(sound)
        return []

    def _spoken_over(self, sound: Sound) -> bool:
        """It came in while the tool's own words were in the air, even if it is read only now."""
        return self._answering.deafening or sound.at_s <= self._clock() - self._answering.quiet_s()

    def _listen_over(self, sound: Sound) -> list[Item]:
        """While the tool speaks it hears only a person who is clearly louder than its echo."""
        begun: list[Item] = []
        if not self._deaf:
            self._deaf = True
            self._talk_over.reset()
            begun = self.cut()
        aloud = self.listens and self._answering.aloud
        found = self._talk_over.feed(sound.pcm) if aloud else b""
        if not found:
            return begun
        self._answering.hush()
        self._cut_in = True
        return begun + self._hear(Sound(found, sound.at_s, sound.clipped))

    def _hear(self, sound: Sound) -> list[Item]:
        behind = self._clock() - sound.at_s > BEHIND_S
        ended = self._hearing.take(sound, early=not behind)
        for uttered in ended:
            self._loudness.spoke(uttered.clip.level_dbfs, uttered.clip.noise_dbfs)
            self._too_hot = self._overdriven.ended() or self._too_hot
        if self._hearing.is_open:
            self._overdriven.sound(clipped=sound.clipped)
        if not behind and not self.private:
            self._show_partial()
        return [*ended]

    def _show_partial(self) -> None:
        text = self._hearing.partial()
        if text != self._partial:
            self._partial = text
            self._publish(Partial(text))


def _begin_s(sound: Sound) -> float:
    """When its first sample came in."""
    return sound.at_s - len(sound.pcm) / (BYTES_PER_SAMPLE * SAMPLE_RATE)
