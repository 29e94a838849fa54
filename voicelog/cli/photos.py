"""``voicelog photos``: pictures as evidence, matched to entries and kept beside the log."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from voicelog.cli.flags import LOG, LOOKED_IN, settings_from, with_options
from voicelog.cli.paragraphs import say
from voicelog.errors import UsageFault
from voicelog.tongue import worded, worded_many

if TYPE_CHECKING:
    from voicelog.domain.photo import Photo
    from voicelog.runtime.photos import Plan
    from voicelog.runtime.review import Review

_CLOCK = (
    click.option("--clock-difference", "difference", default="", metavar="TIME", help="How far the camera's clock is ahead: +2m30s; behind: -1h."),
    click.option("--calibrate", default="", metavar="PICTURE=WHEN", help="Find it by one picture, taken at a known time or of a known entry: IMG_1.jpg=09:05:30, IMG_1.jpg=e9.1."),
)  # fmt: skip

_MATCHING = (
    click.option("--entry", "by_hand", multiple=True, metavar="ID=PICTURE", help="This picture shows this entry, whatever the time says; may be repeated."),
    click.option("--at-least", "least", type=click.FloatRange(0, 1), default=0.5, show_default=True, help="A matching less sure than this is none."),
    click.option("--unmatched", is_flag=True, help="Keep pictures that show no entry as well."),
    click.option("--keep-location", is_flag=True, help="Leave in the files where they were taken; it is taken out otherwise."),
    click.option("--move", "moves", multiple=True, metavar="PICTURE=ENTRY", help="A picture of the log shows another entry (p42=e9.1), or none (p42=none); may be repeated."),
)  # fmt: skip

_OUTPUT = (
    click.option("--by", default="", metavar="NAME", help="Who does it [the setting inspector, or the account's name]."),
    LOOKED_IN,
    click.option("--yes", is_flag=True, help="Write without asking."),
    click.option("--dry-run", is_flag=True, help="Show the matching, and write nothing."),
    click.option("--json", "as_json", is_flag=True, help="Print it as one JSON object."),
)  # fmt: skip


@click.command(no_args_is_help=True)
@LOG
@click.argument("folder", required=False, type=click.Path(path_type=Path))
@partial(with_options, options=_CLOCK)
@partial(with_options, options=_MATCHING)
@partial(with_options, options=_OUTPUT)
def photos(
    log: str,
    folder: Path | None,
    difference: str,
    calibrate: str,
    by_hand: tuple[str, ...],
    least: float,
    unmatched: bool,
    keep_location: bool,
    moves: tuple[str, ...],
    by: str,
    into: Path | None,
    yes: bool,
    dry_run: bool,
    as_json: bool,
) -> None:
    """Match the pictures below FOLDER to the entries of LOG, a folder or "last" for the newest.

    \b
      voicelog photos last ~/Pictures/pickup     shows the matching, then asks
      voicelog photos last ~/Pictures/pickup --dry-run
      voicelog photos last pictures --clock-difference=+2m30s --yes
      voicelog photos last pictures --calibrate IMG_0001.jpg=e9.1
      voicelog photos last pictures --entry e9.1=IMG_0007.jpg
      voicelog photos last --move p42=e9.1
      voicelog photos last                       what it has, and what it lacks

    It goes by the time in the picture (EXIF, with its time zone; the log's where it names none), by
    "take a photo" as it was said, and by place. Each picture that is kept is copied with its
    SHA-256; where it was taken is taken out. JPEG, PNG, WebP, TIFF and HEIC.
    """
    from voicelog.cli.logs import tell_exported
    from voicelog.runtime.going_on import log_meant
    from voicelog.runtime.photos import Wishes
    from voicelog.runtime.review import Review

    settings = settings_from({"into": into})
    wishes = Wishes(difference, calibrate, by_hand, least, unmatched)
    reads = dry_run or (folder is None and not moves)
    with Review.open(log_meant(log, settings.into), settings, by=by, trial=reads) as review:
        _move(review, moves, dry_run, as_json)
        if folder is not None:
            from voicelog.runtime.photos import plan_photos

            if not dry_run:
                _ = review.next_seq  # a log that cannot be written is told before anybody waits
            plan = plan_photos(review, folder, wishes)
            _match(review, plan, keep_location, yes, dry_run, as_json)
        elif not moves:
            _tell(review, as_json)
    tell_exported(review)


def _move(review: Review, moves: tuple[str, ...], dry_run: bool, as_json: bool) -> None:
    from voicelog.cli.photo_lines import moved_line
    from voicelog.runtime.photo_keeping import move_photo

    for text in moves:
        line = moved_line(move_photo(review, text), review)
        say(worded("{line} (not written)", line=line) if dry_run else line, err=as_json)


def _tell(review: Review, as_json: bool) -> None:
    """The pictures that the log has, and what lacks one."""
    from voicelog.cli.photo_lines import kept_lines, lacking_lines, photos_json
    from voicelog.export.json_file import json_text

    if as_json:
        click.echo(json_text(photos_json(review)), nl=False)
        return
    for line in (*kept_lines(review), *lacking_lines(review)):
        say(line)


def _match(
    review: Review, plan: Plan, keep_place: bool, yes: bool, dry_run: bool, as_json: bool
) -> None:
    from voicelog.cli.photo_lines import lacking_lines, photos_json, show_plan
    from voicelog.export.json_file import json_text

    if not as_json:
        show_plan(plan, review)
    kept: list[Photo] = []
    undecided = plan.clock.proposal is not None and not dry_run
    if plan.matches and not dry_run and not undecided and (yes or _is_wanted(plan, as_json)):
        kept = _write(review, plan, keep_place, as_json)
    if as_json:
        click.echo(json_text(photos_json(review, plan, written=kept)), nl=False)
    else:
        for line in lacking_lines(review, None if kept else plan):
            say(line)
    if plan.matches and undecided:
        raise UsageFault(
            worded("The camera's clock may be off, and nothing was written"),
            worded("Say --clock-difference as proposed, or --clock-difference=+0s if it is right"),
        )
    if plan.matches and not (dry_run or yes or _is_asked(as_json)):
        raise UsageFault(
            worded("Nothing was written"), worded("Say --yes to write this, or --dry-run")
        )


def _is_asked(as_json: bool) -> bool:
    return not as_json and sys.stdin.isatty() and sys.stdout.isatty()


def _is_wanted(plan: Plan, as_json: bool) -> bool:
    return _is_asked(as_json) and click.confirm(
        worded_many(
            "Copy this picture into the log?",
            "Copy these {count} pictures into the log?",
            len(plan.matches),
        )
    )


def _write(review: Review, plan: Plan, keep_place: bool, as_json: bool) -> list[Photo]:
    """Each picture is told of once it is kept, so that a full disk leaves no doubt which are."""
    from voicelog.runtime.photo_keeping import write_photos

    kept = []
    for one in write_photos(review, plan, keep_place=keep_place):
        if isinstance(one, str):
            say(("  " + worded("not kept: {picture}", picture=one)), err=True)
        else:
            kept.append(one)
    if not as_json:
        say(
            worded(
                "Kept: {count} in {folder}",
                count=len(kept),
                folder=review.folder / "photos",
            )
        )
    return kept
