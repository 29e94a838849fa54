"""What became of a spot as a sentence, and a rate of wall loss in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from voicelog.domain.comparison import Inspected, Rate
from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.inert import inert
from voicelog.findings.grading import worst_said
from voicelog.findings.over_time.outcome import Outcome
from voicelog.findings.places import UNPLACED, place_in_words
from voicelog.findings.wording import what_in_words

NAMES: Mapping[str, str] = {
    "worse": "worse",
    "appeared": "appeared",
    "grew": "grew",
    "not-looked-at-again": "not looked at again: still open",
    "gone": "looked at again, nothing said",
    "better": "less was said this time",
    "repaired": "repaired, or clear under the tool",
    "same": "same",
}
"""Every change for a person; none of them says that metal became better."""

_LONGEST = 1200
"""Characters of one sentence; a log may hold a landmark of any length."""

_SHAPES: Mapping[str, str] = {
    "worse": "{now}; then {then}",
    "grew": "{now}; then {then}",
    "same": "{now}, as then",
    "alike": "{now}; then {then}: the same as far as can be told",
    "better": "less was said this time: {now}; then {then}. Metal does not heal: look again",
    "appeared": "{now}",
    "gone": "then {then}; the place was looked at again and nothing was said of it, which does not "
    "prove that it is gone",
    "not-looked-at-again": "then {then}; not looked at again, so it stays open: it can be as bad as "
    "then, or worse",
}
_REPAIRED = "then {then}; now a repair is told of there: {now}"
_CLEAR = (
    "then {then}; now the metal was touched and nothing was found, so it was mended or replaced, is "
    "hidden, or one of the two looks was mistaken"
)
_UNSEEN = "looked at then, not looked at again"


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
        then = " and ".join(map(self._then, outcome.then))
        now = " and ".join(map(_described, outcome.now))
        told = _shape(outcome, then, now).format(then=then, now=now)
        sentence = ". ".join((f"{self._place(outcome)}: {told}", *map(_begun, outcome.notes)))
        return inert(f"{_begun(sentence)}.", _LONGEST)

    def _place(self, outcome: Outcome) -> str:
        newest = (*outcome.now, *outcome.then)[:1]
        slots = dict(newest[0].entry.slots) if newest else {}
        face = {"face": "interior"} if outcome.where.inside else {}
        side = {} if outcome.where.side is None else {"side": outcome.where.side}
        placed = {} if outcome.where.zone == UNPLACED else {"zone": outcome.where.zone}
        slots = {**slots, **placed, **face, **side}
        known = outcome.where.zone in self._newer.zone_map
        place = place_in_words(slots, (self._newer if known else self._older).zone_map)
        return f"{place}, {slots['part']}" if "part" in slots else place

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
    what = what_in_words(finding) or "a fault not named"
    limits = ", ".join(_limits(finding, own))
    return f"{what} ({limits})" if limits else what


def _limits(finding: Finding, own: Grade | None) -> Iterator[str]:
    grade = worst_said(finding)
    if grade is not None:
        yield str(grade)
    if own is not None:
        yield f"{own} by its own rules"
    if finding.unproven:
        yield "metal not reached"
    if finding.entry.doubtful:
        yield "maybe misheard"


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]


def rate_in_words(rate: Rate) -> str:
    """The rate as a sentence or two: what was read, what was lost a year, how sure that is."""
    read = f"{rate.older_mm:g} mm then, {rate.newer_mm:g} mm now, {rate.years:.1f} years apart"
    if rate.is_loss:
        lost = f"{rate.mm_per_year:.2f} mm lost a year, give or take {_doubt(rate)}"
        return f"{read}: {lost}. {_left(rate)}"
    if -rate.mm_per_year > rate.uncertainty_mm_per_year:
        return f"{read}: it reads thicker now, so it is another spot, another metal or a coating."
    return f"{read}: no more than the gauge may be off, so no loss is shown."


def _doubt(rate: Rate) -> str:
    return f"{rate.uncertainty_mm_per_year:.2f} for the gauge"


def _left(rate: Rate) -> str:
    """Common practice, no source: two readings say little of a rate, and rust is in no hurry to keep
    to it.
    """
    caution = "Rates are not constant: measure again."
    if rate.years_left is None or rate.years_left_least is None:
        return caution
    if rate.years_left == 0:
        return f"The shop's wall-loss limit is reached. {caution}"
    least = f"as little as {rate.years_left_least:.1f} within the gauge's uncertainty"
    return f"At that rate {rate.years_left:.1f} years to the shop's limit, {least}. {caution}"
