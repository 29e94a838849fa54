"""``voicelog why``: why an entry has its grade, why the verdict is as it is, and what would change them."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import click

from voicelog.cli.flags import REGIONS, settings_from, with_options
from voicelog.cli.logs import LOG_OPTIONS


@click.command(no_args_is_help=True)
@partial(with_options, options=LOG_OPTIONS[:1])
@click.argument("entries", nargs=-1, metavar="[ENTRY]...")
@partial(with_options, options=LOG_OPTIONS[1:])
@REGIONS
@click.option("--all", "everything", is_flag=True, help="All that could change the verdict.")
@click.option("--json", "as_json", is_flag=True, help="Print it as one JSON object.")
def why(
    log: str,
    entries: tuple[str, ...],
    into: Path | None,
    regions: tuple[str, ...],
    everything: bool,
    as_json: bool,
) -> None:
    """Say why LOG's entries have their grades: a folder, or "last" for the newest.

    \b
      voicelog why last e12.1              one entry: its rules, what could be
      voicelog why last e10.1..e20.2       all from one to another
      voicelog why last                    the verdict, and what could change it
      voicelog why last --all              nothing left out
      voicelog why last e12.1 --region uk  and public rules to look up there
      voicelog why last e12.1 --json       for a program

    An entry's rules are those of the log's own grammar, in the order in which they worked: one gives
    the grade, others keep it from being better or make it worse. Below stands which single further
    thing would have changed it: a probe, bare metal, a thickness, a distance. Where a measured wall
    lies so near a limit that the gauge cannot tell, it says so.

    Of the verdict it tells what every open place or entry could come to, one at a time: with the
    worst that may plausibly be there, and with the best.

    It grades what was said and certifies nothing. Public rules are told to be looked up: nothing here
    says whether a vehicle meets them.
    """
    from voicelog.cli.deeds import entries_meant
    from voicelog.cli.why_lines import Why, print_entries, print_verdict
    from voicelog.runtime.going_on import log_meant
    from voicelog.runtime.logs import open_log

    settings = settings_from({"into": into, "regions": regions})
    told = Why(open_log(log_meant(log, settings.into)), settings.regions)
    if not entries:
        print_verdict(told, everything=everything, as_json=as_json)
        return
    named = entries_meant(entries, told.opened.inspection.findings)
    print_entries(told, [told.finding(name) for name in named], as_json=as_json)
