"""A list of inspections as lines that fit any terminal, and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from rich.text import Text

from voicelog.domain.grade import Grade, Verdict
from voicelog.domain.inert import inert
from voicelog.domain.local_time import stamp
from voicelog.export.values import known
from voicelog.findings.wording import SIGNS
from voicelog.runtime.inspections import CLOSED, GOING_ON, STOPPED, Listed
from voicelog.tongue import to_word, worded, worded_many

_DRIVE: Mapping[str, str] = {
    "do-not-drive": to_word("do not drive or tow"),
    "no-danger-found-where-examined": to_word("no danger found where examined"),
    "not-enough-seen": to_word("not enough seen to say"),
}
_DRIVE_STYLES = {"do-not-drive": "bold white on red", "not-enough-seen": "yellow"}
_STATES = {
    CLOSED: "",
    GOING_ON: to_word("going on now"),
    STOPPED: to_word("stopped, can be gone on with"),
}
_STATE_STYLES = {GOING_ON: "bold green", STOPPED: "yellow"}
_INDENT = 2
_LONGEST_SUBJECT = 60
_LONGEST_REASON = 200


def listing_lines(
    shown: Sequence[Listed], parent: Path, *, width: int, all_of: int
) -> Iterator[Text]:
    """Two to four lines an inspection: when and what, the verdict, how much of what, where it lies.

    Args:
        shown: the inspections, in order.
        parent: the folder that was searched; the logs' folders are told from there.
        width: columns of the terminal.
        all_of: how many there are, those included that are not shown.
    """
    for one in shown:
        yield from _packed([*_head(one)], width)
        if one.damaged:
            reason = inert(one.damaged, _LONGEST_REASON).split(" ")
            yield from _packed([*map(Text, reason)], width, indent=_INDENT, between=" ")
        yield from _told(one, width)
        yield Text(" " * _INDENT + inert(_where(one.folder, parent)), style="dim")
    yield Text(_counted(len(shown), all_of, parent))


def listed_json(shown: Sequence[Listed], parent: Path) -> dict[str, Any]:
    """The same for a program."""
    return {"folder": inert(str(parent)), "inspections": [_json(one) for one in shown]}


def _head(one: Listed) -> Iterator[Text]:
    yield Text(inert(stamp(one.at, one.zone), 30) or worded("(no date)"), style="bold")
    named = inert(one.subject, _LONGEST_SUBJECT) or ("" if one.damaged else worded("(no subject)"))
    yield from [Text(named, style="bold")] * bool(named)
    if one.damaged:
        yield Text(worded("DAMAGED"), style="bold white on red")
    if _STATES.get(one.state):
        yield Text(worded(_STATES[one.state]), style=_STATE_STYLES.get(one.state, ""))
    if one.signed:
        changed = worded(", changed since") if one.changed else ""
        yield Text(
            worded("signed by {signed}{changed}", signed=inert(one.signed, 40), changed=changed)
        )
    elif one.state == CLOSED:
        yield Text(worded("not signed"), style="dim")


def _told(one: Listed, width: int) -> Iterator[Text]:
    """Verdict and counts on one line where they fit, else each on its own."""
    if one.verdict is None:
        return
    verdict, counts = [*_verdict(one.verdict)], [*_counts(one)]
    together = [*_packed([*verdict, *counts], width, indent=_INDENT)]
    apart = (verdict, counts)
    yield from (
        together
        if len(together) == 1
        else (line for parts in apart for line in _packed(parts, width, indent=_INDENT))
    )


def _counts(one: Listed) -> Iterator[Text]:
    yield from (Text(f"{SIGNS[grade]} {count} {grade}") for grade, count in one.grades.items())
    if not one.grades:
        yield Text(worded("no findings"))
    yield Text(points_in_words(one.open_points), style="yellow" if one.open_points else "")


def _verdict(verdict: Verdict) -> Iterator[Text]:
    drive = _DRIVE.get(verdict.drive, verdict.drive)
    yield Text(worded(drive), style=_DRIVE_STYLES.get(verdict.drive, ""))
    yield Text(worded("work: {work}", work=verdict.work.replace("-", " ")))
    yield Text(worded("frame: {tier}", tier=verdict.tier.replace("-", " ")))


def points_in_words(count: int) -> str:
    """``12 open points``."""
    if not count:
        return worded("no open points")
    return worded_many("{count} open point", "{count} open points", count)


def _packed(
    parts: Sequence[Text], width: int, *, indent: int = 0, between: str = " · "
) -> Iterator[Text]:
    """As many parts on a line as fit."""
    line = Text(" " * indent)
    for part in parts:
        begun = len(line) > indent
        if begun and line.cell_len + len(between) + part.cell_len > width:
            yield line
            line, begun = Text(" " * indent), False
        line.append_text(Text(between) + part if begun else part)
    if len(line) > indent:
        yield line


def _where(folder: Path, parent: Path) -> str:
    return str(folder.relative_to(parent)) if folder != parent else str(folder)


def _counted(shown: int, all_of: int, parent: Path) -> str:
    if not all_of:
        return worded("There is no inspection in {parent}", parent=inert(str(parent)))
    if shown != all_of:
        return worded_many(
            "{shown} of {count} inspection in {parent}",
            "{shown} of {count} inspections in {parent}",
            all_of,
            shown=shown,
            parent=inert(str(parent)),
        )
    return worded_many(
        "{count} inspection in {parent}",
        "{count} inspections in {parent}",
        all_of,
        parent=inert(str(parent)),
    )


def _json(one: Listed) -> dict[str, Any]:
    if one.verdict is None:
        return {"log": inert(str(one.folder)), "damaged": inert(one.damaged)}
    verdict = one.verdict
    return known({
        "log": inert(str(one.folder)),
        "at": one.at,
        "subject": inert(one.subject),
        "state": one.state,
        "verdict": {
            "drive": verdict.drive, "work": verdict.work, "tier": verdict.tier,
            "provisional": verdict.provisional,
        },
        "findings": {str(grade): one.grades.get(grade, 0) for grade in Grade},
        "open_points": one.open_points,
        "signed_by": inert(one.signed) or None,
        "changed_after_signing": one.changed,
    })  # fmt: skip
