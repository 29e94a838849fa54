"""Listening again: a log's clips heard by another ear, or its words read with another vocabulary.

It proposes and applies nothing: the log is read without a lock and never written.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.fact import Fact
from voicelog.domain.heard import Heard
from voicelog.domain.opinion import SECOND_OPINION
from voicelog.domain.reading import Reading
from voicelog.domain.utterance import KeptClip, Utterance
from voicelog.domain.zone import ZoneMap
from voicelog.errors import InputFault
from voicelog.journal.clips import read_clip
from voicelog.recognise.port import Ear, hear_clip
from voicelog.runtime.checked_log import checked_log
from voicelog.runtime.going_on import as_then
from voicelog.runtime.proposals import Proposal, proposed
from voicelog.runtime.replay import Replay, steering, was_asked
from voicelog.runtime.reviewed import utterance_of
from voicelog.runtime.standing import Standing
from voicelog.runtime.words_now import words_now, words_then

OpenEar = Callable[[Grammar], Ear]
"""Opens the ear for the words and places of a grammar."""

Progress = Callable[[int, int], None]
"""Called with the utterances gone through and how many there are."""


@dataclass(slots=True)
class Relisten:
    """What listening again gave.

    Args:
        zone_map: the log's places.
        subject: what was inspected.
        utterances: how many the log holds.
        looked_at: how many of them were heard or read anew.
        proposals: in the order in which they were said, those that a person has settled last.
        silent: utterances without sound: typed, or kept without their clip.
        broken: utterances whose clip is missing or not what was kept, each with why.
        unheard: utterances in which the other ear heard nothing; the words kept were used.
        steering: utterances that would have stopped or started the tool differently; the words
            kept were used.
        remark: on the vocabulary; may be empty.
    """

    zone_map: ZoneMap
    subject: str = ""
    utterances: int = 0
    looked_at: int = 0
    proposals: tuple[Proposal, ...] = ()
    silent: list[str] = field(default_factory=list)
    broken: dict[str, str] = field(default_factory=dict)
    unheard: list[str] = field(default_factory=list)
    steering: list[str] = field(default_factory=list)
    remark: str = ""


def relisten(
    folder: Path,
    settings: Settings,
    *,
    ear: OpenEar | None = None,
    entries: Collection[str] = (),
    doubtful_only: bool = False,
    joint: bool = True,
    progress: Progress = lambda _done, _total: None,
) -> Relisten:
    """Hear a log again and say what would be different.

    Args:
        folder: the log's.
        settings: in force now; what the log says of vehicle and speaker holds over them.
        ear: opens what hears the clips, for the vocabulary in force now; None reads the words that
            were kept once more, with that vocabulary.
        entries: hear only what these were said in; all when empty.
        doubtful_only: hear only what doubtful entries were said in.
        joint: read what the other ear hears beside what was kept, instead of alone.
        progress: told after each utterance.

    Raises:
        InputFault: there is no log.
        LogFault: it is damaged or newer.
        UsageFault: there is no entry of that id.
        EarFault: the ear cannot be opened.
        GrammarFault: the vocabulary in force cannot be used.
    """
    facts = checked_log(folder).facts
    then = as_then(settings, facts[0].body)
    own = words_then(folder, facts[0], then)
    now, remark = words_now(folder, facts[0], then, own)
    standing = Standing(own, then.rails, facts)
    chosen = standing.said_in(entries, doubtful_only=doubtful_only)
    ask_s = settings.ask_s if was_asked(facts) else None
    told = Relisten(own.zone_map, str(facts[0].body.get("subject", "")), remark=remark)
    before, after = Replay(then, own, ask_s), Replay(then, now, ask_s)
    opened = None if ear is None else ear(now)
    try:
        again = _Again(folder, before, after, opened, joint, told)
        again.play(facts, chosen, progress)
    finally:
        if opened is not None:
            opened.close()
    told.proposals = _sorted(proposed(before, after, standing, again.texts))
    return told


def _sorted(proposals: Iterator[Proposal]) -> tuple[Proposal, ...]:
    return tuple(sorted(proposals, key=lambda proposal: proposal.settled))


@dataclass(slots=True)
class _Again:
    """One run over a log: both replays side by side."""

    folder: Path
    before: Replay
    after: Replay
    ear: Ear | None
    joint: bool
    told: Relisten
    texts: dict[str, tuple[str, str]] = field(default_factory=dict)

    def play(
        self, facts: Sequence[Fact], chosen: Callable[[str], bool], progress: Progress
    ) -> None:
        """Everything that was said, in order."""
        erased = {str(f.body.get("utterance")) for f in facts if f.type == "clip-erased"}
        self.told.utterances = sum(fact.type == "utterance" for fact in facts)
        done = 0
        for fact in facts:
            if fact.type == "resumed":
                self.before.resume()
                self.after.resume()
            elif fact.type == SECOND_OPINION:
                self.before.opine(fact)
                self.after.opine(fact)
            elif fact.type == "utterance":
                name = str(fact.body.get("utterance"))
                said = utterance_of(fact, name, erased=name in erased)
                self._say(said, again=chosen(name))
                done += 1
                progress(done, self.told.utterances)

    def _say(self, said: Utterance, *, again: bool) -> None:
        reading = self.before.read_of(said)
        other = self._other(said, reading) if again else reading
        self.before.take(said, reading)
        self.after.take(said, other)
        self.texts[said.id] = (said.heard.text or reading.text, other.text)

    def _other(self, said: Utterance, reading: Reading) -> Reading:
        """What it is now; what was read before where the tool itself would be steered otherwise."""
        self.told.looked_at += 1
        other = self.after.read(*self._hear(said))
        if steering(other) == steering(reading):
            return other
        self.told.steering.append(said.id)
        return reading

    def _hear(self, said: Utterance) -> tuple[Heard, ...]:
        """What was heard, by each ear that counts."""
        if self.ear is None:
            return (said.heard,)
        if said.clip is None:
            self.told.silent.append(said.id)
            return (said.heard,)
        heard = self._by_ear(self.ear, said, said.clip)
        if heard is None:
            return (said.heard,)
        return (said.heard, heard) if self.joint else (heard,)

    def _by_ear(self, ear: Ear, said: Utterance, kept: KeptClip) -> Heard | None:
        """What the other ear makes of the clip; None where that is nothing."""
        try:
            clip = read_clip(self.folder, kept)
        except InputFault as fault:
            self.told.broken[said.id] = fault.message
            return None
        heard = hear_clip(ear, clip)
        if heard.hypotheses:
            return heard
        self.told.unheard.append(said.id)
        return None
