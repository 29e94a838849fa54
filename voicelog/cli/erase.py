"""``voicelog erase``: the sound of an utterance, all sound, or a whole inspection."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from voicelog.cli.erase_lines import show_beside, show_gone, show_signed, show_sound, show_whole
from voicelog.cli.flags import LOG, LOOKED_IN, settings_from, with_options
from voicelog.cli.paragraphs import say
from voicelog.cli.progress import counting
from voicelog.domain.inert import inert
from voicelog.errors import UsageFault
from voicelog.runtime.going_on import log_meant
from voicelog.tongue import worded

if TYPE_CHECKING:
    from voicelog.config.settings import Settings

_OPTIONS = (
    click.option("--clip", "clips", multiple=True, metavar="ID", help="An utterance (u7), or an entry that came of it (e7.1); more of them may follow."),
    click.option("--all-sound", is_flag=True, help="Every clip of the log."),
    click.option("--inspection", is_flag=True, help="The whole log with its words, pictures and signatures."),
    click.option("--why", default="", metavar="TEXT", help="The reason; it is kept in the log."),
    click.option("--by", default="", metavar="NAME", help="Who does it [the setting inspector, or the account's name]."),
    click.option("--yes", is_flag=True, help="Do not ask."),
    click.option("--dry-run", is_flag=True, help="Tell what would be erased, and erase nothing."),
    LOOKED_IN,
)  # fmt: skip


@click.command(no_args_is_help=True)
@LOG
@click.argument("more", nargs=-1, metavar="[ID]...")
@partial(with_options, options=_OPTIONS)
def erase(log: str, more: tuple[str, ...], into: Path | None, **asked: Any) -> None:
    """Erase sound of LOG, or all of it: a folder, or "last" for the newest.

    \b
      voicelog erase last --clip u7 u8    the sound of two utterances
      voicelog erase last --clip e7.1     ... of what an entry came of
      voicelog erase last --all-sound     all clips; words and entries stay
      voicelog erase last --inspection    everything; its name is asked for first
      voicelog erase last --inspection --dry-run

    Erased sound leaves its hash and a line that says who erased it, and when: entries and words stay,
    and a log that was signed shows that it was changed after signing. The sound joined by voicelog
    export --to vtt goes as well, where it lies in the log's folder.

    Nothing outside the log's folder is touched, and no link is followed. Exports beside it that name
    the log are listed, and so is a damaged log that it was recovered from; what was copied elsewhere, voicelog cannot know. Files are overwritten before
    they are taken away, but a solid-state disk, a snapshot or a backup may keep the old bytes.
    """
    names = (*asked["clips"], *more)
    _refuse_unclear(names, **asked)
    settings = settings_from({"into": into})
    folder = Path(os.path.realpath(log_meant(log, settings.into)))
    if asked["inspection"]:
        _erase_inspection(folder, yes=asked["yes"], dry_run=asked["dry_run"])
    else:
        _erase_sound(folder, settings, names, **asked)


def _refuse_unclear(
    names: Sequence[str], *, clips: Sequence[str], all_sound: bool, inspection: bool, **_: Any
) -> None:
    """One thing at a time.

    Raises:
        UsageFault: nothing, or more than one thing, is asked for.
    """
    if (bool(clips), all_sound, inspection).count(True) != 1 or (names and not clips):
        raise UsageFault(
            worded("Say what is to be erased"),
            worded("One of --clip u7, --all-sound or --inspection; --dry-run shows it first."),
        )


def _erase_sound(
    folder: Path,
    settings: Settings,
    names: Sequence[str],
    *,
    all_sound: bool,
    by: str,
    why: str,
    yes: bool,
    dry_run: bool,
    **_: Any,
) -> None:
    from voicelog.cli.logs import tell_exported
    from voicelog.runtime.erasing import all_sound as every_clip
    from voicelog.runtime.erasing import erase_sound, sound_of
    from voicelog.runtime.exports_about import exports_beside, logs_beside
    from voicelog.runtime.review import Review

    with Review.open(folder, settings, by=by, trial=dry_run) as review:
        going = every_clip(review) if all_sound else sound_of(review, names)
        opened = review.facts[0].body
        show_sound(going, folder)
        show_beside(exports_beside(folder, str(opened.get("log_id", ""))))
        show_beside(logs_beside(folder, opened))
        if dry_run or not (going.lines or going.files):
            say(worded("Nothing was erased."))
            return
        review.next_seq  # noqa: B018 - refused before anybody is asked, where somebody writes it
        if all_sound and not yes:
            _ask(folder)
        with counting("erasing") as follow:
            gone = erase_sound(review, going, why=why, progress=follow)
    show_gone(gone)
    show_signed(review)
    tell_exported(review)


def _erase_inspection(folder: Path, *, yes: bool, dry_run: bool) -> None:
    from voicelog.journal.lock import take_lock
    from voicelog.journal.storage import storing
    from voicelog.runtime.erasing_all import erase_inspection, whole_inspection

    whole = whole_inspection(folder)
    show_whole(whole)
    if dry_run:
        say(worded("Nothing was erased."))
        return
    with storing(worded("The log {name}", name=folder.name)):
        take_lock(folder).release()  # refused here, before anybody is asked
    if not yes:
        _ask(folder)
    with counting("erasing") as follow:
        gone = erase_inspection(whole, follow)
    show_gone(gone)
    if folder.exists():
        say(worded("The folder is still there: {folder}", folder=inert(str(folder))))


def _ask(folder: Path) -> None:
    """Wait until the log's name is typed.

    Raises:
        UsageFault: something else is, or nothing.
    """
    name = inert(folder.name)
    click.echo(
        (worded("This cannot be undone. Type the log's name to go on ({name}):", name=name) + " "),
        nl=False,
        err=True,
    )
    if sys.stdin.readline().strip() != name:
        raise UsageFault(
            worded("Nothing was erased: that is not its name"),
            worded("Type the name of its folder; a script says --yes."),
        )
