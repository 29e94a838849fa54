"""The questions of the tool as a voice asks them, and what is left when it ends."""

from __future__ import annotations

from collections.abc import Iterator

from voicelog.dialogue.ask import Ask, What
from voicelog.domain.entry import Add, Entry, Finding, Inspection, Kind, Replace
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.slot_title import slot_title, value_title
from voicelog.domain.zone import ZoneMap
from voicelog.findings.grading import worst_said
from voicelog.findings.wording import condition_in_words, listed
from voicelog.runtime.read_back import LONGEST, in_short

_MOST = 2
"""Entries of one proposal that are told; the others are seen."""
_ODOMETER = ("miles", "kilometres")
"""What answers which unit an odometer has: the unit, not the reading again."""
_OPEN = (
    ("not-seen", "{} place not looked at", "{} places not looked at"),
    ("cavity-not-seen", "{} cavity not seen inside", "{} cavities not seen inside"),
    ("not-probed", "{} mounting not probed", "{} mountings not probed"),
    ("unproven", "{} where the metal was not reached", "{} where the metal was not reached"),
    ("doubtful", "{} doubtful", "{} doubtful"),
)
"""Reasons of a gap, for one and for several, in the order in which they are told."""


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
        left = ", ".join(still_open(inspection)) if inspection is not None else ""
        return (
            f"{left}. Finish the inspection: affirm?" if left else "finish the inspection: affirm?"
        )
    entry = finding.entry
    if ask.what is What.SLOT:
        return _which(ask, finding, zone_map)
    if ask.what is What.LOWER:
        return _why(ask, finding)
    if ask.what is What.INSTEAD:
        so_far = f"{Grade.UNSAFE} so far; " if _is_unsafe(finding) else ""
        return f"{so_far}or {in_short(entry, zone_map, ask.instead)}, affirm?"
    return f"{_graded(in_short(entry, zone_map), finding)}, affirm?"


def options_of(ask: Ask) -> tuple[str, ...]:
    """The words of which one answers it; none where *affirm* or *negative* does."""
    if ask.what is not What.SLOT or ask.slot == "vin":
        return ()
    if ask.slot == "odometer":
        return _ODOMETER
    return tuple(value_title(ask.slot, option) for option in ask.options)


def still_open(inspection: Inspection) -> Iterator[str]:
    """What nobody has looked at, reached or made sure of, counted: ``11 places not looked at``."""
    for why, one, several in _OPEN:
        count = sum(gap.why == why for gap in inspection.gaps)
        if count:
            yield (one if count == 1 else several).format(count)


def finished(inspection: Inspection) -> str:
    """The verdict in one sentence each, as hard as it is: ``Do not drive. Work: local. …``."""
    verdict = inspection.verdict
    drive = verdict.drive.replace("-", " ").capitalize()
    told = [drive, f"Work: {verdict.work.replace('-', ' ')}"]
    left = ", ".join(still_open(inspection))
    return ". ".join((*told, left) if left else told) + "."


def _graded(said: str, finding: Finding) -> str:
    """A question must not hide what would be read back without it."""
    return f"{said}, {Grade.UNSAFE}" if _is_unsafe(finding) else said


def _is_unsafe(finding: Finding) -> bool:
    return worst_said(finding) is Grade.UNSAFE


def _which(ask: Ask, finding: Finding, zone_map: ZoneMap) -> str:
    """ "front rail, crack, unsafe: which side, left or right?" """
    entry = finding.entry
    if ask.slot == "vin":
        number = in_short(entry, zone_map)
        return f"{number}: it does not check. Affirm to keep it, or spell it again"
    if ask.slot == "odometer":
        return f"{in_short(entry, zone_map)}: {listed(_ODOMETER)}?"
    options = listed([inert(value_title(ask.slot, one, zone_map)) for one in ask.options])
    subject = _graded(_subject(ask, entry, zone_map), finding)
    return f"{subject}: which {slot_title(ask.slot)}, {options}?"


def _subject(ask: Ask, entry: Entry, zone_map: ZoneMap) -> str:
    """What is asked about, without what the question itself says."""
    said = in_short(entry, zone_map)
    if ask.slot == "zone":
        return said.replace("place not settled, ", "", 1).replace("side not said, ", "", 1)
    return said.replace(", side not said", "", 1) if ask.slot == "side" else said


def _second(ask: Ask, finding: Finding | None, zone_map: ZoneMap) -> str:
    """ "unsafe so far; the second ear heard right rear rail, scale. Affirm to change it?" """
    made = [change.entry for change in ask.changes if isinstance(change, Add | Replace)]
    said = " and ".join(in_short(entry, zone_map) for entry in made[:_MOST])
    so_far = f"{Grade.UNSAFE} so far; " if finding is not None and _is_unsafe(finding) else ""
    new = finding is None or finding.entry.kind is Kind.REMARK
    return f"{so_far}the second ear heard {said}. Affirm to {'enter' if new else 'change'} it?"


def _why(ask: Ask, finding: Finding) -> str:
    """A lower grade is not taken for nothing; *unsafe* counts until it is affirmed."""
    if ask.reason:
        return f"recorded as {ask.grade}, your reason: {inert(ask.reason, LONGEST)}. Affirm?"
    fault = condition_in_words(finding.entry) or "entry"
    ruled = " by the rules" if finding.spoken_grade is None else ""
    return (
        f"{inert(fault)} is graded unsafe{ruled}; say why, then affirm, to record it as "
        f"{ask.grade}; unsafe counts until then"
    )
