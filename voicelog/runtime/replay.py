"""A log's utterances said again, in their order and at their times, with other words or another ear.

Nothing is written. What comes out is what the log would hold if this had been heard.
"""

from __future__ import annotations

from collections.abc import Iterable

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.ask import AskPolicy
from voicelog.dialogue.dialogue import Dialogue
from voicelog.domain.entry import Add, Change, Entry, Kind, Replace, entry_id
from voicelog.domain.fact import Fact, changes_of, proposed_in
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Reading
from voicelog.domain.utterance import Utterance
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader
from voicelog.runtime.both_ears import Before, proposal_of
from voicelog.runtime.dangers import Dangers, unsoftened
from voicelog.runtime.second_opinion import joint_reading

_STEERING = frozenset((Act.STAND_BY, Act.GO_AHEAD, Act.FINISH))


class Replay:
    """Reader, dialogue and ledger of one way to hear a log.

    Args:
        settings: with what the log says of the vehicle and the speaker.
        grammar: words, map and rules to read with.
        ask_s: seconds in which a question could be answered; None where nothing was asked.
    """

    def __init__(self, settings: Settings, grammar: Grammar, ask_s: float | None) -> None:
        self._settings, self._grammar = settings, grammar
        self._asks = AskPolicy(ask_s) if ask_s is not None else None
        self._reader = Reader(grammar.vocabulary, grammar.zone_map, speech=settings.speech)
        self._ledger = Ledger(grammar.zone_map, grammar.rules, settings.rails)
        self._dangers = Dangers()
        self._made: list[tuple[Change, float]] = []
        self._dialogue = self._opened()

    def read(self, *heard: Heard) -> Reading:
        """The reading that explains best what each ear heard of one utterance."""
        return self._reader.read(*heard)

    def take(self, said: Utterance, reading: Reading) -> None:
        """What the reading does at the moment at which the utterance was said."""
        began_s, at_s = times_s(said)
        turn = self._dialogue.take(
            reading, utterance=said.id, at=said.at, at_s=at_s, began_s=began_s, unsafe=self._dangers
        )
        self._dangers.note(self._ledger.apply(turn.changes))
        self._made += [(change, at_s) for change in turn.changes]

    def read_of(self, said: Utterance) -> Reading:
        """What was understood at the time: by both ears where a second one was asked first."""
        reading = self.read(said.heard)
        if said.second is None or said.second.heard is None:
            return reading
        began_s, at_s = times_s(said)
        before = Before(self._dialogue, said.id, said.at, at_s, began_s, self._dangers)
        joint = joint_reading(self._reader, reading, said.heard, said.second.heard)
        first, both = before.play(reading), before.play(joint)
        return unsoftened(first, both, self._ledger, self._dangers)

    def opine(self, fact: Fact) -> None:
        """What a second ear said later, where the entries are what they were then."""
        changes = tuple(change for change in changes_of(fact) if self._fits(change))
        self._dangers.note(self._ledger.apply(changes))
        self._made += [(change, fact.offset_s) for change in changes]
        self._dialogue.note(changes, fact.offset_s)
        proposed = proposed_in(fact)
        known = all(isinstance(c, Add) or entry_id(c) in self._ledger for c in proposed)
        if proposed and known:
            self._dialogue.offer(proposal_of(proposed), fact.offset_s)

    def _fits(self, change: Change) -> bool:
        state = self._ledger.state(entry_id(change))
        if state is None or state.withdrawn:
            return False
        return not isinstance(change, Replace) or state.entry.slots == change.entry.slots

    def resume(self) -> None:
        """The program was started anew: entries are known, the place has to be named again."""
        self._dialogue = self._opened()
        self._dialogue.resume(self._made)

    def entry(self, name: str) -> Entry | None:
        """The entry as it stands, None where it was not made, does not hold, or is only a remark."""
        state = self._ledger.state(name)
        if state is None or state.withdrawn:
            return None
        return state.entry if counts(state.entry) else None

    def names(self) -> tuple[str, ...]:
        """The ids of the entries made so far, in order."""
        return tuple(dict.fromkeys(entry_id(change) for change, _ in self._made))

    def _opened(self) -> Dialogue:
        return Dialogue(
            self._grammar.zone_map, rails=self._settings.rails, speech=self._settings.speech,
            asks=self._asks,
        )  # fmt: skip


def counts(entry: Entry) -> bool:
    """True for an entry that says something of the metal; a remark does only as a fault without
    a place.
    """
    return entry.kind is not Kind.REMARK or entry.unplaced


def times_s(said: Utterance) -> tuple[float, float]:
    """When an utterance began and ended, in seconds of the inspection; typed ones take no time."""
    if said.clip is None:
        return said.offset_s, said.offset_s
    return said.clip.start_s, said.clip.start_s + said.clip.duration_s


def steering(reading: Reading) -> frozenset[Act]:
    """What of it steers the tool itself. The log shows that this was heard right then: what came
    after "stand by" is not in it, and what came after anything else is.
    """
    return _STEERING & {statement.act for statement in reading.statements}


def was_asked(facts: Iterable[Fact]) -> bool:
    """True for a log of somebody who could answer: the cautions were affirmed at its beginning."""
    return any(fact.type == "cautions" for fact in facts)
