"""Answers: which tone, which sentence, and whether it is said aloud now, later or not at all."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from time import monotonic

from voicelog.announce.announcer import Announcer
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.ask import Ask
from voicelog.domain.entry import Inspection
from voicelog.domain.reading import Act
from voicelog.domain.signal import Signal, Talk
from voicelog.runtime import states_aloud, telling
from voicelog.runtime.actions import resume_phrase
from voicelog.runtime.event import Event
from voicelog.runtime.messages import AnswerAwaited, Message, TalkChanged, Told
from voicelog.tongue import english_of, joined

LAST_WORDS_S = 30.0
"""The longest wait for the tool's last words."""


class Answering:
    """Answers a person by sound and tells the screen what was answered.

    A tone goes out at once. Words wait while somebody speaks: a person is never talked over, and
    what was to be said gives way to what there is to say afterwards.

    Args:
        announcer: plays tones and speaks.
        settings: how much is said, and how long a question stays open.
        grammar: titles of the zones, and the words that resume.
        publish: tells the screen.
    """

    def __init__(
        self,
        announcer: Announcer,
        settings: Settings,
        grammar: Grammar,
        publish: Callable[[Message], None],
    ) -> None:
        self._announcer, self._publish = announcer, publish
        self.speak_of(grammar)
        self._talk, self._ask_s = settings.talk, settings.ask_s
        self._waiting: str = ""
        self._last: str = ""
        self._asking = self._weighty = False

    def speak_of(self, grammar: Grammar) -> None:
        """Take another grammar's titles of places, and its words that resume: another map was chosen."""
        self._zone_map, self._resume = grammar.zone_map, resume_phrase(grammar.vocabulary)

    @property
    def deafening(self) -> bool:
        """The tool's own words are in the air, and somebody may hear them."""
        return self._announcer.audible and self._announcer.talking

    @property
    def aloud(self) -> bool:
        """They can be heard just now, not only on their way."""
        return self._announcer.aloud

    def quiet_s(self) -> float:
        """For how long the tool has said nothing; endless where it never did, or nobody heard."""
        return monotonic() - self._announcer.talked_until_s if self._announcer.audible else math.inf

    def look_again(self) -> None:
        """Look for a speaker that was lost, every so often."""
        self._announcer.look_again()

    def tone(self, event: Event) -> float:
        """The tone that an utterance deserves; gives seconds from now until it is heard."""
        signal = telling.signal_of(event)
        return 0.0 if signal is None else self._play(signal)

    def words(self, event: Event, inspection: Inspection, question: Ask | None = None) -> None:
        """What there is to say to an utterance, after its tone.

        Args:
            event: what it did.
            inspection: as it stands now.
            question: that is open now; it is asked once more with "say again".
        """
        text = telling.spoken(event, self._talk, self._zone_map, inspection, self._resume)
        again = event.turn.act is Act.SAY_AGAIN and not event.turn.changes
        asked = event.turn.asked or (question if again else None)
        signal, text = telling.signal_of(event), self._last if again else text
        if asked is None:
            self._tell(signal, text)
        else:
            self._tell(signal, text, question=True, options=telling.options_of(asked))

    def alarm(self, signal: Signal, text: str) -> float:
        """Something that a person has to know, whatever is being said; gives the time to its tone."""
        heard_s = self._play(signal)
        self._tell(signal, text, after=True)
        return heard_s

    def ask(self, text: str) -> None:
        """A question of the tool that is not about an utterance."""
        self._play(Signal.QUESTION)
        self._tell(Signal.QUESTION, text, question=True)

    def propose(self, text: str) -> None:
        """What a second ear heard differently; it waits for *affirm*, and lapses without."""
        self._play(Signal.DOUBTFUL)
        self._tell(Signal.DOUBTFUL, text, question=True)

    def cautions(self, cautions: Sequence[str]) -> None:
        """What has to be known before anything is touched; it waits for *affirm*."""
        self._tell(Signal.QUESTION, states_aloud.cautions(cautions), question=True)

    def go_on(self, *, quiet: bool) -> bool:
        """Say what waits once nobody speaks; True when a question has just been said to its end."""
        if self._waiting and quiet:
            text, self._waiting, self._weighty = self._waiting, "", False
            self._announcer.say(english_of(text), urgent=True)  # the voices speak English
        if not self._asking or self._waiting or self._announcer.talking:
            return False
        self._asking = False
        self._publish(AnswerAwaited(self._ask_s))
        return True

    def hush(self) -> None:
        """Fall silent: a person has something to say."""
        self._waiting, self._weighty = "", False
        self._announcer.hush()

    def change_talk(self, steps: int) -> None:
        """Say more (1) or less (-1) from now on."""
        levels = list(Talk)
        at = min(max(levels.index(self._talk) + steps, 0), len(levels) - 1)
        self._talk = levels[at]
        self._publish(TalkChanged(self._talk))

    def wait(self) -> None:
        """Let the last words be heard."""
        self.go_on(quiet=True)
        self._announcer.wait(LAST_WORDS_S)

    def _play(self, signal: Signal) -> float:
        return max(0.0, self._announcer.signal(signal) - monotonic())

    def _tell(
        self,
        signal: Signal | None,
        text: str,
        *,
        question: bool = False,
        options: tuple[str, ...] = (),
        after: bool = False,
    ) -> None:
        """What waits gives way, but not to nothing, to an alarm, or where it is about danger."""
        if text or question:
            keeps = self._waiting if after or self._weighty else ""
            self._waiting = joined(" ", [part for part in (keeps, text) if part])
            self._last = text or self._last
            self._asking = question or (after and self._asking)
            self._weighty = signal is Signal.UNSAFE or (bool(keeps) and self._weighty)
        for_s = self._ask_s if question else 0.0
        self._publish(Told(signal, text, question, for_s, options))
