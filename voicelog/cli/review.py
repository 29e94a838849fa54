"""``voicelog review``: a log gone through, put right and signed; on a screen, or as lines."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

import click

from voicelog.cli.flags import LOG, LOOKED_IN, settings_from, with_options
from voicelog.domain.choices import THEMES
from voicelog.domain.grade import Grade
from voicelog.domain.slot import SIDES
from voicelog.tongue import worded
from voicelog.tui.terminal import can_draw

if TYPE_CHECKING:
    from voicelog.config.settings import Settings
    from voicelog.runtime.review import Review

_SCREEN = (
    click.option("--by", default="", metavar="NAME", help="Who reviews [the setting inspector, or the account's name]."),
    LOOKED_IN,
    click.option("--theme", type=click.Choice(THEMES), help="Colours of the screen [dark]."),
    click.option("--speaker", metavar="NAME", help="Output device: its number or a part of its name."),
    click.option("--microphone", metavar="NAME", help="Input device for a sentence spoken anew."),
)  # fmt: skip

_LINES = (
    click.option("--plain", is_flag=True, help="Lines of text instead of a screen; so it is where nobody looks at a terminal, too."),
    click.option("--json", "as_json", is_flag=True, help="Print them as one JSON object."),
    click.option("--entry", metavar="ID", help="Only this entry, in full."),
    click.option("--doubtful", is_flag=True, help="Only doubtful entries."),
    click.option("--unsafe", is_flag=True, help="Only unsafe entries."),
    click.option("--no-photo", is_flag=True, help="Only entries that need a photo and have none."),
    click.option("--changed-after-signing", is_flag=True, help="Only entries changed since the log was signed."),
    click.option("--no-withdrawn", is_flag=True, help="Leave out what was withdrawn."),
    click.option("--remarks", is_flag=True, help="Idle remarks too."),
    click.option("--zone", metavar="ZONE", help='Only this place, by its name or id; "unplaced" for none.'),
    click.option("--side", type=click.Choice(SIDES), help="Only this side."),
    click.option("--grade", type=click.Choice([str(grade) for grade in Grade]), help="Only this grade."),
    click.option("--find", default="", metavar="TEXT", help="Only entries with these words."),
    click.option("--order", type=click.Choice(["time", "zone", "grade"]), default="time", help="What they are sorted by [time]."),
)  # fmt: skip


@click.command(no_args_is_help=True)
@LOG
@partial(with_options, options=_SCREEN)
@partial(with_options, options=_LINES)
def review(log: str, plain: bool, as_json: bool, entry: str | None, **flags: Any) -> None:
    """Go through LOG, a folder or "last": hear what was doubtful, put it right, sign.

    \b
      voicelog review last                         the screen; ? lists its keys
      voicelog review last --plain --doubtful      the same as lines
      voicelog review last --plain --entry e12.1   one entry in full
      voicelog review last --json --unsafe         for scripts

    Every correction is a line of its own in the log, with who, when and why; nothing heard is
    overwritten. Without a screen voicelog amend and voicelog sign do the same.
    """
    from voicelog.cli.logs import tell_exported
    from voicelog.runtime.going_on import log_meant
    from voicelog.runtime.review import Review

    names = ("into", "theme", "speaker", "microphone")
    settings = settings_from({name: flags.pop(name) for name in names})
    by = flags.pop("by")
    with Review.open(log_meant(log, settings.into), settings, by=by) as opened:
        if plain or as_json or entry or not can_draw():
            from voicelog.cli.review_lines import print_review

            print_review(opened, entry=entry, as_json=as_json, **flags)
        else:
            _run_screen(opened, settings)
    tell_exported(opened)


def _run_screen(opened: Review, settings: Settings) -> None:
    """The screen; should it fail, what it said of that is shown once the terminal is back."""
    from voicelog.announce.clip_player import open_clip_player
    from voicelog.tui.review.app import ReviewApp
    from voicelog.tui.review.playing import LateDeck
    from voicelog.tui.terminal import to_ourselves

    deck = LateDeck(lambda: open_clip_player(settings.speaker))
    app, failure = ReviewApp(opened, settings, deck), ""
    try:
        with to_ourselves() as aside:
            app.run()
            if app.return_code:
                failure = aside()
    finally:
        deck.close()
    if failure:
        click.echo(failure, err=True)
        raise click.ClickException(worded("The screen failed; voicelog review --plain goes on."))
