"""What became of a spot as a sentence, and a rate of wall loss in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from voicelog.domain.comparison import Inspected, Rate
from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.domain.told_length import told_number
from voicelog.findings.grading import worst_said
from voicelog.findings.over_time.outcome import Outcome
from voicelog.findings.places import UNPLACED, place_in_words
from voicelog.findings.wording import what_in_words
from voicelog.tongue import Worded, begun, joined, to_word, worded

NAMES: Mapping[str, str] = {
    "worse": to_word("worse"),
    "appeared": to_word("appeared"),
    "grew": to_word("grew"),
    "not-looked-at-again": to_word("not looked at again: still open"),
    "gone": to_word("looked at again, nothing said"),
    "better": to_word("less was said this time"),
    "repaired": to_word("repaired, or clear under the tool"),
    "same": to_word("same"),
}
"""Every change for a person, for :func:`~voicelog.tongue.worded`; none says that metal became better."""

_LONGEST = 1200
"""Characters of one sentence; a log may hold a landmark of any length."""

_SHAPES: Mapping[str, str] = {
    "worse": to_word("{now}; then {then}"),
    "grew": to_word("{now}; then {then}"),
    "same": to_word("{now}, as then"),
    "alike": to_word("{now}; then {then}: the same as far as can be told"),
    "better": to_word(
        "less was said this time: {now}; then {then}. Metal does not heal: look again"
    ),
    "appeared": to_word("{now}"),
    "gone": to_word(
        "then {then}; the place was looked at again and nothing was said of it, which does not "
        "prove that it is gone"
    ),
    "not-looked-at-again": to_word(
        "then {then}; not looked at again, so it stays open: it can be as bad as then, or worse"
    ),
}
_REPAIRED = to_word("then {then}; now a repair is told of there: {now}")
_CLEAR = to_word(
    "then {then}; now the metal was touched and nothing was found, so it was mended or replaced, is "
    "hidden, or one of the two looks was mistaken"
)
_UNSEEN = to_word("looked at then, not looked at again")


class Sentences:
    """Puts outcomes into words.

    Args:
        older: names places that the newer map lacks, and gives grades by its own rules.
        newer: names the places.
    """

    def __init__(self, older: Inspected, newer: Inspected) -> None:
        self._older, self._newer = older, newer
        self._own = {
            finding.entry.id: worst_said(finding)
            for finding in older.inspection.live
            if older.regraded is not None
        }

    def of(self, outcome: Outcome) -> str:
        """The outcome as a sentence that names the place; one line, harmless, of bounded length."""
        then = joined(worded(" and "), map(self._then, outcome.then))
        now = joined(worded(" and "), map(_described, outcome.now))
        shape = _shape(outcome, then, now)
        told = worded(shape, then=then, now=now)
        first = begun(joined(": ", (self._place(outcome), told)))
        sentences = joined(". ", (first, *map(begun, outcome.notes)))
        return inert(joined("", (sentences, ".")), _LONGEST)

    def _place(self, outcome: Outcome) -> str:
        newest = (*outcome.now, *outcome.then)[:1]
        slots = dict(newest[0].entry.slots) if newest else {}
        face = {"face": "interior"} if outcome.where.inside else {}
        side = {} if outcome.where.side is None else {"side": outcome.where.side}
        placed = {} if outcome.where.zone == UNPLACED else {"zone": outcome.where.zone}
        slots = {**slots, **placed, **face, **side}
        known = outcome.where.zone in self._newer.zone_map
        place = place_in_words(slots, (self._newer if known else self._older).zone_map)
        return joined(", ", (place, str(slots["part"]))) if "part" in slots else place

    def _then(self, finding: Finding) -> str:
        own = self._own.get(finding.entry.id)
        other = own is not None and own != worst_said(finding)
        return _described(finding, own if other else None)


def _shape(outcome: Outcome, then: str, now: str) -> str:
    """The sentence before its parts are put in."""
    if not outcome.then and not outcome.now:
        return _UNSEEN
    if outcome.change == "same":
        return _SHAPES["same" if then == now else "alike"]
    if outcome.change != "repaired":
        return _SHAPES[outcome.change]
    return _REPAIRED if all(f.entry.kind is Kind.FINDING for f in outcome.now) else _CLEAR


def _described(finding: Finding, own: Grade | None = None) -> str:
    """What was said, how bad it is, and what limits that, for example ``hole, 25 mm (repair)``."""
    what = what_in_words(finding) or worded("a fault not named")
    limits = joined(", ", _limits(finding, own))
    return joined("", (what, " (", limits, ")")) if limits else what


def _limits(finding: Finding, own: Grade | None) -> Iterator[str]:
    grade = worst_said(finding)
    if grade is not None:
        yield str(grade)
    if own is not None:
        yield worded("{grade} by its own rules", grade=own)
    if finding.unproven:
        yield worded("metal not reached")
    if finding.entry.doubtful:
        yield worded("maybe misheard")


def rate_in_words(rate: Rate) -> str:
    """The rate as a sentence or two: what was read, what was lost a year, how sure that is."""
    read = worded(
        "{older} mm then, {newer} mm now, {years} years apart",
        older=f"{told_number(rate.older_mm, 'thickness_mm'):g}",
        newer=f"{told_number(rate.newer_mm, 'thickness_mm'):g}",
        years=f"{rate.years:.1f}",
    )
    if rate.is_loss:
        return joined(" ", (_lost(rate, read), _left(rate)))
    if -rate.mm_per_year > rate.uncertainty_mm_per_year:
        return worded(
            "{readings}: it reads thicker now, so it is another spot, another metal or a coating.",
            readings=read,
        )
    return worded(
        "{readings}: no more than the gauge may be off, so no loss is shown.", readings=read
    )


def _lost(rate: Rate, read: str) -> Worded:
    return worded(
        "{readings}: {lost} mm lost a year, give or take {off} for the gauge.",
        readings=read,
        lost=f"{rate.mm_per_year:.2f}",
        off=f"{rate.uncertainty_mm_per_year:.2f}",
    )


def _left(rate: Rate) -> str:
    """Common practice, no source: two readings say little of a rate, and rust is in no hurry to keep
    to it.
    """
    caution = worded("Rates are not constant: measure again.")
    if rate.years_left is None or rate.years_left_least is None:
        return caution
    if rate.years_left == 0:
        return joined(" ", (worded("The shop's wall-loss limit is reached."), caution))
    told = worded(
        "At that rate {years} years to the shop's limit, as little as {least} within the gauge's uncertainty.",
        years=f"{rate.years_left:.1f}",
        least=f"{rate.years_left_least:.1f}",
    )
    return joined(" ", (told, caution))
