"""The warm-up: a person says sentences of their own map, and the ear gets to know the voice.

Every sentence is heard once as in an inspection. The sound stays in memory, is decoded again with
other biases at the end, and is forgotten: nothing of it is ever on the disk.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.incoming import Source
from voicelog.capture.level import SILENCE_DBFS
from voicelog.config.cache import checked_grammar
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.errors import InputFault, MicrophoneFault
from voicelog.interpret.reader import Reader
from voicelog.runtime.warm_up_ears import Ears, InstalledEars
from voicelog.runtime.warm_up_listening import End, Rounds, Said, Watch
from voicelog.runtime.warm_up_prompts import COUNT, Prompt, choose_prompts, prompts_of
from voicelog.runtime.warm_up_takes import Take
from voicelog.runtime.warm_up_tuning import Tuning, tuned
from voicelog.runtime.warm_up_words import Confusion, Missed, confusions, never_right
from voicelog.tongue import worded

SILENCE_S = 1.0
"""Silence that ends a sentence, at least: read from a screen, a comma takes longer than in talk."""


@dataclass(frozen=True, slots=True)
class Levels:
    """How loud it was; medians over the sentences, in dB below full scale.

    Args:
        speech_dbfs: of the sentences, their short silences included.
        noise_dbfs: of the floor between them; None when none was heard.
        clipped: sentences in which the sound went past what the microphone can give.
    """

    speech_dbfs: float
    noise_dbfs: float | None
    clipped: int


@dataclass(frozen=True, slots=True)
class Learned:
    """What a warm-up showed.

    Args:
        device: the microphone, or what stood in for it.
        ear: which kind it is.
        model: its model.
        end: how it ended.
        asked: sentences there were.
        takes: those that were said, as they were heard at first.
        confusions: what was taken for what.
        missed: words never heard right.
        levels: how loud it was; None when nothing was said.
        tuning: what the bias should be; None for an ear that has none.
    """

    device: str
    ear: str
    model: str
    end: End
    asked: int
    takes: tuple[Take, ...]
    confusions: tuple[Confusion, ...]
    missed: tuple[Missed, ...]
    levels: Levels | None
    tuning: Tuning | None


class WarmUp:
    """A warm-up made ready: grammar, sentences and ear are there.

    Args:
        settings: in force.
        texts: sentences of somebody's own; the grammar's when left out.
        rounds: how many times :data:`COUNT` sentences, no sentence twice.
        ears: what hears; the installed ear when left out.

    Raises:
        GrammarFault: anything is wrong with the grammar; all faults at once.
        InputFault: a sentence says nothing, or there is none.
        EarFault: no ear can be used here.
    """

    def __init__(
        self,
        settings: Settings,
        *,
        texts: Sequence[str] | None = None,
        rounds: int = 1,
        ears: Ears | None = None,
    ) -> None:
        self._settings, self._grammar = settings, checked_grammar(settings)
        vocabulary = self._grammar.vocabulary
        self._reader = Reader(vocabulary, self._grammar.zone_map, speech=settings.speech)
        self.prompts = self._prompts(texts, rounds)
        self._ears = ears or InstalledEars(settings, self._grammar)

    def run(self, source: Source, watch: Watch, *, endpointer: Endpointer | None = None) -> Learned:
        """Ask for every sentence, listen, tune; what was said before an early end counts as well.

        Args:
            source: where the sound comes from; it is left open.
            watch: whoever shows it.
            endpointer: what cuts the sound into utterances; one of the settings when left out.

        Raises:
            EarFault: the ear failed.
        """
        rounds = Rounds(
            source, endpointer or self._endpointer(), self._ears.hear, self._reader, watch,
            skips=_skips(self._grammar),
        )  # fmt: skip
        said: list[Said] = []
        try:
            said.extend(rounds.said(self.prompts))
        except (InputFault, MicrophoneFault) as fault:
            rounds.end = End.SOUND_OVER
            watch.note(str(fault))
        tuning = self._tuning(said, watch) if self._ears.leans else None
        return self._learned(source.device, rounds.end, said, tuning)

    def close(self) -> None:
        """Let go of the ear."""
        self._ears.close()

    def _prompts(self, texts: Sequence[str] | None, rounds: int) -> tuple[Prompt, ...]:
        if texts is None:
            return choose_prompts(self._grammar, self._reader, count=COUNT * rounds)
        if not texts:
            raise InputFault(
                worded("There are no sentences to say"), worded("Write one on each line")
            )
        return prompts_of(texts, self._reader)

    def _endpointer(self) -> Endpointer:
        settings = self._settings
        return Endpointer(
            silence_s=max(SILENCE_S, settings.silence_s),
            preroll_s=settings.preroll_s,
            longest_s=settings.longest_s,
        )

    def _tuning(self, said: Sequence[Said], watch: Watch) -> Tuning:
        pairs = [(one.take, one.clip) for one in said]
        before = self._settings.bias
        return tuned(pairs, self._ears.at, self._reader, before=before, done=watch.tuning)

    def _learned(
        self, device: str, end: End, said: Sequence[Said], tuning: Tuning | None
    ) -> Learned:
        takes = tuple(one.take for one in said)
        return Learned(
            device, self._ears.engine, self._ears.model, end, len(self.prompts), takes,
            confusions(takes), never_right(takes, self._grammar.vocabulary), _levels(said), tuning,
        )  # fmt: skip


def _skips(grammar: Grammar) -> tuple[str, ...]:
    """What can be said to skip a sentence: "next", and what the grammar has for the next item."""
    own = (p.text for p in grammar.vocabulary.phrases if (p.slot, p.value) == ("act", "next"))
    return ("next", *own)


def _levels(said: Sequence[Said]) -> Levels | None:
    if not said:
        return None
    floors = [one.clip.noise_dbfs for one in said if one.clip.noise_dbfs > SILENCE_DBFS]
    return Levels(
        median(one.clip.level_dbfs for one in said),
        median(floors) if floors else None,
        sum(one.clipped for one in said),
    )
