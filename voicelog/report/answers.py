"""The three answers of page one: may it be moved, can it be repaired, what could change that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from voicelog.domain.advice import Swing
from voicelog.domain.entry import Kind
from voicelog.domain.report import Answer
from voicelog.findings.coverage import Coverage
from voicelog.findings.drive import DO_NOT_DRIVE, NO_DANGER_FOUND, NOT_ENOUGH_SEEN
from voicelog.findings.facts_of import DEFAULT_LIMITS
from voicelog.findings.tasks import lost_in
from voicelog.findings.verdict import UNKNOWN, structure_looked_at
from voicelog.findings.what_if.sensitivity import alike
from voicelog.findings.work import BEYOND, work
from voicelog.report.material import Book
from voicelog.report.unseen import open_at, together
from voicelog.report.wording import counted, entries_of, listed, raised, short, with_numbers
from voicelog.tongue import to_word, worded, worded_many

_REASONS = 3
"""Reasons of an answer that page one has room for; the second one's are longer."""
_LONGEST = 140
"""Characters of one of its sentences."""
_LONGEST_SWING = 260
"""Of one that tells both what would be if it is bad and if it is not."""


def answers(book: Book) -> tuple[Answer, ...]:
    """Move it today? Repairable? What could change that?"""
    return _move(book), _repair(book), _change(book)


_MOVE: Mapping[str, str] = {
    DO_NOT_DRIVE: to_word("No: do not drive or tow it"),
    NO_DANGER_FOUND: to_word("No danger was found where it was examined"),
    NOT_ENOUGH_SEEN: to_word("Not enough was seen to say"),
}


def _move(book: Book) -> Answer:
    verdict = book.material.inspection.verdict
    text = _MOVE.get(verdict.drive, verdict.drive)
    answer = worded(text)
    if verdict.drive == NO_DANGER_FOUND:
        return Answer(worded("Move it today?"), answer, _unknown(book))
    dangers = _worst_first(book.answer.reasons, book)
    return Answer(worded("Move it today?"), answer, *_shown(dangers, book))


def _unknown(book: Book) -> tuple[str, ...]:
    every = all(state.seen.looked for state in book.material.advice.places)
    return () if every else (worded("What nobody looked at stays unknown."),)


def _worst_first(reasons: Sequence[str], book: Book) -> tuple[str, ...]:
    """Reasons in the order of the findings that they name."""

    def first(reason: str) -> int:
        return min((book.numbers.get(entry, 0) for entry in entries_of([reason])), default=0)

    return tuple(sorted(reasons, key=first))


_REPAIR: Mapping[str, str] = {
    "none": to_word("Nothing was found that needs work"),
    "surface": to_word("Of what was found, only surfaces have to be treated"),
    "local": to_word("What was found: yes, with local repairs"),
    "major": to_word("What was found: yes, but it is major work"),
    "replacement-or-specialist": to_word(
        "Only by a structural specialist, or with the structure itself replaced"
    ),
}


def _repair(book: Book) -> Answer:
    inspection = book.material.inspection
    if not any(f.entry.kind in (Kind.FINDING, Kind.CLEAR) for f in inspection.live):
        return Answer(worded("Repairable?"), worded("Not known: nothing was looked at"))
    limits, zone_map = book.material.rules.limits, book.material.zone_map
    reasons = work(inspection.live, book.tasks, zone_map, limits)[1]
    beyond = sum(1 for _ in lost_in(book.tasks))  # these make the answer, and come first
    reasons = (*reasons[:beyond], *_worst_first(reasons[beyond:], book))
    text = _REPAIR.get(inspection.verdict.work, inspection.verdict.work)
    answer = worded(text)
    if inspection.verdict.tier == UNKNOWN:  # nothing found is no news where hardly anybody looked
        return Answer(
            worded("Repairable?"),
            worded("Not known: too little was seen"),
            (*_few(book), f"{answer}."),
        )
    seen = _few(book) if inspection.verdict.work != BEYOND else ()
    told = _shown(reasons, book, _REASONS - 1 - len(seen))
    return Answer(worded("Repairable?"), answer, (*seen, *told[0]), told[1])


def _few(book: Book) -> tuple[str, ...]:
    """How little of the structure was looked at; nothing where it was most of it."""
    inspection, limits = book.material.inspection, book.material.rules.limits
    coverage = Coverage(inspection.coverage, inspection.gaps)
    looked, there = structure_looked_at(coverage, book.material.zone_map)
    if looked * 100 >= {**DEFAULT_LIMITS, **limits}["tier_places_percent"] * there:
        return ()
    return (
        worded_many(
            "Only {count} of {there} structural places was looked at.",
            "Only {count} of {there} structural places were looked at.",
            looked,
            there=there,
        ),
    )


def _change(book: Book) -> Answer:
    gaps, swings = book.material.inspection.gaps, book.material.advice.swings
    if not gaps and not swings:
        return Answer(worded("What could change that?"), worded("Nothing that is known of"))
    kinds = {why: sum(gap.why == why for gap in gaps) for why in _STILL}
    told = ", ".join(f"{kinds[why]} {worded(text)}" for why, text in _STILL.items() if kinds[why])
    points = (
        worded(
            "{points}: {told}.",
            points=counted(
                len(gaps), "{count} point is still open", "{count} points are still open"
            ),
            told=told,
        )
        if told
        else ""
    )
    groups = [_swing(group, book) for group in alike(swings)]
    reasons = [points] if points else []
    shown, more = _shown([*reasons, *groups], book, longest=_LONGEST_SWING)
    return Answer(worded("What could change that?"), _how_many(len(swings)), shown, more)


def _how_many(swings: int) -> str:
    if not swings:
        return worded("No open point by itself; several together might")
    return (
        worded("Any of {swings} open points, by itself", swings=swings)
        if swings > 1
        else worded("One open point, by itself")
    )


def _swing(group: Sequence[Swing], book: Book) -> str:
    """What could change it, with all the places of which the same holds."""
    places = together((swing.gap for swing in group), book)
    told = f"{listed(places, PLACES, by='; ')} ({open_at(group[0].gap)}): {group[0].then}."
    return raised(told)


PLACES = 3
"""Places that one sentence names."""

_STILL: Mapping[str, str] = {
    "not-seen": to_word("not looked at"),
    "cavity-not-seen": to_word("not looked into"),
    "not-probed": to_word("not touched"),
    "unproven": to_word("with metal not reached"),
    "doubtful": to_word("maybe misheard"),
}


def _shown(
    reasons: Sequence[str], book: Book, most: int = _REASONS, longest: int = _LONGEST
) -> tuple[tuple[str, ...], int]:
    """The first reasons with numbers for entries, and how many more there are."""
    told = tuple(short(_plain(reason, book), longest) for reason in reasons[:most])
    return told, len(reasons) - len(told)


def _plain(reason: str, book: Book) -> str:
    """A reason with numbers on the drawing, in a buyer's words; what the answer says already is not
    said again.
    """
    told = with_numbers(reason, book.numbers)
    for said in ("Do not drive: ", "Not enough seen: "):
        told = told.removeprefix(said)
    for said, plain in _PLAIN.items():
        told = told.replace(said, plain)
    return raised(told)


_PLAIN: Mapping[str, str] = {
    "said with a hedge": "of which the inspector was not sure",
    "doubtful: listen again": "maybe misheard",
    "critical mountings": "mountings of steering, suspension, brakes, belts or hitch",
    "hidden cavities not seen inside": "hidden insides seen by nobody",
}
"""What the verdict says to an inspector, and what a buyer understands."""
