"""What a person reads while an inspection runs, and at its end."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from rich.console import Console
from rich.markup import escape
from rich.text import Text

from voicelog.cli.ending import gap_lines, past_lines, spelt_lines
from voicelog.cli.inert_console import inert_console
from voicelog.cli.vehicle_lines import vehicle_lines
from voicelog.cli.wording import finding_lines
from voicelog.domain.entry import Inspection
from voicelog.domain.grade import Verdict
from voicelog.domain.inert import inert
from voicelog.domain.reading import Act
from voicelog.domain.slot import Slots
from voicelog.domain.vehicle import Vehicle
from voicelog.domain.zone import ZoneMap
from voicelog.findings.places import place_in_words
from voicelog.runtime.event import Event
from voicelog.tongue import to_word, worded

VERDICT = {
    "drive": to_word("Move it today?"),
    "work": to_word("Work:"),
    "tier": to_word("Frame overall:"),
}
"""The questions that a verdict answers, by the name of the answer."""

_ACTS = {
    Act.STAND_BY: to_word('standing by: nothing is kept until "{resume}"'),
    Act.GO_AHEAD: to_word("listening again"),
}


def console() -> Console:
    """Standard output: on a terminal lines end between words, elsewhere they stay whole.

    No colour where NO_COLOR is set or nobody looks at a terminal.
    """
    return inert_console()


def show_event(
    out: Console, event: Event, zone_map: ZoneMap, *, resume: str = "logbook, go ahead"
) -> None:
    """The utterance as heard, and what became of it.

    Args:
        out: where to print.
        event: what one utterance did.
        zone_map: titles of the zones.
        resume: what ends standing by, as :func:`voicelog.runtime.actions.resume_phrase` gives it.
    """
    if not event.turn.keep:
        out.print(
            Text(("      " + worded("(standing by: an utterance was not kept)")), style="dim")
        )
        return
    heard = inert(event.heard.text) or worded("(nothing understood)")
    out.print(Text.assemble((f"{event.utterance:>5} ", "dim"), ("“", "dim"), heard, ("”", "dim")))
    for finding in event.findings:
        for line in finding_lines(finding, zone_map):
            out.print(line)
    if event.turn.refused:
        out.print(
            Text(
                ("      " + worded("refused: {refused}", refused=event.turn.refused)),
                style="yellow",
            )
        )
    if event.turn.finished:
        out.print(Text(("      " + worded("end of the inspection")), style="dim"))
    elif event.turn.act in _ACTS:
        out.print(Text(f"      {worded(_ACTS[event.turn.act], resume=resume)}", style="dim"))
    elif event.heard.text.strip() and _came_to_nothing(event):
        out.print(Text(f"      {_no_entry(event.turn.place, zone_map)}", style="dim"))


def _came_to_nothing(event: Event) -> bool:
    """It named a place at most: whoever said more than that has to see that it was not taken."""
    turn = event.turn
    said = turn.act is Act.REPORT and not turn.answered
    return said and not event.findings and not turn.refused


def _no_entry(here: Slots, zone_map: ZoneMap) -> str:
    if "zone" not in here:
        return worded("no entry")
    return worded("no entry; you are at: {place}", place=place_in_words(here, zone_map))


def show_end(
    out: Console,
    inspection: Inspection,
    zone_map: ZoneMap,
    *,
    log: Path | None,
    export: Path | None,
    vehicle: Vehicle | None = None,
) -> None:
    """The vehicle and its past, what nobody looked at, the verdict with reasons, and where all lies."""
    if vehicle is not None and vehicle.known:
        _show_block(out, worded("Vehicle"), vehicle_lines(vehicle))
    _show_block(out, worded("Spelled"), spelt_lines(inspection))
    _show_block(out, worded("What was said of its past"), past_lines(inspection))
    _show_block(out, worded("Not looked at yet"), gap_lines(inspection, zone_map))
    _show_verdict(out, inspection.verdict)
    if log is not None:
        out.print("  " + worded("Log:    {log}", log=escape(str(log))))
    if export is not None:
        out.print("  " + worded("JSON:   {export}", export=escape(str(export))))


def _show_block(out: Console, title: str, lines: Iterable[str]) -> None:
    """A title and its lines; nothing where there are none."""
    for number, line in enumerate(lines):
        if number == 0:
            _show_title(out, title)
        out.print(f"  {escape(line)}")


def _show_title(out: Console, title: str) -> None:
    out.print()
    out.rule(Text(title, style="bold"), align="left", characters="-")


def _show_verdict(out: Console, verdict: Verdict) -> None:
    _show_title(out, worded("Verdict on what was said"))
    for name, question in VERDICT.items():
        out.print(
            f"  {worded(question):<14}  [bold]{getattr(verdict, name).replace('-', ' ')}[/bold]"
        )
    for reason in verdict.because:
        out.print(f"   - {escape(inert(reason))}")
    out.print()
    out.print(
        "  "
        + worded(
            "This grades what was said. It certifies nothing; local rules and licensed "
            "practice decide."
        )
    )
