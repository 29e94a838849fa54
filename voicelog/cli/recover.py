"""``voicelog recover``: what is whole in a damaged log, written into a new one."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from voicelog.cli.flags import LOG
from voicelog.cli.logs import meant
from voicelog.cli.paragraphs import line_width, paragraph, say
from voicelog.cli.progress import counting
from voicelog.domain.inert import inert
from voicelog.tongue import worded

if TYPE_CHECKING:
    from voicelog.journal.pieces import Restored
    from voicelog.runtime.damaged import Plan
    from voicelog.runtime.recovering import Recovered

_SHOWN = 20
"""Pieces that are listed; left-out.jsonl has all of them."""


@click.command(no_args_is_help=True)
@LOG
@click.option(
    "--into",
    type=click.Path(path_type=Path),
    help="Folder in which the new log's folder is made [beside the damaged one].",
)
@click.option(
    "--map", "map_id", default="", metavar="NAME",
    help="The map that was in force; needed only where the line that says so is lost.",
)  # fmt: skip
@click.option("--dry-run", is_flag=True, help="Tell what could be recovered, and write nothing.")
def recover(log: str, into: Path | None, map_id: str, dry_run: bool) -> None:
    """Write what is whole in LOG, a damaged log, into a new one; LOG stays as it is, byte for byte.

    \b
      voicelog verify LOG                    names the damage, with line numbers
      voicelog recover LOG --dry-run         what could be recovered
      voicelog recover LOG                   the new log is LOG-recovered
      voicelog recover LOG --into ~/rescued

    Each line of a log holds the hash of the one before. So a line is taken over where another
    vouches for it; the last one, and one in front of a gap, is taken on trust, and named. A line in
    which a single bit turned over is found again by its hash. Line ends and marks that an editor put
    in are taken off. Numbers and ids stay what they were; a number whose line is lost stays empty.

    All that is left out lies in left-out.jsonl of the new log. Clips and pictures are copied; where
    one is not as it was kept, its line says so. Signatures vouched for the old bytes, and vouch for
    nothing in the new log.
    """
    from voicelog.runtime.damaged import is_damaged, plan_recovery
    from voicelog.runtime.recovering import recover as write

    folder = meant(log, None)
    if not is_damaged(folder):
        say(worded("The log is whole; there is nothing to recover. voicelog verify tells more."))
        return
    with counting(worded("reading the lines")) as follow:
        plan = plan_recovery(folder, map_id=map_id, progress=follow)
    for line in _told(plan):
        say(line)
    if dry_run:
        say(worded("Nothing was written."))
        return
    with counting(worded("copying clips and pictures")) as follow:
        new = write(plan, into, follow)
    _tell_new(new, plan)


def _told(plan: Plan) -> Iterator[str]:
    """What can be recovered and what cannot, in lines for a terminal."""
    yield worded(
        "{kept} of {highest} lines can be recovered.", kept=plan.kept, highest=plan.highest
    )
    for sentence in _sentences(plan):
        yield from paragraph("  - ", inert(sentence), line_width())
    missing = plan.missing
    if missing:
        yield worded("Left out:")
    for rest in missing[:_SHOWN]:
        yield from paragraph(
            "  - ",
            inert(worded("line {number}: {why}", number=rest.number, why=rest.why)),
            line_width(),
        )
    if len(missing) > _SHOWN:
        yield ("  " + worded("… and {count} more", count=len(missing) - _SHOWN))


def _sentences(plan: Plan) -> Iterator[str]:
    from voicelog.domain.recovery import spans

    told, taken = plan.told, plan.taken
    if 1 not in taken.lines:
        yield (worded("The line that opened the log is lost:") + " ") + (
            worded("what is left of it is taken on trust")
            if taken.opening
            else worded("map {map} is taken, and rails as mixed", map=plan.grammar.map)
        )
    if plan.put_right:
        yield worded("Put right, and vouched for: {spans}", spans=spans(plan.put_right))
    if taken.on_trust:
        yield worded(
            "Taken on trust, since no line behind vouches for it: {spans}",
            spans=spans(taken.on_trust),
        )
    yield from _lost(told)
    if plan.orphans:
        names = ", ".join(plan.orphans[:_SHOWN])
        yield worded(
            "Files that no line tells of, kept: {names}. Sound can be heard again: voicelog "
            "hear FILE",
            names=names,
        )
    yield from plan.grammar.problems


def _lost(told: Restored) -> Iterator[str]:
    """What is not in the new log, or vouches for nothing in it."""
    from voicelog.domain.recovery import spans

    if told.lost:
        yield worded(
            "Numbers that stay empty: {spans}. What was said there is missing",
            spans=spans(told.lost),
        )
    if told.cut:
        yield worded("Lines with changes to entries that are lost: {spans}", spans=spans(told.cut))
    if told.twice:
        yield (
            worded(
                "Lines that two programs wrote at once: {spans}. What the one that ends earlier "
                "changed is left out",
                spans=spans(told.twice),
            )
        )
    if told.silent:
        yield worded(
            "Sound that is missing or altered: {silent}", silent=", ".join(told.silent[:_SHOWN])
        )
    if told.pictures:
        yield worded(
            "Pictures that are missing or altered: {pictures}",
            pictures=", ".join(told.pictures[:_SHOWN]),
        )
    if told.signed:
        yield worded(
            "Signatures that vouch for nothing any more: line {spans}", spans=spans(told.signed)
        )
    if told.denied:
        yield worded(
            "What was signed was changed afterwards, nobody knows where: line {spans}",
            spans=spans(told.denied),
        )


def _tell_new(new: Recovered, plan: Plan) -> None:
    say(worded("The new log: {folder}", folder=inert(str(new.folder))))
    if plan.left:
        say(worded("What was left out of it: left-out.jsonl in that folder"))
    if new.trouble:
        say(
            (
                "  "
                + worded("PROBLEM: it cannot be opened yet: {trouble}", trouble=inert(new.trouble))
            ),
            err=True,
        )
    for problem in new.check.problems:
        say(("  " + worded("PROBLEM: {problem}", problem=inert(problem))), err=True)
    if new.trouble or new.check.problems:
        sys.exit(5)
    say(worded("It is whole by itself. Look through it before you sign it: voicelog review LOG"))
