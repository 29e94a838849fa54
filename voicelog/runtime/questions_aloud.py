"""The questions of the tool as a voice asks them, and what is left when it ends."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from voicelog.dialogue.ask import Ask, What
from voicelog.domain.entry import Add, Entry, Finding, Inspection, Kind, Replace
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.slot_title import slot_title, value_title
from voicelog.domain.zone import ZoneMap
from voicelog.findings.grading import worst_said
from voicelog.findings.wording import condition_in_words
from voicelog.runtime.read_back import LONGEST, in_short
from voicelog.tongue import Worded, as_it_is, either, joined, to_word, worded, worded_many

_MOST = 2
"""Entries of one proposal that are told; the others are seen."""
_ODOMETER = ("miles", "kilometres")
"""What answers which unit an odometer has: the unit, not the reading again."""
_AFFIRM = "affirm"
"""What is said to say yes; a spoken word is the same in every language."""
_OPEN: Mapping[str, Callable[[int], Worded]] = {
    "not-seen": lambda count: worded_many(
        "{count} place not looked at", "{count} places not looked at", count
    ),
    "cavity-not-seen": lambda count: worded_many(
        "{count} cavity not seen inside", "{count} cavities not seen inside", count
    ),
    "not-probed": lambda count: worded_many(
        "{count} mounting not probed", "{count} mountings not probed", count
    ),
    "unproven": lambda count: worded("{count} where the metal was not reached", count=count),
    "doubtful": lambda count: worded("{count} doubtful", count=count),
}
"""Reasons of a gap with how many there are, in the order in which they are told."""


def question(
    ask: Ask,
    finding: Finding | None,
    zone_map: ZoneMap,
    inspection: Inspection | None = None,
) -> str:
    """A question as it is asked aloud: ``left rear rail, hole, affirm?``.

    Args:
        ask: the question.
        finding: the entry it is about; None where it is about the inspection.
        zone_map: titles of the zones.
        inspection: as it stands now; it tells what is open before the end.
    """
    if ask.what is What.SECOND:
        return _second(ask, finding, zone_map)
    if ask.what is What.FINISH or finding is None:
        left = joined(", ", still_open(inspection)) if inspection is not None else ""
        if not left:
            return worded("finish the inspection: {affirm}?", affirm=_AFFIRM)
        end = worded("Finish the inspection: {affirm}?", affirm=_AFFIRM)
        return joined(". ", (left, end))
    entry = finding.entry
    if ask.what is What.SLOT:
        return _which(ask, finding, zone_map)
    if ask.what is What.LOWER:
        return _why(ask, finding)
    if ask.what is What.INSTEAD:
        told = in_short(entry, zone_map, ask.instead)
        instead = worded("or {entry}, {affirm}?", entry=told, affirm=_AFFIRM)
        return joined("; ", (*_so_far(finding), instead))
    told = _graded(in_short(entry, zone_map), finding)
    return joined(", ", (told, worded("{affirm}?", affirm=_AFFIRM)))


def options_of(ask: Ask) -> tuple[str, ...]:
    """The words of which one answers it; none where *affirm* or *negative* does."""
    if ask.what is not What.SLOT or ask.slot == "vin":
        return ()
    if ask.slot == "odometer":
        return _ODOMETER
    return tuple(value_title(ask.slot, option) for option in ask.options)


def still_open(inspection: Inspection) -> Iterator[str]:
    """What nobody has looked at, reached or made sure of, counted: ``11 places not looked at``."""
    for why, told in _OPEN.items():
        if count := sum(gap.why == why for gap in inspection.gaps):
            yield told(count)


def finished(inspection: Inspection) -> str:
    """The verdict in one sentence each, as hard as it is: ``Do not drive. Work: local. …``."""
    verdict = inspection.verdict
    drive = verdict.drive.replace("-", " ").capitalize()
    work = worded("Work: {work}", work=verdict.work.replace("-", " "))
    left = joined(", ", still_open(inspection))
    return joined("", (joined(". ", filter(None, (drive, work, left))), "."))


def _graded(said: str, finding: Finding) -> str:
    """A question must not hide what would be read back without it."""
    return joined(", ", (said, Grade.UNSAFE)) if _is_unsafe(finding) else said


def _so_far(finding: Finding | None) -> Iterator[str]:
    """What counts until the question is answered, where it is unsafe."""
    if finding is not None and _is_unsafe(finding):
        yield worded("{grade} so far", grade=Grade.UNSAFE)


def _is_unsafe(finding: Finding) -> bool:
    return worst_said(finding) is Grade.UNSAFE


def _which(ask: Ask, finding: Finding, zone_map: ZoneMap) -> str:
    """ "front rail, crack, unsafe: which side, left or right?" """
    entry = finding.entry
    if ask.slot == "vin":
        return worded(
            "{number}: it does not check. {affirm} to keep it, or spell it again",
            number=in_short(entry, zone_map),
            affirm=_AFFIRM.capitalize(),
        )
    if ask.slot == "odometer":
        return joined("", (in_short(entry, zone_map), ": ", either(_ODOMETER), "?"))
    return worded(
        "{entry}: which {slot}, {options}?",
        entry=_graded(_subject(ask, entry, zone_map), finding),
        slot=slot_title(ask.slot),
        options=either([inert(value_title(ask.slot, one, zone_map)) for one in ask.options]),
    )


def _subject(ask: Ask, entry: Entry, zone_map: ZoneMap) -> str:
    """What is asked about, without what the question itself says."""
    said = in_short(entry, zone_map)
    if ask.slot == "zone":
        return _without(_without(said, worded("place not settled")), worded("side not said"))
    return _without(said, worded("side not said")) if ask.slot == "side" else said


def _without(told: str, part: Worded) -> str:
    """A list without one of its parts, in both languages."""
    shown, english = as_it_is(told).parts
    return Worded(_left(shown, part.parts[0]), _left(english, part.english))


def _left(told: str, part: str) -> str:
    parts = told.split(", ")
    if part in parts:
        parts.remove(part)
    return ", ".join(parts)


def _second(ask: Ask, finding: Finding | None, zone_map: ZoneMap) -> str:
    """ "unsafe so far; the second ear heard right rear rail, scale. Affirm to change it?" """
    made = [change.entry for change in ask.changes if isinstance(change, Add | Replace)]
    said = joined(worded(" and "), [in_short(entry, zone_map) for entry in made[:_MOST]])
    new = finding is None or finding.entry.kind is Kind.REMARK
    told = (
        to_word("the second ear heard {entry}. {affirm} to enter it?")
        if new
        else to_word("the second ear heard {entry}. {affirm} to change it?")
    )
    asked = worded(told, entry=said, affirm=_AFFIRM.capitalize())
    return joined("; ", (*_so_far(finding), asked))


def _why(ask: Ask, finding: Finding) -> str:
    """A lower grade is not taken for nothing; *unsafe* counts until it is affirmed."""
    if ask.reason:
        return worded(
            "recorded as {grade}, your reason: {reason}. {affirm}?",
            grade=ask.grade,
            reason=inert(ask.reason, LONGEST),
            affirm=_AFFIRM.capitalize(),
        )
    told = (
        to_word(
            "{fault} is graded {unsafe} by the rules; say why, then {affirm}, to record it as "
            "{grade}; {unsafe} counts until then"
        )
        if finding.spoken_grade is None
        else to_word(
            "{fault} is graded {unsafe}; say why, then {affirm}, to record it as {grade}; {unsafe} "
            "counts until then"
        )
    )
    fault = inert(condition_in_words(finding.entry)) or worded("entry")
    return worded(told, fault=fault, unsafe=Grade.UNSAFE, affirm=_AFFIRM, grade=ask.grade)
