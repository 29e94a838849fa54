"""A comparison of two logs as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from textwrap import wrap

from voicelog.domain.comparison import WORST_FIRST, Comparison, Difference, Standing
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.findings.over_time.words import rate_in_words
from voicelog.findings.wording import SIGNS

_WIDE = 100
"""Characters of a line; longer sentences go on in the next."""

HEADINGS: Mapping[str, str] = {
    "worse": "Worse",
    "appeared": "Appeared",
    "grew": "Grew",
    "not-looked-at-again": "Not looked at again: still open",
    "gone": "Looked at again, nothing said",
    "better": "Less was said this time",
    "repaired": "Repaired, or clear under the tool",
    "same": "Same",
}
"""What became of things, as headings."""

_QUESTIONS = {"drive": "Move it today?", "work": "Work:", "tier": "Frame overall:"}
_NOTICE = (
    "This sets side by side what was said twice. It certifies nothing; local rules and licensed "
    "practice decide."
)


def comparison_lines(comparison: Comparison) -> Iterator[str]:
    """Both logs, warnings, what became of everything (the worst first), counts and verdicts."""
    yield f"Then:  {_log(comparison.older_at, comparison.then)}"
    yield f"Now:   {_log(comparison.newer_at, comparison.now)}"
    for warning in comparison.warnings:
        yield from _wrapped("  ! ", f"{inert(warning)}.")
    for change in WORST_FIRST:
        yield from _section(change, [d for d in comparison.differences if d.change == change])
    yield ""
    yield from _summary(comparison)
    yield ""
    yield "Verdict, then -> now"
    for name, question in _QUESTIONS.items():
        yield f"  {question:<14}  {_answers(comparison, name)}"
    yield ""
    yield from _wrapped("", _NOTICE)


def _log(at: str, standing: Standing) -> str:
    vin = f"VIN {standing.vin}" if standing.vin else "no VIN"
    told = (_time(at), standing.subject, vin, standing.map)
    return inert(", ".join(part for part in told if part), _WIDE)


def _time(at: str) -> str:
    """Day and minute with the zone they were written in."""
    try:
        return f"{datetime.fromisoformat(at):%Y-%m-%d %H:%M %Z}".strip()
    except ValueError:
        return "opened nobody knows when"


def _section(change: str, them: list[Difference]) -> Iterator[str]:
    if not them:
        return
    yield ""
    yield f"{HEADINGS[change]} ({len(them)})"
    for difference in them:
        yield from _wrapped(f"  {_sign(difference)} ", inert(difference.text))
        if difference.rate is not None:
            yield from _wrapped("      ", f"Wall: {rate_in_words(difference.rate)}")


def _sign(difference: Difference) -> str:
    """The sign of the worst grade of both times; a dot where nothing was found."""
    known = [grade for grade in (difference.then, difference.now) if grade is not None]
    return SIGNS[str(Grade.worst(*known))] if known else "."


def _summary(comparison: Comparison) -> Iterator[str]:
    counts = comparison.counts()
    told = [f"{count} {change.replace('-', ' ')}" for change, count in counts.items()]
    yield from _wrapped("", f"In all: {', '.join(told) or 'nothing to compare'}.")
    places = comparison.places or {}
    words = {"both": "both times", "then": "only then", "now": "only now", "never": "never"}
    seen = ", ".join(f"{places[name]} {told}" for name, told in words.items() if name in places)
    if seen:
        yield from _wrapped("", f"Places looked at: {seen}.")


def _answers(comparison: Comparison, name: str) -> str:
    then, now = (
        inert(getattr(one, name).replace("-", " ")) for one in (comparison.then, comparison.now)
    )
    return f"{then} -> {now}" if then != now else f"{now}, as then"


def _wrapped(begin: str, text: str) -> Iterator[str]:
    """The text in lines that stand below each other."""
    yield from wrap(
        text, _WIDE, initial_indent=begin, subsequent_indent=" " * len(begin),
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip
