"""Entries, gaps and verdict as lines of text: what a person reads while an inspection runs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from rich.console import Console
from rich.markup import escape
from rich.text import Text

from voicelog.domain.entry import Finding, Inspection, Kind
from voicelog.domain.reading import Act
from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.findings.places import place_in_words, title_in_words
from voicelog.runtime.session import Event

_STYLES = {
    "cosmetic": "green",
    "treat": "yellow",
    "repair": "bold magenta",
    "unsafe": "bold white on red",
}
_SIGNS = {"cosmetic": "·", "treat": "+", "repair": "#", "unsafe": "!!"}
_ACTS = {
    Act.STAND_BY: 'standing by: nothing is kept until "logbook, go ahead"',
    Act.GO_AHEAD: "listening again",
    Act.FINISH: "end of the inspection",
}


def console() -> Console:
    """Standard output; no colour where NO_COLOR is set or nobody looks at a terminal."""
    return Console(highlight=False, soft_wrap=True)


def show_event(out: Console, event: Event, zone_map: ZoneMap) -> None:
    """The utterance as heard, and what became of it."""
    if not event.turn.keep:
        out.print(Text("      (standing by: an utterance was not kept)", style="dim"))
        return
    heard = _inert(event.heard.text) or "(nothing understood)"
    out.print(Text.assemble((f"{event.utterance:>5} ", "dim"), ("“", "dim"), heard, ("”", "dim")))
    for finding in event.findings:
        for line in _finding_lines(finding, zone_map):
            out.print(line)
    if event.turn.refused:
        out.print(Text(f"      refused: {event.turn.refused}", style="yellow"))
    if event.turn.act in _ACTS:
        out.print(Text(f"      {_ACTS[event.turn.act]}", style="dim"))


def _finding_lines(finding: Finding, zone_map: ZoneMap) -> Iterator[Text]:
    entry = finding.entry
    if entry.kind is Kind.REMARK and not entry.unplaced:
        tags = f" [{', '.join(entry.tags)}]" if entry.tags else ""
        yield Text(f"      remark{tags}", style="dim")
        return
    line = Text("      ")
    if finding.withdrawn:
        line.append(f"withdrawn {entry.id}: ", style="dim")
    elif finding.history:
        line.append(f"changed {entry.id}: ", style="bold")
    else:
        line.append(f"{entry.id}: ", style="dim")
    line.append(place_in_words(entry.slots, zone_map))
    line.append(" — " + (_what(finding) or str(entry.kind)))
    if finding.grade is not None and not finding.withdrawn:
        line.append("  ")
        line.append(_badge(finding), style=_STYLES[str(finding.grade)])
    if entry.doubtful:
        line.append("  ?doubtful", style="bold yellow")
    yield line
    for doubt in entry.doubts:
        yield Text(f"            listen again: {_inert(doubt)}", style="yellow")
    if finding.rules and not finding.withdrawn:
        yield Text(f"            by rule {', '.join(finding.rules)}", style="dim")
    for caution in finding.cautions:
        yield Text(f"            {caution}", style="bold")


def _badge(finding: Finding) -> str:
    grade = str(finding.grade)
    proven = ", metal not reached" if finding.unproven else ""
    spoken = finding.spoken_grade
    said = f", you said {spoken}" if spoken is not None and str(spoken) != grade else ""
    return f"[{_SIGNS[grade]} {grade}{proven}{said}]"


def _what(finding: Finding) -> str:
    entry = finding.entry
    if entry.kind is Kind.PHOTO:
        return "photo claimed"
    if entry.kind is Kind.NOT_SEEN:
        return f"not seen: {_inert(entry.reason)}" if entry.reason else "not seen"
    parts = [
        str(entry.slots.get("condition", "clear" if entry.kind is Kind.CLEAR else "")).replace(
            "-", " "
        )
    ]
    parts += list(_details(entry.slots))
    if entry.absent:
        parts.append("no " + ", no ".join(name.replace("-", " ") for name in entry.absent))
    return ", ".join(part for part in parts if part)


_UNITS = (("size_mm", "{:g} mm"), ("width_mm", "{:g} mm wide"), ("depth_mm", "{:g} mm deep"),
          ("thickness_mm", "{:g} mm thick"), ("nominal_mm", "{:g} mm when new"),
          ("loss_percent", "{:.1f} % lost"), ("area_percent", "{:.0f} % of the surface"),
          ("mount_distance_mm", "{:g} mm from a mounting"))  # fmt: skip


def _details(slots: Slots) -> Iterator[str]:
    if "count" in slots:
        yield f"{slots['count']} of them"
    for name, shape in _UNITS:
        if name in slots:
            yield shape.format(float(slots[name]))
    if "probe" in slots:
        yield f"probe {slots['probe']}"
    if slots.get("surround") is not None:
        yield "solid metal around it" if slots["surround"] == "firm" else "no solid metal around it"
    if slots.get("certainty") == "tentative":
        yield "tentative"
    if "landmark" in slots:
        yield _inert(str(slots["landmark"]))


def show_end(
    out: Console,
    inspection: Inspection,
    zone_map: ZoneMap,
    *,
    log: Path | None,
    export: Path | None,
) -> None:
    """What nobody looked at, the verdict with its reasons, and where everything lies."""
    out.print()
    out.rule(Text("Not looked at yet", style="bold"), align="left", characters="-")
    for line in _gap_lines(inspection, zone_map):
        out.print(f"  {escape(line)}")
    out.print()
    out.rule(Text("Verdict on what was said", style="bold"), align="left", characters="-")
    verdict = inspection.verdict
    out.print(f"  Move it today?  [bold]{verdict.drive.replace('-', ' ')}[/bold]")
    out.print(f"  Work:           [bold]{verdict.work.replace('-', ' ')}[/bold]")
    out.print(f"  Frame overall:  [bold]{verdict.tier.replace('-', ' ')}[/bold]")
    for reason in verdict.because:
        out.print(f"   - {escape(_inert(reason))}")
    out.print()
    out.print(
        "  This grades what was said. It certifies nothing; local rules and licensed practice decide."
    )
    if log is not None:
        out.print(f"  Log:    {escape(str(log))}")
    if export is not None:
        out.print(f"  JSON:   {escape(str(export))}")


_WHY = {
    "not-seen": "Nobody looked",
    "cavity-not-seen": "Nobody looked inside",
    "not-probed": "Looked at, not probed",
    "unproven": "Metal not reached",
    "doubtful": "Maybe misheard",
}


def _gap_lines(inspection: Inspection, zone_map: ZoneMap) -> Iterator[str]:
    for why, heading in _WHY.items():
        places = [gap for gap in inspection.gaps if gap.why == why]
        if places:
            names = _named([(gap.zone, gap.side) for gap in places], zone_map)
            yield f"{heading}: {'; '.join(names)}"


def _named(places: Iterable[tuple[str, str | None]], zone_map: ZoneMap) -> list[str]:
    sides: dict[str, list[str]] = {}
    for zone, side in places:
        sides.setdefault(zone, []).append(side or "")
    return [_with_sides(zone, found, zone_map) for zone, found in sides.items()]


def _with_sides(zone: str, sides: list[str], zone_map: ZoneMap) -> str:
    title = title_in_words(zone_map[zone]) if zone in zone_map else zone.replace("-", " ")
    told = [side for side in dict.fromkeys(sides) if side]
    return f"{title} ({' and '.join(told)})" if told else title


def _inert(text: str) -> str:
    """Text that cannot steer a terminal: control and direction marks are shown as "?"."""
    return "".join(c if c.isprintable() else "?" for c in text)
