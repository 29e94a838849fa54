"""What each deed of the review screen does."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from typing import TYPE_CHECKING

from voicelog.tui.review import arranging, correcting, finding_way
from voicelog.tui.review.entry_table import EntryTable
from voicelog.tui.review.hearing_anew import hear_anew
from voicelog.tui.review.review_help import ReviewHelp

if TYPE_CHECKING:
    from voicelog.tui.review.app import ReviewApp

Does = Callable[["ReviewApp"], Awaitable[None] | None]


def _word(app: ReviewApp, by: int) -> None:
    app.looking.step_word(by)
    app.review_screen.show_entry()


async def _next(app: ReviewApp) -> None:
    if finding_way.next_doubtful(app.bench) and app.listening.plays_next:
        app.listening.stop()
        await app.listening.play()


def _whole(app: ReviewApp) -> None:
    app.review_screen.toggle_class("-whole")
    app.review_screen.query_one(EntryTable).renew()


def _clear(app: ReviewApp) -> None:
    app.listening.stop()
    arranging.clear(app.bench)


def _help(app: ReviewApp) -> None:
    app.push_screen(ReviewHelp())


def _leave(app: ReviewApp) -> None:
    app.looking.playing.deck.stop()
    app.exit()


DOES: Mapping[str, Does] = {
    "play": lambda app: app.listening.play(),
    "play-here": lambda app: app.listening.play(here=True),
    "next-word": lambda app: _word(app, 1),
    "word-before": lambda app: _word(app, -1),
    "loop": lambda app: app.listening.loop(),
    "slower": lambda app: app.listening.slower(),
    "next": _next,
    "play-next": lambda app: app.listening.toggle_next(),
    "runner-up": lambda app: correcting.take(app.bench, 0),
    "readings": lambda app: correcting.choose_reading(app.bench),
    "confirm": lambda app: correcting.confirm(app.bench),
    "edit": lambda app: correcting.edit(app.bench),
    "retype": lambda app: correcting.retype(app.bench, app.dictate),
    "add": lambda app: correcting.add(app.bench, app.dictate),
    "split": lambda app: arranging.split(app.bench),
    "mark": lambda app: arranging.mark(app.bench),
    "merge": lambda app: arranging.merge(app.bench),
    "move": lambda app: arranging.move(app.bench),
    "withdraw": lambda app: arranging.withdraw(app.bench),
    "undo": lambda app: arranging.undo(app.bench),
    "redo": lambda app: arranging.redo(app.bench),
    "relisten": lambda app: hear_anew(app.bench),
    "filters": lambda app: finding_way.filters(app.bench),
    "find": lambda app: finding_way.find(app.bench),
    "doubtful": lambda app: finding_way.only(app.bench, "doubtful"),
    "unsafe": lambda app: finding_way.only(app.bench, "unsafe"),
    "sort": lambda app: finding_way.sort(app.bench),
    "whole": _whole,
    "sign": lambda app: arranging.sign(app.bench),
    "open": lambda app: finding_way.open_points(app.bench),
    "colours": lambda app: app.change_colours(),
    "help": _help,
    "leave": _leave,
    "clear": _clear,
}
"""Id to what is done; those that wait for somebody give back what is waited for."""
