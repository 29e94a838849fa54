"""What is open still, why, and how it matters; and the places where nothing was found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from voicelog.domain.entry import Entry, Kind
from voicelog.domain.grade import Gap
from voicelog.domain.report import Unseen
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Role
from voicelog.findings.wording import what_in_words
from voicelog.report.material import Book
from voicelog.report.wording import quoted, short, with_numbers

OPEN: Mapping[str, str] = {
    "not-seen": "nobody looked",
    "cavity-not-seen": "nobody looked inside",
    "not-probed": "looked at, not touched",
    "unproven": "metal not reached",
    "doubtful": "maybe misheard",
}
"""What is open at a place, in words."""

_FIRST = (Role.CRITICAL, Role.LOAD_PATH, Role.CRUSH, Role.FLUID_LINE)
_LONGEST = 300
"""Characters of a reason that are shown."""


def unseen_rows(book: Book) -> tuple[Unseen, ...]:
    """Every gap: first those that could change the verdict, then by the weight of the metal.

    Where left and right are open alike, and neither changes anything by itself, they are one row.
    """
    told = {swing.gap: (at, swing.text) for at, swing in enumerate(book.material.advice.swings)}
    gaps = dict.fromkeys((*told, *book.material.inspection.gaps))
    rows: dict[object, list[Gap]] = {}
    for gap in sorted(gaps, key=lambda gap: _weight(gap, book, told)):
        alike = gap.side is not None and gap.entry is None and gap not in told
        rows.setdefault(replace(gap, side="both") if alike else gap, []).append(gap)
    return tuple(_row(those, book, told) for those in rows.values())


_Told = Mapping[Gap, tuple[int, str]]
"""Gaps that could change the verdict: their rank among these, and how."""


def _weight(gap: Gap, book: Book, told: _Told) -> tuple[int, int]:
    swing = told[gap][0] if gap in told else len(told)
    zone = book.zone({"zone": gap.zone})
    role = _FIRST.index(zone.role) if zone and zone.role in _FIRST else len(_FIRST)
    return swing, role if zone else 0


def _row(gaps: Sequence[Gap], book: Book, told: _Told) -> Unseen:
    gap = gaps[0] if len(gaps) == 1 else replace(gaps[0], side="both")
    matters = with_numbers(told.get(gap, (0, ""))[1], book.numbers)
    return Unseen(_place(gap, book), _open(gap, book), short(gap.reason or "", _LONGEST), matters)


def _place(gap: Gap, book: Book) -> str:
    """The place; of an entry that nobody placed, its words."""
    entry = _entry(gap.entry, book)
    if entry is not None:
        unplaced = "zone" not in entry.slots and entry.text
        return quoted(short(entry.text, 80)) if unplaced else book.place(entry.slots)
    face = gap.face if gap.why != "cavity-not-seen" else None
    if face is None:
        return book.place_of(gap.zone, gap.side)
    slots: Slots = {n: v for n, v in (("zone", gap.zone), ("side", gap.side), ("face", face)) if v}
    return book.place(slots)


def _open(gap: Gap, book: Book) -> str:
    told = OPEN.get(gap.why, gap.why.replace("-", " "))
    number = book.numbers.get(gap.entry or "")
    return f"{told} (finding {number})" if number else told


def _entry(name: str | None, book: Book) -> Entry | None:
    live = book.material.inspection.live if name else ()
    return next((finding.entry for finding in live if finding.entry.id == name), None)


def clear_places(book: Book) -> tuple[str, ...]:
    """Places where nothing was found, and how well they were looked at."""
    return tuple(_clear(book))


def _clear(book: Book) -> Iterator[str]:
    for finding in book.material.inspection.live:
        entry = finding.entry
        if entry.kind is not Kind.CLEAR:
            continue
        how = str(entry.slots.get("method", "seen"))
        doubt = "; maybe misheard, so it does not count" if entry.doubtful else ""
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
