"""What was said in a log, utterance after utterance, as cues over its sound and notes between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from voicelog.domain.entry import Finding, Kind, entry_id
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.inert import inert
from voicelog.domain.local_time import day_in, zone_of
from voicelog.domain.reading import Act
from voicelog.domain.recovery import lost_sound
from voicelog.domain.utterance import KeptClip, Utterance
from voicelog.export.vtt import Cue, Note
from voicelog.findings.places import place_in_words
from voicelog.findings.wording import grade_in_words, spelt_in_words, what_in_words
from voicelog.journal.joined import Part
from voicelog.runtime.logs import Opened
from voicelog.runtime.reviewed import utterance_of
from voicelog.tongue import english_of

UNNAMED = "Inspector"
"""The voice of whoever inspected, where the log does not name them."""


class Spoken:
    """The utterances of a log, said then or at the bench, in the order in which they were kept.

    Args:
        opened: the log.
        by: who inspected.
    """

    def __init__(self, opened: Opened, by: str = "") -> None:
        self._facts, self._map = opened.log.facts, opened.grammar.zone_map
        self._by = by or UNNAMED
        self._findings = {found.entry.id: found for found in opened.inspection.findings}
        zone = zone_of(self._facts[0].body)
        erased = {_about(f): day_in(f.at, zone) for f in self._facts if f.type == "clip-erased"}
        self._said: Mapping[int, Utterance] = {
            fact.seq: utterance_of(fact, _about(fact), erased=_about(fact) in erased)
            for fact in self._facts
            if "heard" in fact.body
        }
        self._lost = {
            said.id: lost_sound(fact, erased.get(said.id, ""))
            for fact in self._facts
            if (said := self._said.get(fact.seq)) is not None
        }

    def clips(self) -> tuple[tuple[str, KeptClip], ...]:
        """All sound that was kept: the utterance's id and its clip."""
        return tuple((said.id, said.clip) for said in self._said.values() if said.clip is not None)

    def then(self) -> tuple[Part, ...]:
        """Where the clips of the inspection itself lie on its own clock, unjoined.

        That clock begins with the inspection; for recordings given to ``voicelog hear`` it is the
        place in them, one after another. What was said at the bench lies on no such clock.
        """
        return tuple(
            Part.at(self._said[fact.seq].id, clip.start_s, clip.duration_s)
            for fact in self._facts
            if fact.type == "utterance" and (clip := self._said[fact.seq].clip) is not None
        )

    def blocks(self, parts: Sequence[Part], about: Sequence[str]) -> Iterator[Cue | Note]:
        """Cues and notes.

        Args:
            parts: where each clip lies in the sound that belongs to them.
            about: what goes in front, as sentences.
        """
        yield Note(tuple(about))
        lies = {part.name: part for part in parts}
        for fact in self._facts:
            if fact.seq in self._said:
                yield from self._uttered(fact, self._said[fact.seq], lies)
            elif happened := _happened(fact):
                yield Note((happened,))

    def _uttered(
        self, fact: Fact, said: Utterance, lies: Mapping[str, Part]
    ) -> Iterator[Cue | Note]:
        part, made, by = lies.get(said.id), self._made(fact), str(fact.body.get("by") or self._by)
        text = said.heard.text or said.reading or "(no words were made out)"
        if part is not None and part.samples:
            yield Cue(said.id, part.start_s, part.duration_s, by, text, made)
        else:
            why = (
                english_of(part.problem)
                if part is not None and part.problem
                else self._silent(said)
            )
            yield Note((f"{said.id}, {why}: {text}", *made))
        if Act.STAND_BY in _acts(fact):
            yield Note(("Stand-by: from here neither sound nor words were kept, until go ahead.",))

    def _silent(self, said: Utterance) -> str:
        """Why there is no sound of it."""
        if said.typed:
            return "typed"
        if self._lost[said.id]:
            return self._lost[said.id]
        return "said at the bench" if said.clip is not None else "no sound was kept"

    def _made(self, fact: Fact) -> tuple[str, ...]:
        """The entries it made or changed, as they stand now."""
        names = dict.fromkeys(map(entry_id, changes_of(fact)))
        found = (self._findings[name] for name in names if name in self._findings)
        return tuple(filter(None, map(self._told, found)))

    def _told(self, found: Finding) -> str:
        """An entry in a line, for example ``left kick up: hole, probe through (repair)``."""
        if found.entry.kind is Kind.REMARK:
            return english_of(spelt_in_words(found.entry))
        what, grade = english_of(what_in_words(found)), english_of(grade_in_words(found))
        place = inert(english_of(place_in_words(found.entry.slots, self._map)))
        ends = [f"({grade})" if grade else "", "doubtful" if found.entry.doubtful else ""]
        ends.append("withdrawn since" if found.withdrawn else "")
        return ", ".join(filter(None, (f"{place}: {what} {ends[0]}".strip(), *ends[1:])))


def _about(fact: Fact) -> str:
    return str(fact.body.get("utterance", ""))


def _acts(fact: Fact) -> Sequence[object]:
    reading = fact.body.get("reading")
    acts = reading.get("acts") if isinstance(reading, Mapping) else None
    return acts if isinstance(acts, list) else ()


def _happened(fact: Fact) -> str:
    """What a line that is no utterance means for the sound; empty where nothing."""
    match fact.type:
        case "gap":
            lost = fact.body.get("lost_s")
            length = f"{lost:g} s of sound" if isinstance(lost, int | float) and lost else "Sound"
            return f"{length} lost here: {fact.body.get('why', 'nobody knows why')}"
        case "stopped":
            return "The program was stopped here."
        case "resumed":
            return "The inspection was resumed here."
    return ""
