"""What is open still, why, and how it matters; and the places where nothing was found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from voicelog.domain.entry import Entry, Kind
from voicelog.domain.grade import Gap
from voicelog.domain.report import Unseen
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Role
from voicelog.findings.wording import what_in_words
from voicelog.report.material import Book
from voicelog.report.wording import quoted, raised, short
from voicelog.tongue import to_word, worded

OPEN: Mapping[str, str] = {
    "not-seen": to_word("nobody looked"),
    "cavity-not-seen": to_word("nobody looked inside"),
    "not-probed": to_word("looked at, not touched"),
    "unproven": to_word("metal not reached"),
    "doubtful": to_word("maybe misheard"),
}
"""What is open at a place, in words."""

NOT_ALONE = to_word("not by itself")
"""What is said of an open place that alone would change none of the three answers."""

_FIRST = (Role.CRITICAL, Role.LOAD_PATH, Role.CRUSH, Role.FLUID_LINE)
_LONGEST = 300
"""Characters of a reason that are shown."""


def unseen_rows(book: Book) -> tuple[Unseen, ...]:
    """Every gap: first those that could change the verdict, then by the weight of the metal.

    Places that are open alike, for the same reason and with the same to follow, are one row.
    """
    told = {swing.gap: (at, swing.then) for at, swing in enumerate(book.material.advice.swings)}
    gaps = dict.fromkeys((*told, *book.material.inspection.gaps))
    rows: dict[Unseen, list[Gap]] = {}
    for gap in sorted(gaps, key=lambda gap: _weight(gap, book, told)):
        rows.setdefault(_row(gap, told), []).append(gap)
    return tuple(
        replace(row, place=raised("; ".join(together(those, book)))) for row, those in rows.items()
    )


_Told = Mapping[Gap, tuple[int, str]]
"""Gaps that could change the verdict: their rank among these, and how."""


def _row(gap: Gap, told: _Told) -> Unseen:
    """What a gap has in common with others; its place is told later."""
    matters = told[gap][1] if gap in told else worded(NOT_ALONE)
    return Unseen("", open_at(gap), short(gap.reason or "", _LONGEST), matters)


def together(gaps: Iterable[Gap], book: Book) -> tuple[str, ...]:
    """The places of gaps, as they stand within a sentence; left and right of the same are one."""
    pairs: dict[Gap, list[Gap]] = {}
    for gap in gaps:
        pairs.setdefault(gap if gap.entry else replace(gap, side=None), []).append(gap)
    names = (
        _place(replace(one, side="both") if more else one, book) for one, *more in pairs.values()
    )
    return tuple(dict.fromkeys(f"{name[:1].lower()}{name[1:]}" for name in names))


def _weight(gap: Gap, book: Book, told: _Told) -> tuple[int, int]:
    swing = told[gap][0] if gap in told else len(told)
    zone = book.zone({"zone": gap.zone})
    role = _FIRST.index(zone.role) if zone and zone.role in _FIRST else len(_FIRST)
    return swing, role if zone else 0


def _place(gap: Gap, book: Book) -> str:
    """The place; of an entry that nobody placed, its words."""
    entry = _entry(gap.entry, book)
    if entry is not None:
        unplaced = "zone" not in entry.slots and entry.text
        place = quoted(short(entry.text, 80)) if unplaced else book.place(entry.slots)
        number = book.numbered([entry.id])
        return f"{place} ({number})" if number else place
    face = gap.face if gap.why != "cavity-not-seen" else None
    if face is None:
        return book.place_of(gap.zone, gap.side)
    slots: Slots = {n: v for n, v in (("zone", gap.zone), ("side", gap.side), ("face", face)) if v}
    return book.place(slots)


def open_at(gap: Gap) -> str:
    """What is open, in words."""
    return worded(OPEN[gap.why]) if gap.why in OPEN else gap.why.replace("-", " ")


def _entry(name: str | None, book: Book) -> Entry | None:
    return book.entries.get(name) if name else None


def clear_places(book: Book) -> tuple[str, ...]:
    """Places where nothing was found, and how well they were looked at."""
    return tuple(_clear(book))


def _clear(book: Book) -> Iterator[str]:
    for finding in book.material.inspection.live:
        entry = finding.entry
        if entry.kind is not Kind.CLEAR:
            continue
        how = str(entry.slots.get("method", "seen"))
        doubt = worded("; maybe misheard, so it does not count") if entry.doubtful else ""
        yield f"{book.place(entry.slots)}: {what_in_words(finding)}; {how}{doubt}"


def past_lines(book: Book) -> tuple[str, ...]:
    """What was said of the vehicle's past, in the inspector's words."""
    remarks = (finding.entry for finding in book.material.inspection.live)
    return tuple(
        f"{_tags(entry)}: {quoted(short(entry.text, _LONGEST))}"
        for entry in remarks
        if entry.kind is Kind.REMARK and entry.text and _tags(entry)
    )


def _tags(entry: Entry) -> str:
    past = [tag for tag in entry.tags if tag not in _NOT_PAST]
    return "" if len(past) < len(entry.tags) else ", ".join(past).replace("-", " ")


_NOT_PAST = ("spelt", "vehicle")
"""Tags of remarks that tell who the vehicle is: the heading has them."""
