"""What is unresolved, told before anybody signs."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.grade import Gap, Grade
from voicelog.domain.inert import inert
from voicelog.domain.revision import OpenPoint
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Role, ZoneMap
from voicelog.review.pictures import NOTHING, Place, Shown, is_pictured, pictured
from voicelog.tongue import begun, joined, to_word, worded

Named = Callable[[Slots], str]
"""A place in words, for example ``left front rail, inside``."""

_LONGEST = 160
"""Characters of a reason or doubt that a sentence carries."""

_KINDS = {
    Kind.FINDING: to_word("a fault not named"),
    Kind.CLEAR: to_word("clear"),
    Kind.NOT_SEEN: to_word("not seen"),
    Kind.PHOTO: to_word("a photo"),
    Kind.REMARK: to_word("a remark"),
}
_NONE: Mapping[str, Entry] = {}
_UNGRADED = 1
"""How bad an entry without a grade may be: a doubtful *clear* may have been another place."""


@dataclass(frozen=True, slots=True)
class _Case:
    """What the points are told from."""

    zone_map: ZoneMap
    listened: Collection[str]
    silent: Collection[str]
    place: Named
    pictures: frozenset[Place]
    shown: Shown
    softened: Mapping[str, Entry]


def open_points(
    inspection: Inspection,
    zone_map: ZoneMap,
    *,
    listened: Collection[str],
    place: Named,
    silent: Collection[str] = (),
    shown: Shown = NOTHING,
    softened: Mapping[str, Entry] = _NONE,
) -> tuple[OpenPoint, ...]:
    """What is unresolved, the worst first: what may be unsafe, down to doubtful remarks.

    A doubtful entry is a point until it is confirmed, corrected or withdrawn; its sentence says
    whether anybody has listened to it. An unsafe entry is one while a place of its has no photo, a
    cavity until it was seen, and a finding while the inspector calls it milder than the rules do, and
    one that was unsafe once it is milder or withdrawn, until somebody has confirmed that.

    Args:
        inspection: the log, folded.
        zone_map: its places.
        listened: ids of the utterances whose sound was played to the end.
        place: names a place, for a sentence.
        silent: ids of the utterances of which no sound was kept.
        shown: how many pictures in the log show each entry.
        softened: entries that were unsafe and on which nobody has decided since, each as it stood.
    """
    claimed = pictured(inspection.findings, zone_map)
    case = _Case(zone_map, listened, silent, place, claimed, shown, softened)
    ranked = [
        *((_rank(finding), point) for finding in inspection.live for point in _of(finding, case)),
        *(
            (Grade.UNSAFE.rank + 2, _once_unsafe(finding, case))
            for finding in inspection.findings
            if finding.entry.id in softened
        ),
        *(
            (_cavity_rank(gap, zone_map), _unseen(gap, place))
            for gap in inspection.gaps
            if gap.why == "cavity-not-seen"
        ),
    ]
    return tuple(point for _, point in sorted(ranked, key=lambda pair: -pair[0]))


def _of(finding: Finding, case: _Case) -> Iterator[OpenPoint]:
    """The points of one entry that holds."""
    entry = finding.entry
    if _lacks_photo(finding, case):
        told = worded("{fault} is unsafe, and there is no photo of it", fault=_what(entry))
        yield _point("unsafe-without-photo", entry, told, case)
    if entry.doubtful or entry.unplaced:
        yield _point("doubtful", entry, _doubt(entry, case), case)
    if _is_milder(finding):
        told = worded(
            "you called the {fault} {spoken}, the rules give {computed}",
            fault=_what(entry),
            spoken=finding.spoken_grade,
            computed=finding.computed_grade,
        )
        yield _point("milder-than-computed", entry, told, case)


def _once_unsafe(finding: Finding, case: _Case) -> OpenPoint:
    """Milder than it was, or withdrawn: by a correction in mid-inspection, which asks for no reason."""
    entry, before = finding.entry, case.softened[finding.entry.id]
    told = to_word("{fault} was unsafe before, as {before}; nobody has confirmed the change")
    if finding.withdrawn:
        told = to_word("{fault} was unsafe and is withdrawn; nobody has confirmed that")
    was = joined(", ", (case.place(before.slots), _what(before)))
    return _point("was-unsafe", entry, worded(told, fault=_what(entry), before=was), case)


def _lacks_photo(finding: Finding, case: _Case) -> bool:
    unsafe = finding.grade is Grade.UNSAFE
    return unsafe and not is_pictured(finding.entry, case.pictures, case.zone_map, case.shown)


def _is_milder(finding: Finding) -> bool:
    spoken, computed = finding.spoken_grade, finding.computed_grade
    return spoken is not None and computed is not None and spoken.rank < computed.rank


def _doubt(entry: Entry, case: _Case) -> str:
    """That it is doubtful, whether it was listened to, and why it is."""
    told = to_word("{fault} is doubtful and nobody has listened to it: {why}")
    if entry.utterance in case.listened:
        told = to_word("{fault} is doubtful still, though it was listened to: {why}")
    elif entry.utterance in case.silent:
        told = to_word("{fault} is doubtful and nobody has decided; it has no sound: {why}")
    why = "; ".join(entry.doubts) or worded("its place was not said")
    return worded(told, fault=_what(entry), why=inert(why, _LONGEST))


def _what(entry: Entry) -> str:
    """What an entry is, within a sentence: its condition, else its kind."""
    condition = entry.slots.get("condition")
    if condition is None:
        kind = _KINDS[entry.kind]
        return worded(kind)
    return inert(str(condition).replace("-", " "), 40)


def _point(what: str, entry: Entry, told: str, case: _Case) -> OpenPoint:
    """The sentence names the place first and the entry last, as the verdict's reasons do."""
    remark = entry.kind is Kind.REMARK and "zone" not in entry.slots
    where = f"“{inert(entry.text, 60)}”" if remark else case.place(entry.slots)
    text = joined("", (begun(where), ": ", told, f" ({entry.id})"))
    return OpenPoint(what, text, entry.id)


def _unseen(gap: Gap, place: Named) -> OpenPoint:
    known = {"zone": gap.zone, "side": gap.side}
    where = place({name: value for name, value in known.items() if value is not None})
    text = worded("{place}: nobody has seen its inside", place=begun(where))
    if gap.reason:
        text = joined("", (text, " (", inert(gap.reason, _LONGEST), ")"))
    return OpenPoint(gap.why, text, gap.entry)


def _rank(finding: Finding) -> int:
    grades = (finding.grade, finding.computed_grade)
    known = [grade.rank + 2 for grade in grades if grade is not None]
    return max(known, default=0 if finding.entry.kind is Kind.REMARK else _UNGRADED)


def _cavity_rank(gap: Gap, zone_map: ZoneMap) -> int:
    """A cavity may hold anything: behind what was found as bad, before all that is milder."""
    critical = gap.zone in zone_map and zone_map[gap.zone].role is Role.CRITICAL
    return (Grade.UNSAFE if critical else Grade.REPAIR).rank + 2
