"""``voicelog work``: what should be done about a vehicle, in the order in which it should be done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from itertools import groupby
from pathlib import Path
from typing import Any

import click
from rich.console import Console
from rich.text import Text

from voicelog.cli.flags import with_options
from voicelog.cli.logs import LOG_OPTIONS, meant
from voicelog.cli.show import console
from voicelog.domain.advice import WorkItem
from voicelog.domain.inert import inert
from voicelog.export.advice import work_to_json
from voicelog.export.json_file import json_text
from voicelog.export.values import texts
from voicelog.findings.work_list import NO_SOURCE, alike, work_list
from voicelog.runtime.going_on import rails_then
from voicelog.runtime.logs import Opened, open_log
from voicelog.tongue import to_word, worded

HEADINGS = {
    "now": to_word("Before it is moved"),
    "repair": to_word("To be repaired"),
    "treat": to_word("To be treated"),
    "look": to_word("To be looked at"),
}
"""What each urgency is called."""


@click.command()
@partial(with_options, options=LOG_OPTIONS)
@click.option("--json", "as_json", is_flag=True, help="Print the list as one JSON object.")
def work(log: str, into: Path | None, as_json: bool) -> None:
    """List the work that LOG asks for, a folder or "last" for the newest, the most urgent first.

    \b
      voicelog work last
      voicelog work logs/20260314T080530Z-pickup --json

    Four parts: what has to be done before the vehicle is moved, repairs, treatment, and what nobody
    has looked at, into, or probed. Within each, the mountings of steering, suspension, brakes, belts
    and hitch come first. While metal has not been reached, the first step is to reach it.

    The steps are those of the log's own rules ([[work]] in its grammar/rules/frame.toml): common
    practice unless a source stands beside them. Licensed practice, the vehicle maker's instructions
    and local law decide what is done.
    """
    opened = open_log(meant(log, into))
    items, cautions = work_of(opened), opened.grammar.rules.work_cautions
    if as_json:
        click.echo(json_text(work_json(items, cautions)), nl=False)
    else:
        show_work(console(), items, cautions)


def work_of(opened: Opened) -> tuple[WorkItem, ...]:
    """The work list of a log, by its own rules."""
    rails = rails_then(opened.log.facts[0].body)
    return work_list(opened.inspection, opened.grammar.zone_map, opened.grammar.rules, rails)


def work_json(items: Iterable[WorkItem], cautions: Iterable[str]) -> dict[str, Any]:
    """The same for a program: items as an exported log has them (``shared/CONTRACT.md``)."""
    return {"work": [work_to_json(item) for item in items], "cautions": texts(cautions)}


def show_work(out: Console, items: Iterable[WorkItem], cautions: Iterable[str]) -> None:
    """Print it for a person; each line can be understood by itself, for screen readers."""
    numbered = list(enumerate(alike(items), 1))
    for urgency, part in groupby(numbered, key=lambda pair: pair[1][0].urgency):
        out.print()
        out.rule(Text(worded(HEADINGS[urgency]), style="bold"), align="left", characters="-")
        for line in (line for number, group in part for line in _lines(number, group)):
            out.print(line)
    if not numbered:
        out.print(worded("Nothing that was said asks for work, and no place is open."))
    out.print()
    for sentence in cautions:
        out.print(Text(f"  {inert(sentence)}"))


def _lines(number: int, group: Sequence[WorkItem]) -> Iterator[Text]:
    """One finding, or the places that need the same, with what to heed and what to do."""
    item, places = group[0], "; ".join(one.place for one in group)
    entry = f" ({item.entry})" if item.entry else ""
    yield Text.assemble((f"{number:>3}. ", "dim"), (places, "bold"), f": {item.what}{entry}")
    for caution in item.cautions:
        yield Text(f"       ! {caution}", style="yellow")
    for step, sentence in enumerate(item.steps, 1):
        yield Text(f"       {step}) {sentence}")
    if item.source != worded(NO_SOURCE):
        yield Text(("       " + worded("Source: {source}", source=item.source)), style="dim")
