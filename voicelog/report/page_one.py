"""Page one, for a buyer who has never seen a frame: the answer, what it rests on, what to do next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from voicelog.domain.entry import Kind
from voicelog.domain.report import Answer
from voicelog.domain.zone import Rails, Role
from voicelog.findings.drive import DO_NOT_DRIVE, NO_DANGER_FOUND, NOT_ENOUGH_SEEN
from voicelog.findings.work import work
from voicelog.report.drawing import cavities_open
from voicelog.report.material import Book
from voicelog.report.wording import counted, entries_of, listed, raised, short, with_numbers

HEADLINES: Mapping[str, str] = {
    DO_NOT_DRIVE: "Do not drive or tow",
    NO_DANGER_FOUND: "No danger found where examined",
    NOT_ENOUGH_SEEN: "Not enough seen to say",
}
"""What large letters say."""

IMPORTANT = (Role.CRITICAL, Role.LOAD_PATH)
"""Places that count as important: what the wheels, belts and steering hang on, and what carries it."""

_REASONS = 3
"""Reasons of an answer that page one has room for; the second one's are longer."""
_LONGEST = 140
"""Characters of one of its sentences."""
_LONGEST_SWING = 190
"""Of one that tells both what would be if it is bad and if it is not."""


def under(book: Book) -> str:
    """The sentence below the headline."""
    states = book.material.advice.places
    looked = sum(state.seen.looked for state in states)
    match book.material.inspection.verdict.drive:
        case "do-not-drive":
            number = len(_dangers(book))
            return f"{counted(number, 'finding speaks', 'findings speak')} against moving it."
        case "no-danger-found-where-examined":
            return f"{looked} of {len(states)} places were examined; the others stay unknown."
        case _:
            return f"Only {looked} of {len(states)} places were looked at, and important ones are open."


def counts(book: Book) -> tuple[str, ...]:
    """How many important places were touched, and how many hidden insides nobody saw."""
    states = book.material.advice.places
    zones = book.material.zone_map.zones
    important = [s for s in states if s.zone in zones and zones[s.zone].role in IMPORTANT]
    touched = sum(state.seen.probed for state in important)
    looked = sum(state.seen.looked and not state.seen.probed for state in important)
    rest = len(important) - touched - looked
    return (
        f"{touched} of {len(important)} important places were touched with a tool; {looked} more were "
        f"only looked at, {rest} not at all.",
        *_hidden(book),
    )


def _hidden(book: Book) -> Iterator[str]:
    hiding = sum(state.seen.inside is not None for state in book.material.advice.places)
    unseen = sum(1 for _ in cavities_open(book))
    if hiding:
        yield f"{unseen} of {hiding} hidden insides were seen by nobody."
    if book.material.rails is Rails.MIXED and _may_hide_more(book):
        yield "Whether the rails are closed boxes was not said; if so, they hide insides as well."


def _may_hide_more(book: Book) -> bool:
    zones, rails = book.material.zone_map.zones, book.material.rails
    return any(
        state.seen.inside is None
        and state.zone in zones
        and zones[state.zone].may_hide_cavity(rails)
        for state in book.material.advice.places
    )


def answers(book: Book) -> tuple[Answer, ...]:
    """Move it today? Repairable? What could change that?"""
    return _move(book), _repair(book), _change(book)


_MOVE: Mapping[str, str] = {
    DO_NOT_DRIVE: "No: do not drive or tow it",
    NO_DANGER_FOUND: "No danger was found where it was examined",
    NOT_ENOUGH_SEEN: "Not enough was seen to say",
}


def _move(book: Book) -> Answer:
    verdict = book.material.inspection.verdict
    answer = _MOVE.get(verdict.drive, verdict.drive)
    return Answer("Move it today?", answer, _shown(_dangers(book), book))


def _dangers(book: Book) -> tuple[str, ...]:
    """The reasons of the first answer, in the order of the findings."""

    def first(reason: str) -> int:
        return min((book.numbers.get(entry, 0) for entry in entries_of([reason])), default=0)

    return tuple(sorted(book.answer.reasons, key=first))


_REPAIR: Mapping[str, str] = {
    "none": "Nothing was found that needs work",
    "surface": "Only surfaces have to be treated",
    "local": "Yes, with local repairs",
    "major": "Yes, but it is major work",
    "replacement-or-specialist": "Only with a replacement frame, or by a structural specialist",
}


def _repair(book: Book) -> Answer:
    inspection = book.material.inspection
    if not any(f.entry.kind in (Kind.FINDING, Kind.CLEAR) for f in inspection.live):
        return Answer("Repairable?", "Not known: nothing was looked at")
    limits, zone_map = book.material.rules.limits, book.material.zone_map
    reasons = work(inspection.live, zone_map, limits)[1]
    answer = _REPAIR.get(inspection.verdict.work, inspection.verdict.work)
    return Answer("Repairable?", f"{answer}{_so_far(book)}", _shown(reasons, book, _REASONS - 1))


def _so_far(book: Book) -> str:
    return ", as far as it was seen" if book.material.inspection.gaps else ""


def _change(book: Book) -> Answer:
    gaps, swings = book.material.inspection.gaps, book.material.advice.swings
    if not gaps:
        return Answer("What could change that?", "Nothing that is known of")
    kinds = {why: sum(gap.why == why for gap in gaps) for why in _STILL}
    told = ", ".join(f"{kinds[why]} {text}" for why, text in _STILL.items() if kinds[why])
    answer = f"{counted(len(gaps), 'point that is', 'points that are')} still open"
    reasons = _shown([told, *(s.text for s in swings)], book, longest=_LONGEST_SWING)
    return Answer("What could change that?", answer, reasons)


_STILL: Mapping[str, str] = {
    "not-seen": "not looked at",
    "cavity-not-seen": "not looked into",
    "not-probed": "not touched",
    "unproven": "with metal not reached",
    "doubtful": "maybe misheard",
}


def _shown(
    reasons: Sequence[str], book: Book, most: int = _REASONS, longest: int = _LONGEST
) -> tuple[str, ...]:
    """The first reasons with numbers for entries; how many more there are, last."""
    told = [short(_plain(reason, book), longest) for reason in reasons[:most]]
    more = len(reasons) - len(told)
    return (*told, *([f"and {more} more, on the pages that follow"] if more > 0 else []))


def _plain(reason: str, book: Book) -> str:
    """A reason with numbers on the drawing; what the answer says already is not said again."""
    return raised(with_numbers(reason, book.numbers).removeprefix("Do not drive: "))


def next_steps(book: Book) -> tuple[str, ...]:
    """What to do next, the first thing first."""
    return tuple(short(step, 160) for step in _steps(book))


def _steps(book: Book) -> Iterator[str]:
    urgent = {item.entry for item in book.material.advice.work if item.urgency == "now"}
    if book.material.inspection.verdict.drive == DO_NOT_DRIVE:
        yield "Leave it where it stands. If it has to go elsewhere, have it carried."
    if named := book.numbered(urgent | book.against):
        yield f"Before it is moved on its own wheels, deal with {named}: see the work list."
    yield from _look(book)
    yield "Show this report to whoever is licensed to judge or repair frames where you are."


def _look(book: Book) -> Iterator[str]:
    """Where to look first: what could change the verdict, else what the work list says."""
    gaps = [swing.gap for swing in book.material.advice.swings]
    names = dict.fromkeys(
        book.place_of(gap.zone, gap.side).lower() for gap in gaps if not gap.entry
    )
    if not names:
        names = dict.fromkeys(book.place_of(*place).lower() for place in cavities_open(book))
    if names:
        yield f"Have somebody look where nobody has, first at: {listed(list(names), 4)}."
