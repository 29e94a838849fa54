"""A comparison of two logs as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timezone

from voicelog.cli.paragraphs import WIDEST, paragraph
from voicelog.domain.comparison import WORST_FIRST, Comparison, Difference, Standing
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.local_time import stamp
from voicelog.findings.over_time.words import NAMES, rate_in_words
from voicelog.findings.wording import SIGNS
from voicelog.tongue import begun, to_word, worded

_QUESTIONS = {
    "drive": to_word("Move it today?"),
    "work": to_word("Work:"),
    "tier": to_word("Frame overall:"),
}
_NOTICE = to_word(
    "This sets side by side what was said twice. It certifies nothing; local rules and licensed "
    "practice decide."
)


def comparison_lines(comparison: Comparison, width: int = WIDEST) -> Iterator[str]:
    """Both logs, warnings, what became of everything (the worst first), counts and verdicts.

    Args:
        comparison: what to tell.
        width: characters of a line.
    """
    for begin, text in _told(comparison):
        yield from paragraph(begin, text, width)


def _told(comparison: Comparison) -> Iterator[tuple[str, str]]:
    """Each line's beginning, which what goes on in the next stands behind, and its text."""
    yield (worded("Then:") + "  "), _log(comparison.older_at, comparison.then)
    yield (worded("Now:") + "   "), _log(comparison.newer_at, comparison.now)
    for warning in comparison.warnings:
        yield "  ! ", f"{inert(warning)}."
    for change in WORST_FIRST:
        yield from _section(change, [d for d in comparison.differences if d.change == change])
    yield "", ""
    yield from _summary(comparison)
    yield "", ""
    yield "", worded("Verdict, then -> now")
    for name, question in _QUESTIONS.items():
        yield f"  {worded(question):<14}  ", _answers(comparison, name)
    yield "", ""
    yield "", worded(_NOTICE)


def _log(at: str, standing: Standing) -> str:
    vin = worded("VIN {vin}", vin=standing.vin) if standing.vin else worded("no VIN")
    told = (_time(at), standing.subject, vin, standing.map)
    return inert(", ".join(part for part in told if part), WIDEST)


def _time(at: str) -> str:
    """Day and minute with the zone they were written in."""
    try:
        zone = datetime.fromisoformat(at).tzinfo
    except ValueError:
        return worded("opened nobody knows when")
    return stamp(at, zone if isinstance(zone, timezone) else UTC)


def _section(change: str, them: list[Difference]) -> Iterator[tuple[str, str]]:
    if not them:
        return
    yield "", ""
    yield "", f"{begun(worded(NAMES[change]))} ({len(them)})"
    for difference in them:
        yield f"  {_sign(difference)} ", inert(difference.text)
        if difference.rate is not None:
            yield "      ", worded("Wall: {rate}", rate=rate_in_words(difference.rate))


def _sign(difference: Difference) -> str:
    """The sign of the worst grade of both times; a dot where nothing was found."""
    known = [grade for grade in (difference.then, difference.now) if grade is not None]
    return SIGNS[str(Grade.worst(*known))] if known else "."


def _summary(comparison: Comparison) -> Iterator[tuple[str, str]]:
    told = [f"{worded(NAMES[change])} {count}" for change, count in comparison.counts().items()]
    yield "", worded("In all: {told}.", told="; ".join(told) or worded("nothing to compare"))
    places = comparison.places or {}
    words = {
        "both": worded("both times"),
        "then": worded("only then"),
        "now": worded("only now"),
        "never": worded("never"),
    }
    seen = ", ".join(f"{places[name]} {told}" for name, told in words.items() if name in places)
    if seen:
        yield "", worded("Places looked at: {seen}.", seen=seen)


def _answers(comparison: Comparison, name: str) -> str:
    then, now = (
        inert(getattr(one, name).replace("-", " ")) for one in (comparison.then, comparison.now)
    )
    return f"{then} -> {now}" if then != now else worded("{now}, as then", now=now)
