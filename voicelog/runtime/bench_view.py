"""What a log on the bench holds, as it stands now; changes nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.at_bench import with_late
from voicelog.domain.entry import Entry, Finding, Inspection, Replace
from voicelog.domain.fact import Fact
from voicelog.domain.heard import Heard
from voicelog.domain.photo import Photo, photos_of, times_shown
from voicelog.domain.recovery import warning
from voicelog.domain.revision import Alternative, OpenPoint, Revision, Signature
from voicelog.domain.signing import entries_after, signatures
from voicelog.domain.utterance import Utterance
from voicelog.findings.places import place_in_words
from voicelog.findings.softened import softened
from voicelog.review.open_points import open_points
from voicelog.runtime.reviewed import Reviewed

if TYPE_CHECKING:
    from voicelog.runtime.rereading import Rereader


class BenchView:
    """A log read for reviewing.

    Args:
        folder: the log's.
        facts: what it holds.
        settings: with the log's own map, rails and way to take the speaker's words.
        grammar: the log's own.
    """

    def __init__(
        self, folder: Path, facts: Sequence[Fact], settings: Settings, grammar: Grammar
    ) -> None:
        self.folder, self.settings, self.grammar = folder, settings, grammar
        self.rails = settings.rails
        self.subject = str(facts[0].body.get("subject", ""))
        self._log = Reviewed(grammar, self.rails, facts)
        self._made_rereader: Rereader | None = None

    @property
    def facts(self) -> tuple[Fact, ...]:
        """Every line of the log, in order."""
        return self._log.facts

    def inspection(self) -> Inspection:
        """Every entry in order, withdrawn ones included, and the verdict, as all stands now."""
        return self._log.inspection()

    def finding(self, entry: str) -> Finding:
        """An entry as it stands now.

        Raises:
            UsageFault: there is none of that id.
        """
        return self._log.finding(entry)

    def revisions(self, entry: str) -> tuple[Revision, ...]:
        """Every line that touched the entry, oldest first."""
        return self._log.revisions(entry)

    def utterance(self, entry: str) -> Utterance:
        """The utterance that made the entry.

        Raises:
            UsageFault: there is no such entry.
        """
        return self._log.utterance(entry)

    def alternatives(self, entry: str) -> tuple[Alternative, ...]:
        """The entry as other readings of the same sound have it, graded, the likeliest first."""
        others = self._others(entry)
        return tuple(Alternative(other.text, self._as_if(other)) for other in others)

    def _others(self, name: str) -> list[Entry]:
        """The entry as other readings of the same sound have it, as they would be kept."""
        entry, utterance = self._kept(name), self.utterance(name)
        fact = self._log.fact_of(utterance.id)
        body: Mapping[str, Any] = {} if fact is None else fact.body
        others = self._rereader.others(entry, self._log.once_said(name), _by_both(utterance), body)
        return [self._with_late(entry, other) for other in others]

    def _with_late(self, entry: Entry, other: Entry) -> Entry:
        """Another reading of an entry's sentence, with what was said of it later and still stands.

        What the probe did a sentence later holds whatever the sentence before it was.
        """
        said = self._log.said_late(entry.id).items()
        return with_late(other, {n: v for n, v in said if entry.slots.get(n) == v})

    def _kept(self, name: str) -> Entry:
        """An entry as it was kept, before anything is worked out from it.

        Raises:
            UsageFault: there is none.
        """
        state = self._log.states([self.finding(name).entry.id])[name]
        assert state is not None, "an entry that is found has a state"  # noqa: S101
        return state.entry

    def signatures(self) -> tuple[Signature, ...]:
        """Who signed the log, and when."""
        return signatures(self.facts)

    def after_signing(self, entry: str) -> bool:
        """True for an entry that was touched after the newest signature."""
        return entry in entries_after(self.facts)

    def photos(self) -> tuple[Photo, ...]:
        """The pictures that lie in the log.

        Raises:
            LogFault: a line about one cannot be read.
        """
        return photos_of(self.facts)

    def softened(self) -> Mapping[str, Entry]:
        """Entries that were unsafe and on which nobody has decided since, each as it stood then."""
        found = self.inspection().findings
        return softened(self.facts, found, self.grammar.zone_map, self.grammar.rules)

    def open_points(self) -> tuple[OpenPoint, ...]:
        """What is unresolved, the worst first: before all, that a recovered log lacks lines."""
        inspection = self.inspection()
        lacking = warning(self.facts, inspection.findings)
        points = open_points(
            inspection, self.grammar.zone_map, listened=self._log.listened,
            place=lambda slots: place_in_words(slots, self.grammar.zone_map),
            silent=self._log.silent, shown=times_shown(self.photos()),
            softened=self.softened(),
        )  # fmt: skip
        return (OpenPoint("not-recovered", lacking), *points) if lacking else points

    @property
    def _rereader(self) -> Rereader:
        if self._made_rereader is None:
            from voicelog.runtime.rereading import Rereader  # the reader starts slowly

            self._made_rereader = Rereader(self.settings, self.grammar)
        return self._made_rereader

    def _as_if(self, entry: Entry) -> Finding:
        """The entry graded as if it stood like this."""
        return self._log.preview([Replace(entry)])[0]


def _by_both(utterance: Utterance) -> Heard:
    """What was heard, the second ear's best first: it is the least like the reading that was taken."""
    other = utterance.second.heard if utterance.second is not None else None
    if other is None:
        return utterance.heard
    heard = utterance.heard
    return replace(heard, hypotheses=(*other.hypotheses[:1], *heard.hypotheses))
