"""Page one, for a buyer who has never seen a frame: the answer, what it rests on, what to do next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from voicelog.domain.grade import Gap
from voicelog.domain.recovery import warning
from voicelog.domain.zone import Rails, Role
from voicelog.findings.drive import DO_NOT_DRIVE, NO_DANGER_FOUND, NOT_ENOUGH_SEEN
from voicelog.report.answers import PLACES
from voicelog.report.drawing import cavities_open
from voicelog.report.material import Book
from voicelog.report.once_unsafe import once_unsafe_lines
from voicelog.report.over_time import still_unsafe
from voicelog.report.unseen import together
from voicelog.report.wording import counted, listed, short
from voicelog.tongue import to_word, worded, worded_many

HEADLINES: Mapping[str, str] = {
    DO_NOT_DRIVE: to_word("Do not drive or tow"),
    NO_DANGER_FOUND: to_word("No danger found where examined"),
    NOT_ENOUGH_SEEN: to_word("Not enough seen to say"),
}
"""What large letters say."""

IMPORTANT = (Role.CRITICAL, Role.LOAD_PATH)
"""Places that count as important: what the wheels, belts and steering hang on, and what carries it."""


def under(book: Book) -> str:
    """The sentence below the headline."""
    states = book.material.advice.places
    looked = sum(state.seen.looked for state in states)
    match book.material.inspection.verdict.drive:
        case "do-not-drive":
            number = len(book.against)
            return counted(
                number,
                "{count} finding speaks against moving it.",
                "{count} findings speak against moving it.",
            )
        case "no-danger-found-where-examined":
            if looked == len(states):
                return worded("All {looked} places were examined.", looked=looked)
            return worded_many(
                "{count} of {places} places was examined; the others stay unknown.",
                "{count} of {places} places were examined; the others stay unknown.",
                looked,
                places=len(states),
            )
        case _:
            if not looked:
                return worded(
                    "None of {places} places were looked at, and important ones are open.",
                    places=len(states),
                )
            return worded_many(
                "Only {count} of {places} places was looked at, and important ones are open.",
                "Only {count} of {places} places were looked at, and important ones are open.",
                looked,
                places=len(states),
            )


def counts(book: Book) -> tuple[str, ...]:
    """How many important places were touched, how many hidden insides nobody saw, what was unsafe
    when last it was looked at or when first it was said, and what a recovered log lacks.
    """
    states = book.material.advice.places
    zones = book.material.zone_map.zones
    important = [s for s in states if s.zone in zones and zones[s.zone].role in IMPORTANT]
    touched = sum(state.seen.probed for state in important)
    looked = sum(state.seen.looked and not state.seen.probed for state in important)
    rest = len(important) - touched - looked
    told = [
        worded_many(
            "{count} of {places} important places was touched with a tool",
            "{count} of {places} important places were touched with a tool",
            touched,
            places=len(important),
        )
        if touched
        else worded(
            "None of {places} important places were touched with a tool", places=len(important)
        ),
        worded("{looked} only looked at", looked=looked) if looked else "",
        worded("{rest} not looked at", rest=rest) if rest else "",
    ]
    sentence = f"{', '.join(part for part in told if part)}."
    lacking = warning(book.material.facts, book.material.inspection.findings)
    before = (*still_unsafe(book), *once_unsafe_lines(book))
    return (sentence, *_hidden(book), *before, *filter(None, (lacking,)))


def _hidden(book: Book) -> Iterator[str]:
    hiding = sum(state.seen.inside is not None for state in book.material.advice.places)
    unseen = sum(1 for _ in cavities_open(book))
    if hiding:
        yield (
            worded("Nobody saw {unseen} of {hiding} hidden insides.", unseen=unseen, hiding=hiding)
            if unseen
            else worded("Somebody saw all {hiding} hidden insides.", hiding=hiding)
        )
    if book.material.rails is Rails.MIXED and _may_hide_more(book):
        yield worded(
            "Whether the rails are closed boxes was not said; if so, they hide insides as well."
        )


def _may_hide_more(book: Book) -> bool:
    zones, rails = book.material.zone_map.zones, book.material.rails
    return any(
        state.seen.inside is None
        and state.zone in zones
        and zones[state.zone].may_hide_cavity(rails)
        for state in book.material.advice.places
    )


def next_steps(book: Book) -> tuple[str, ...]:
    """What to do next, the first thing first."""
    return tuple(short(step, 160) for step in _steps(book))


def _steps(book: Book) -> Iterator[str]:
    urgent = {item.entry for item in book.material.advice.work if item.urgency == "now"}
    if book.material.inspection.verdict.drive == DO_NOT_DRIVE:
        yield worded("Leave it where it stands. If it has to go elsewhere, have it carried.")
    if named := book.numbered(urgent | book.against):
        yield worded(
            "Before it is moved on its own wheels, deal with {named}: see the work list.",
            named=named,
        )
    yield from _look(book)
    yield worded("Show this report to whoever is licensed to judge or repair frames where you are.")


def _look(book: Book) -> Iterator[str]:
    """Where to look first: what could change the verdict, else what the work list says."""
    gaps = [swing.gap for swing in book.material.advice.swings if not swing.gap.entry]
    inside = {gap.why for gap in gaps} <= {"cavity-not-seen"}
    if inside:
        gaps = [Gap(zone, "cavity-not-seen", side) for zone, side in cavities_open(book)]
    if gaps:
        where = worded("into what hides an inside") if inside else worded("where nobody has")
        named = listed(together(gaps, book), PLACES, by="; ")
        yield worded("Have somebody look {where}, first at: {named}.", where=where, named=named)
