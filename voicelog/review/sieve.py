"""Which entries are shown: filters that stack, and what each of them hides."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.review.pictures import NOTHING, Shown, lacks_picture, pictured
from voicelog.tongue import Worded, to_word, worded

UNPLACED = "unplaced"
"""Stands for the zone of entries whose place nobody said."""

IDLE = to_word("idle remarks left out")
"""The filter that is on at first; it is told only where it hides something."""

_Keeps = Callable[[Finding], bool]


@dataclass(frozen=True, slots=True)
class Sieve:
    """Filters that stack: an entry is shown when every one of them lets it through.

    Args:
        doubtful: only what a person should listen to again, and still holds.
        unsafe: only what is unsafe, and still holds.
        no_photo: only what needs a picture and has none.
        changed_after_signing: only what was touched after the newest signature.
        withdrawn: show withdrawn entries too, so that they can be restored.
        remarks: show idle remarks too: those that are placed, certain and about nothing graded.
        zone: only this zone of the map, or ``unplaced``.
        side: only this side; what was said of both sides is on the left and on the right.
        grade: only this grade.
        text: only entries in which every one of its words occurs, in whatever letters: in the
            words heard, the names of place and condition, reasons, doubts, tags, or the id.
    """

    doubtful: bool = False
    unsafe: bool = False
    no_photo: bool = False
    changed_after_signing: bool = False
    withdrawn: bool = True
    remarks: bool = False
    zone: str | None = None
    side: str | None = None
    grade: Grade | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class Sifted:
    """What is shown and what is hidden.

    Args:
        shown: the entries let through, in the order given.
        hidden: how many were not.
        by: each active filter in words to how many entries it would hide alone.
    """

    shown: tuple[Finding, ...]
    hidden: int
    by: Mapping[Worded, int]


def sift(
    findings: Sequence[Finding],
    sieve: Sieve,
    zone_map: ZoneMap,
    *,
    rails: Rails = Rails.MIXED,
    after: Collection[str] = (),
    pictured_in: Shown = NOTHING,
) -> Sifted:
    """The entries that a sieve lets through; 2,000 take a few milliseconds.

    Args:
        findings: all entries, withdrawn ones and photos included.
        sieve: the filters.
        zone_map: the places.
        rails: how the rails are made; decides what needs a picture.
        after: ids of the entries touched after the newest signature.
        pictured_in: how many pictures in the log show each entry.
    """
    filters = tuple(_filters(findings, sieve, zone_map, rails, after, pictured_in))
    kept = [tuple(map(keeps, findings)) for _, keeps in filters]
    rows = zip(findings, *kept, strict=True)
    shown = tuple(finding for finding, *lets in rows if all(lets))
    by = {name: lets.count(False) for (name, _), lets in zip(filters, kept, strict=True)}
    return Sifted(shown, len(findings) - len(shown), by)


def words(sieve: Sieve, zone_map: ZoneMap) -> tuple[Worded, ...]:
    """The active filters in words, as in :attr:`Sifted.by`, for example ``only the left side``."""
    return tuple(name for name, _ in _filters((), sieve, zone_map, Rails.MIXED, ()))


def _filters(
    findings: Sequence[Finding],
    sieve: Sieve,
    zone_map: ZoneMap,
    rails: Rails,
    after: Collection[str],
    shown: Shown = NOTHING,
) -> Iterator[tuple[Worded, _Keeps]]:
    """Each active filter: its words, and what it lets through."""
    if sieve.doubtful:
        yield worded("only doubtful"), _is_doubtful
    if sieve.unsafe:
        yield worded("only unsafe"), lambda f: f.grade is Grade.UNSAFE and not f.withdrawn
    if sieve.no_photo:
        taken = pictured(findings, zone_map)
        yield (
            worded("only without a photo"),
            lambda f: lacks_picture(f, taken, zone_map, rails, shown),
        )
    if sieve.changed_after_signing:
        yield worded("only changed after signing"), lambda f: f.entry.id in after
    if not sieve.withdrawn:
        yield worded("withdrawn left out"), lambda f: not f.withdrawn
    if not sieve.remarks:
        yield worded(IDLE), lambda f: not _is_idle(f.entry)
    yield from _narrowed(sieve, zone_map)


def _narrowed(sieve: Sieve, zone_map: ZoneMap) -> Iterator[tuple[Worded, _Keeps]]:
    """The filters that ask for a value."""
    if sieve.zone is not None:
        zone = sieve.zone
        yield (
            worded("only {place}", place=_zone_name(zone, zone_map)),
            lambda f: _zone_of(f.entry, zone_map) == zone,
        )
    if sieve.side is not None:
        sides = (sieve.side, "both") if sieve.side in ("left", "right") else (sieve.side,)
        yield _side_words(sieve.side), lambda f: f.entry.slots.get("side") in sides
    if sieve.grade is not None:
        yield worded("only graded {grade}", grade=sieve.grade), lambda f: f.grade is sieve.grade
    if sieve.text.strip():
        sought = _plain(sieve.text).split()
        said = worded("only with “{words}”", words=inert(" ".join(sieve.text.split()), 40))
        yield said, lambda f: _has_words(f.entry, sought, zone_map)


def _is_doubtful(finding: Finding) -> bool:
    return (finding.entry.doubtful or finding.entry.unplaced) and not finding.withdrawn


def _is_idle(entry: Entry) -> bool:
    """True for a remark that asks for nothing: not unplaced, not doubtful, without a tag."""
    return entry.kind is Kind.REMARK and not (entry.unplaced or entry.doubtful or entry.tags)


def _zone_of(entry: Entry, zone_map: ZoneMap) -> str:
    zone = str(entry.slots.get("zone", UNPLACED))
    return zone if zone in zone_map else UNPLACED


def _zone_name(zone: str, zone_map: ZoneMap) -> str:
    """The zone's title as it stands within a sentence; what is on no map, by its id."""
    if zone not in zone_map:
        return inert(zone.replace("-", " "), 40)
    title = zone_map[zone].title
    return title[:1].lower() + title[1:]


def _side_words(side: str) -> Worded:
    match side:
        case "both":
            return worded("only what is on both sides")
        case "centre":
            return worded("only the centre")
    return worded("only the {side} side", side=side)


def _has_words(entry: Entry, sought: Sequence[str], zone_map: ZoneMap) -> bool:
    told = _plain(_told(entry, zone_map))
    return all(word in told for word in sought)


def _told(entry: Entry, zone_map: ZoneMap) -> str:
    """Everything of an entry that somebody may look for, in one line."""
    zone = zone_map.zones.get(str(entry.slots.get("zone", "")))
    title = zone.title if zone is not None else ""
    inside = "inside" if entry.slots.get("face") == "interior" else ""
    slots = (value for value in entry.slots.values() if isinstance(value, str))
    kept = (entry.id, entry.kind, title, inside, entry.text, entry.reason)
    return " ".join((*kept, *slots, *entry.absent, *entry.tags, *entry.doubts))


def _plain(text: str) -> str:
    """The text for comparing: no capitals, and a blank for every hyphen and underscore."""
    return text.casefold().replace("-", " ").replace("_", " ")
