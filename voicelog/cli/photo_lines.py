"""The matching of pictures as a table, what the log has and lacks, and the same as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timezone
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.markup import escape
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from voicelog.cli.paragraphs import line_width, paragraph
from voicelog.cli.show import console
from voicelog.domain.inert import inert
from voicelog.domain.local_time import stamp
from voicelog.domain.photo import Photo, body_of
from voicelog.findings.places import place_in_words
from voicelog.review.photo_clock import Shot, difference_text
from voicelog.review.photo_matching import Match
from voicelog.runtime.photo_clocks import zone_of
from voicelog.runtime.photos import Plan, lacks_of
from voicelog.tongue import worded

if TYPE_CHECKING:
    from voicelog.runtime.review import Review

_NAME = 40
_SHOWN = 12
"""Notes and unmatched pictures shown in full; the rest is counted."""
_WIDE = 110
"""Columns from which the reasons have one of their own."""


def show_plan(plan: Plan, review: Review) -> None:
    """The clock, the table, what is unmatched or there already, and what went wrong."""
    out = console()
    for told in plan.clock.told:
        for line in paragraph("", inert(told), line_width()):
            out.print(Text(line))
    if plan.matches:
        show = _show_table if out.width >= _WIDE else _show_rows
        show(out, plan.matches, review)
    else:
        out.print(
            worded("No new picture matches an entry")
            if plan.already
            else worded("No picture matches an entry")
        )
    zone = zone_of(review)
    _show(out, worded("Unmatched"), [_unmatched(one, zone) for one in plan.unmatched])
    _show(out, worded("Already there"), [_already(*pair) for pair in plan.already.items()])
    _show(out, worded("Notes"), plan.notes)


def lacking_lines(review: Review, plan: Plan | None = None) -> Iterator[str]:
    """What still lacks its picture, as it would be with the plan."""
    lacks = lacks_of(review, plan)
    yield worded("Lacks a picture: {count}", count=len(lacks) or worded("nothing"))
    for lack in lacks:
        yield from paragraph("  - ", inert(lack.text), line_width())


def kept_lines(review: Review) -> Iterator[str]:
    """The pictures in the log."""
    photos, zone = review.photos(), zone_of(review)
    yield worded("Pictures: {count}", count=len(photos) or worded("none"))
    for photo in photos:
        entries = ", ".join(photo.entries) or worded("no entry")
        when = inert(stamp(photo.taken, zone, seconds=True), _NAME)
        taken = worded(", taken {taken}", taken=when) if photo.taken else ""
        original = inert(photo.original, _NAME)
        yield f"  {photo.name}  {inert(entries)}  {photo.confidence:.0%}{taken}  ({original})"


def moved_line(photo: Photo, review: Review) -> str:
    """What a picture shows from now on."""
    shown = [review.finding(name).entry for name in photo.entries]
    where = "; ".join(f"{e.id}, {_place(review, e.id)}" for e in shown) or worded("no entry")
    return inert(worded("{photo} shows {where}", photo=photo.name, where=where))


def photos_json(
    review: Review, plan: Plan | None = None, *, written: Sequence[Photo] = ()
) -> dict[str, Any]:
    """All of it for a program.

    Args:
        review: the log, as it is now.
        plan: the matching, where one was made.
        written: the pictures of it that were kept.
    """
    told: dict[str, Any] = {"log": str(review.folder)}
    if plan is not None:
        zone = zone_of(review)
        told |= {
            "clock": _clock_json(plan),
            "matched": [_match_json(one, review, zone) for one in plan.matches],
            "unmatched": [_match_json(one, review, zone) for one in plan.unmatched],
            "already": {inert(name): photo.file for name, photo in plan.already.items()},
            "notes": list(plan.notes),
            "written": [photo.file for photo in written],
        }
    photos = [{**body_of(p), "line": p.seq, "original": inert(p.original)} for p in review.photos()]
    lacks = lacks_of(review, None if written else plan)
    return told | {
        "photos": photos,
        "lacking": [
            {"what": one.what, "zone": one.zone, "claimed": one.claimed, "text": inert(one.text)}
            | ({"side": one.side} if one.side else {})
            | ({"entry": one.entry} if one.entry else {})
            for one in lacks
        ],
    }


def _clock_json(plan: Plan) -> dict[str, Any]:
    clock = plan.clock
    told = {
        "ahead_s": clock.ahead.total_seconds(),
        "told": [inert(one) for one in clock.told],
    }
    if clock.proposal is None:
        return told
    proposal = clock.proposal
    return told | {
        "proposal": {
            "clock_difference": difference_text(proposal.ahead),
            "ahead_s": proposal.ahead.total_seconds(),
            "hits": proposal.hits, "claims": proposal.claims, "confidence": proposal.confidence,
        }
    }  # fmt: skip


def _match_json(one: Match, review: Review, zone: timezone) -> dict[str, Any]:
    shot = one.shot
    told: dict[str, Any] = {"picture": inert(shot.name)}
    if shot.taken is not None:
        told |= {"taken": shot.taken.astimezone(zone).isoformat(timespec="milliseconds")}
    if one.entries:
        told |= {"entries": list(one.entries), "place": _place(review, one.entries[0])}
    return told | {
        "confidence": one.confidence, "because": [inert(text) for text in one.because],
        "only_file_time": shot.weak, "zone_assumed": shot.assumed,
    }  # fmt: skip


def _show_table(out: Console, matches: Sequence[Match], review: Review) -> None:
    table = Table(box=None, padding=(0, 2, 0, 0), header_style="bold")
    for name in (
        worded("Picture"),
        worded("Taken"),
        worded("Entry"),
        worded("Place"),
        worded("Sure"),
        worded("Why"),
    ):
        table.add_column(name, no_wrap=name in ("Taken", "Sure"), overflow="fold")
    for one in matches:
        table.add_row(*_cells(one, review), Text(_why(one), style="dim"))
    out.print(table, soft_wrap=False)


def _show_rows(out: Console, matches: Sequence[Match], review: Review) -> None:
    """The same in a narrow window: a picture's place and reasons stand below it."""
    for one in matches:
        picture, taken, entries, place, sure = _cells(one, review)
        out.print(f"{picture}  {taken}  {entries}  {sure}")
        told = (Text(place, style="bold"), Text(_why(one), style="dim"))
        out.print(*(Padding(text, (0, 0, 0, 4)) for text in told), sep="\n", soft_wrap=False)


def _cells(one: Match, review: Review) -> tuple[str, ...]:
    """Picture, taken, entry, place, sure: inert, and without a mark that rich would take for its own."""
    place = _place(review, one.entries[0]) if one.entries else ""
    name, when = inert(one.shot.name, _NAME), _when(one.shot, zone_of(review))
    cells = (name, when, ", ".join(one.entries) or "none", place, f"{one.confidence:.0%}")
    return tuple(escape(cell) for cell in cells)


def _why(one: Match) -> str:
    return inert("; ".join(one.because))


def _show(out: Console, heading: str, lines: Sequence[str]) -> None:
    if not lines:
        return
    out.print(f"{heading}: {len(lines)}")
    for told in lines[:_SHOWN]:
        for line in paragraph("  - ", told, line_width()):
            out.print(Text(line))
    if len(lines) > _SHOWN:
        out.print("  " + worded("… and {count} more", count=len(lines) - _SHOWN))


def _unmatched(one: Match, zone: timezone) -> str:
    told = inert("; ".join(one.because))
    return f"{inert(one.shot.name, _NAME)}, {_when(one.shot, zone)}: {told}"


def _already(name: str, photo: Photo) -> str:
    return worded("{name} is {photo}", name=inert(name, _NAME), photo=photo.file)


def _place(review: Review, entry: str) -> str:
    return inert(place_in_words(review.finding(entry).entry.slots, review.grammar.zone_map))


def _when(shot: Shot, zone: timezone) -> str:
    """Local time where the log was opened; a file's own time is marked as doubtful."""
    if shot.taken is None:
        return "?"
    return f"{stamp(shot.taken.isoformat(), zone, seconds=True)}{'?' if shot.weak else ''}"
