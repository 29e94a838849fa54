"""``voicelog amend``: corrections without a screen, for scripts and for screen readers."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from voicelog.cli.flags import LOG, LOOKED_IN, settings_from, with_options

if TYPE_CHECKING:
    from voicelog.config.learned_files import For

AT_THE_BENCH = (
    click.option("--why", default="", metavar="TEXT", help="The reason; needed where something unsafe would be so no longer."),
    click.option("--by", default="", metavar="NAME", help="Who does it [the setting inspector, or the account's name]."),
    LOOKED_IN,
)  # fmt: skip
"""Options of every command that writes to a log at the bench."""

_DEEDS = (
    click.option("--entry", "entries", multiple=True, metavar="ID", help="Which entry; may be repeated, or a range: e10.1..e20.2."),
    click.option("--set", "set_", multiple=True, metavar="SLOT=VALUE", help="A slot's value from now on, units and all; without a value it is dropped. May be repeated."),
    click.option("--drop", multiple=True, metavar="SLOT", help="A slot that is not known after all; may be repeated."),
    click.option("--runner-up", is_flag=False, flag_value=1, type=click.IntRange(1), metavar="[N]", help="Take the Nth other reading of the same words [1]."),
    click.option("--confirm", is_flag=True, help="It stands as it is, in doubt no longer."),
    click.option("--withdraw", is_flag=True, help="It holds no longer; it stays in the log."),
    click.option("--restore", is_flag=True, help="What was withdrawn holds again."),
    click.option("--say", metavar="SENTENCE", help="The sentence as it should have been heard; it is read again."),
    click.option("--split", is_flag=False, flag_value=0, type=click.IntRange(0), metavar="[WORDS]", help="Make two of it: after so many words of its sentence, or left and right."),
    click.option("--merge", metavar="ID", help="Take another entry of the same place into it."),
    click.option("--add", metavar="SENTENCE", help="A new entry; --entry names one whose place it takes over."),
    click.option("--move", multiple=True, metavar="SLOT=VALUE", help="Another place for all entries named; may be repeated."),
    click.option("--undo", is_flag=True, help="Take the last change back."),
    click.option("--redo", is_flag=True, help="Do again what was taken back last."),
)  # fmt: skip

_OUTPUT = (
    click.option("--learn", type=click.Choice(["shop", "person"]), help="Where a mishearing explains it: remember it for everybody, or for whoever amends."),
    click.option("--dry-run", is_flag=True, help="Show what would change, and write nothing."),
    click.option("--json", "as_json", is_flag=True, help="Print what changed as one JSON object."),
)  # fmt: skip


@click.command(no_args_is_help=True)
@LOG
@partial(with_options, options=_DEEDS)
@partial(with_options, options=AT_THE_BENCH)
@partial(with_options, options=_OUTPUT)
def amend(
    log: str,
    entries: tuple[str, ...],
    drop: tuple[str, ...],
    why: str,
    by: str,
    into: Path | None,
    learn: For | None,
    dry_run: bool,
    as_json: bool,
    **options: Any,
) -> None:
    """Put one thing in LOG right: a folder, or "last" for the newest.

    \b
      voicelog amend last --entry e12.1 --set side=right
      voicelog amend last --entry e12.1 --set "size=3/16 in" --set face=
      voicelog amend last --entry e12.1 --set kind=clear --why "only dirt"
      voicelog amend last --entry e9.1 --set kind=not-seen --set reason=shield
      voicelog amend last --entry e12.1 --runner-up     the other reading
      voicelog amend last --entry e12.1 --say "left sill, hole, 20 millimetres"
      voicelog amend last --entry e10.1..e20.2 --move zone=rear-rail
      voicelog amend last --add "right sill, crack" --dry-run
      voicelog amend last --entry e12.1 --set zone=sill --learn shop
      voicelog amend last --undo

    Nothing heard is overwritten: each change is a line of its own with name, time and reason, and
    --undo takes it back, on another day as well. One command makes one change.

    Slots: zone, ordinal, side, face, part, landmark (these are a place); condition, layer, probe, method,
    surround, certainty, spoken_grade; count, size, width, depth, thickness, nominal, loss, area,
    mount_distance; vin, plate, paint_code, spelt, odometer, inspector. --set takes kind and reason too.
    """
    from voicelog.cli.amended import Outcome, print_outcome
    from voicelog.cli.deeds import deed_asked, entries_meant
    from voicelog.cli.logs import tell_exported
    from voicelog.runtime.going_on import log_meant
    from voicelog.runtime.review import Review

    options["slots"] = (*options.pop("set_"), *(f"{slot}=" for slot in drop))
    deed, value = deed_asked(options)
    deed.refuse_lesson(learn)
    settings = settings_from({"into": into})
    with Review.open(log_meant(log, settings.into), settings, by=by, trial=dry_run) as review:
        before = review.inspection()
        named = entries_meant(entries, before.findings, withdrawn=deed.withdrawn)
        deed.refuse_number(named)
        done = deed.call(review, named, value, why)
        outcome = Outcome(done, before, review.inspection(), by=review.by, written=not dry_run)
        if learn is not None:
            outcome = outcome.with_lessons(review, settings, for_=learn, said=value)
        print_outcome(outcome, review.grammar.zone_map, as_json=as_json)
    tell_exported(review)
