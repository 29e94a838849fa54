"""What is answered to an utterance: the tone, and the words at each level of talkativeness."""

from __future__ import annotations

from collections.abc import Iterator

from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.dialogue import Turn
from voicelog.domain.entry import Add, Amend, Change, Finding, Inspection, Kind, Replace, entry_id
from voicelog.domain.grade import Grade
from voicelog.domain.reading import Act
from voicelog.domain.signal import Signal, Talk
from voicelog.domain.zone import ZoneMap
from voicelog.findings.grading import worst_said
from voicelog.runtime.event import Event
from voicelog.runtime.questions_aloud import finished, options_of, question, still_open
from voicelog.runtime.read_back import (
    changed,
    is_renamed,
    place,
    read_back,
    severity,
    some,
    withdrawn,
    zone_read_back,
)
from voicelog.runtime.states_aloud import (
    cautions,
    clear_again,
    closed,
    disk_refuses,
    disk_takes_again,
    lapsed,
    listening,
    microphone_back,
    microphone_lost,
    standing_by,
    too_loud,
)
from voicelog.runtime.unseen_words import open_aloud
from voicelog.tongue import joined, reworded, worded

__all__ = [
    "cautions", "changed", "clear_again", "closed", "disk_refuses", "disk_takes_again", "finished",
    "lapsed", "listening", "microphone_back", "microphone_lost", "options_of", "place", "question",
    "read_back",
    "sentences", "signal_of", "spoken", "standing_by", "still_open", "too_loud", "withdrawn",
    "zone_read_back",
]  # fmt: skip

_MOST = 3
"""Entries of one utterance that are read back; the others are counted."""
_TELLING = ("correction", "probe", "place")
"""Amendments after which a finding's cautions are worth saying again."""


_WORDS_ALONE = (Act.SAY_AGAIN, Act.READ_BACK, Act.WHAT_IS_OPEN)
"""What is answered in words, without a tone."""


def signal_of(event: Event) -> Signal | None:
    """The tone that an utterance deserves: what a person must know first.

    Unsafe before everything that was only kept; a question before a doubt, since it waits. None
    where nothing is to sound: in stand-by, where the ear found no word in a noise, where the answer
    is words alone ("say again"), and at the end, which sounds only once it is on disk.
    """
    turn = event.turn
    wordless = not event.heard.text.strip() or turn.act in _WORDS_ALONE
    if not turn.keep or turn.finished or (wordless and not turn.changes):
        return None
    live = [finding for finding in event.findings if not finding.withdrawn]
    tones = (
        (Signal.UNSAFE, any(worst_said(finding) is Grade.UNSAFE for finding in live)),
        (Signal.STANDING_BY, turn.standing_by),
        (Signal.QUESTION, turn.asked is not None),
        (Signal.REFUSED, bool(turn.refused)),
        (Signal.DOUBTFUL, any(finding.entry.doubtful for finding in live)),
        (Signal.FINDING, any(map(_is_new, turn.changes))),
        (Signal.CHANGED, any(not isinstance(change, Add) for change in turn.changes)),
        (Signal.LISTENING, turn.act is Act.GO_AHEAD or _goes_on(turn.closed, turn.answered)),
    )
    return next((signal for signal, holds in tones if holds), Signal.REMARK)


def spoken(
    event: Event, talk: Talk, zone_map: ZoneMap, inspection: Inspection, resume: str = ""
) -> str:
    """What is said aloud after an utterance; empty where its tone is enough.

    - at every level: questions, refusals, what was taken back or is called something else now,
      what became of an answer, and what was asked for (the findings of the zone, what is open);
    - ``findings``: entries are read back, and standing by is told;
    - ``everything``: remarks, places and the cautions of findings as well.

    "Say again" is not answered here: whoever speaks knows what was said last.

    Args:
        event: what the utterance did.
        talk: how much is said.
        zone_map: titles of the zones.
        inspection: as it stands now.
        resume: the words that end standing by.
    """
    turn = event.turn
    if not turn.keep:
        return ""
    told = [*_entries(event, talk, zone_map), _ending(turn), turn.refused]
    if turn.act is Act.READ_BACK:
        told.append(zone_read_back(inspection, turn.place, zone_map))
    if turn.act is Act.WHAT_IS_OPEN:
        told.append(open_aloud(inspection.gaps, zone_map))
    if turn.standing_by and talk is not Talk.TONES:
        told.append(standing_by(resume))
    if turn.act is Act.GO_AHEAD and talk is not Talk.TONES:
        told.append(listening())
    if talk is Talk.EVERYTHING:
        told += _more(event, zone_map)
    if turn.asked is not None:
        about = _finding(turn.asked.about, event, inspection)
        told.append(question(turn.asked, about, zone_map, inspection))
    return sentences(*told)


def _finding(name: str, event: Event, inspection: Inspection) -> Finding | None:
    """An entry that holds; the utterance mostly touched it, else it is looked for among all."""
    there = next((f for f in event.findings if _holds(f, name)), None)
    if there is not None or not name:
        return there
    return next((f for f in reversed(inspection.findings) if _holds(f, name)), None)


def _holds(finding: Finding, name: str) -> bool:
    return finding.entry.id == name and not finding.withdrawn


def sentences(*parts: str) -> str:
    """Parts that say something, each a sentence of its own."""
    return joined(" ", [reworded(part, _sentence) for part in parts if part.strip()])


def _sentence(told: str) -> str:
    told = told.strip().rstrip(".")
    return told if told.endswith(("?", "!")) else f"{told}."


def _ending(turn: Turn) -> str:
    """What became of a question; whoever went on instead of answering knows, but for *unsafe*."""
    lowering = turn.closed is not None and turn.closed.what is What.LOWER
    if turn.answered == "lapsed" and not lowering:
        return ""
    return closed(turn.closed, turn.answered)


def _entries(event: Event, talk: Talk, zone_map: ZoneMap) -> Iterator[str]:
    """The entries that were touched, the worst first, so that it is never among those counted.

    Not the one that is asked about, whose question names it.
    """
    gone = [finding for finding in event.findings if finding.withdrawn]
    yield from (_taken_back(finding, event, zone_map) for finding in gone)
    asked = event.turn.asked.about if event.turn.asked is not None else ""
    live = [f for f in event.findings if not f.withdrawn and f.entry.id != asked]
    live = [finding for finding in live if _is_worth_words(finding)]
    if talk is Talk.TONES:
        live = [finding for finding in live if _is_put_right(finding, event)]
    live.sort(key=severity, reverse=True)
    if live:
        yield some((_told(finding, event, zone_map) for finding in live), len(live), _MOST)


def _taken_back(finding: Finding, event: Event, zone_map: ZoneMap) -> str:
    """After *negative* the person still has to say what it is."""
    told = withdrawn(finding, zone_map)
    if event.turn.answered == "negative":
        return worded("{withdrawn}; say it again", withdrawn=told)
    return told


def _told(finding: Finding, event: Event, zone_map: ZoneMap) -> str:
    corrected = finding.entry.id in _amended(event, "correction")
    put_right = corrected or _is_put_right(finding, event)
    return changed(finding, zone_map) if put_right else read_back(finding, zone_map)


def _is_put_right(finding: Finding, event: Event) -> bool:
    """A person called it something else; nobody should have to guess what became of the first."""
    return is_renamed(finding) and finding.entry.id in _amended(event, "correction", "affirm")


def _amended(event: Event, *why: str) -> set[str]:
    """Ids of the entries that the utterance changed for one of these reasons."""
    return {entry_id(change) for change in event.turn.changes if _why(change) in why}


def _why(change: Change) -> str:
    """What a second ear heard is taken over by *affirm*."""
    if isinstance(change, Replace):
        return "affirm"
    return change.why if isinstance(change, Amend) else ""


def _is_worth_words(finding: Finding) -> bool:
    """An entry, a fault that lacks its place, a number that was spelled; no mere remark."""
    entry = finding.entry
    return entry.kind is not Kind.REMARK or entry.unplaced or bool(entry.slots)


def _more(event: Event, zone_map: ZoneMap) -> Iterator[str]:
    """What only who wants to hear everything is told."""
    turn = event.turn
    if not turn.changes and not turn.refused and turn.act is Act.REPORT and turn.place:
        yield place(turn.place, zone_map)
    if any(not _is_worth_words(finding) for finding in event.findings):
        yield worded("remark kept")
    new = [finding for finding in event.findings if _is_news(finding, event)]
    yield from dict.fromkeys(caution for finding in new for caution in finding.cautions)


def _is_news(finding: Finding, event: Event) -> bool:
    """It was made, or its grade may have changed."""
    made = {change.entry.id for change in event.turn.changes if isinstance(change, Add)}
    return not finding.withdrawn and finding.entry.id in made | _amended(event, *_TELLING)


def _is_new(change: object) -> bool:
    return isinstance(change, Add) and change.entry.kind is not Kind.REMARK


def _goes_on(asked: Ask | None, answered: str) -> bool:
    return asked is not None and asked.what is What.FINISH and answered == "negative"
