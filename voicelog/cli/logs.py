"""``voicelog verify``, and what every command on a log that is there shares."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from voicelog.cli.flags import LOG, LOOKED_IN, settings_from, with_options
from voicelog.cli.paragraphs import say
from voicelog.runtime.going_on import LAST, log_meant
from voicelog.tongue import worded

if TYPE_CHECKING:
    from voicelog.journal.reading import Report
    from voicelog.runtime.review import Review

_MOST_PROBLEMS = 1_000
"""That are listed; a journal can have a million lines that are none."""

LOG_OPTIONS = (LOG, LOOKED_IN)
"""LOG, and where "last" is looked for."""


@click.command()
@partial(with_options, options=LOG_OPTIONS)
def verify(log: str, into: Path | None) -> None:
    """Check LOG, a folder or "last" for the newest: is it whole, who signed it, what changed since.

    \b
      voicelog verify last
      voicelog verify ~/backup/20260314T080530Z-pickup    a copy of it

    It checks the order of lines, their chain of hashes, clips, photos, signatures, and the log's own
    copy of the grammar.
    """
    from voicelog.runtime.checked_log import verify as check

    report = check(meant(log, into))
    photos = (
        ("", worded(", 1 photo"))[report.photos]
        if report.photos < 2
        else worded(", {photos} photos", photos=report.photos)
    )
    say(
        worded(
            "{lines} lines, {clips} clips{photos}",
            lines=report.lines,
            clips=report.clips,
            photos=photos,
        )
    )
    for notice in report.notices:
        say("  " + worded("note: {notice}", notice=notice))
    if report.seal:
        say("  " + worded("seal: {seal}", seal=report.seal))
    for problem in report.problems[:_MOST_PROBLEMS]:
        say(("  " + worded("PROBLEM: {problem}", problem=problem)), err=True)
    if len(report.problems) > _MOST_PROBLEMS:
        say(
            (
                "  "
                + worded(
                    "… and {count} more",
                    count=f"{len(report.problems) - _MOST_PROBLEMS:,}",
                )
            ),
            err=True,
        )
    if not report.ok:
        sys.exit(5)
    say(_whole(report))


def _whole(report: Report) -> str:
    """What can be said of a log without a problem; of one made of a damaged log less."""
    if report.lost:
        lines = (
            worded("1 line is")
            if report.lost == 1
            else worded("{lost} lines are", lost=report.lost)
        )
        return worded(
            "The log is whole since it was recovered from a damaged one; {lines} lost in "
            "whole or in part, and what was said there may be worse than anything told "
            "here.",
            lines=lines,
        )
    if report.recovered:
        return worded("The log is whole since it was recovered from a damaged one.")
    if not report.finished:
        return worded(
            "The log is whole as far as it goes. It does not say that the inspection was "
            "finished: lines that were cut off cleanly at its end would not show."
        )
    return worded("The log is whole: nothing was lost or changed since it was written.")


def meant(log: str, into: Path | None) -> Path:
    """The log's folder; settings are read only where they say where the newest lies.

    Raises:
        InputFault: "last" is meant, and there is none.
    """
    if log != LAST:
        return Path(log)
    return log_meant(log, settings_from({"into": into}).into)


def tell_exported(review: Review) -> None:
    """What became of the document beside a log that was changed, once the log is closed."""
    if review.exported:
        say(review.exported, err=True)
