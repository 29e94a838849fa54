"""What could still be found at every open place and entry: the worst, and the best, as changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Finding,
    Inspection,
    Kind,
    Withdraw,
    amended,
)
from voicelog.domain.grade import Gap, RuleSet
from voicelog.domain.slot import Slots, SlotValue
from voicelog.domain.zone import ZoneMap
from voicelog.findings.drive import undecided
from voicelog.findings.facts_of import FAILED, known_zone
from voicelog.findings.grading import Grader, as_read
from voicelog.findings.what_if.supposing import Supposing, is_hands_off, probed
from voicelog.findings.wording import what_in_words
from voicelog.tongue import worded

SUPPOSED = "e0.0"
"""Id of an entry that nobody made; no log holds it."""
CRACKED = "e0.1"
"""Id of a second one at the same place."""

_OF_FINDING = ("condition", "certainty", "spoken_grade", "surround")
"""What an entry that turns out clear cannot have."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One way in which an open thing may turn out.

    Args:
        said: as a clause after "if", for example ``there is a hole``.
        changes: what it would do to the log; none where it stands as it is.
    """

    said: str
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True)
class Open:
    """An open place or entry with the ways in which it may turn out.

    Args:
        gap: what is open.
        outcomes: at least two, the worst supposed first.
    """

    gap: Gap
    outcomes: tuple[Outcome, ...]


class Suppositions:
    """The open places and entries of an inspection.

    Args:
        inspection: a folded log.
        zone_map: the log's own map.
        rules: the log's own severity table.

    Raises:
        GrammarFault: the table cannot be used.
    """

    def __init__(self, inspection: Inspection, zone_map: ZoneMap, rules: RuleSet) -> None:
        self._inspection, self._map = inspection, zone_map
        self._found = {finding.entry.id: finding for finding in inspection.live}
        self._grader = Grader(zone_map, rules)
        self._supposing = Supposing(zone_map, rules.limits, self._grader.landmarks)

    def all(self) -> Iterator[Open]:
        """Every gap, then entries said with a hedge, without what decides, or maybe heard otherwise."""
        doubted = set()
        for gap in self._inspection.gaps:
            if gap.why == "doubtful" and gap.entry is not None:
                doubted.add(gap.entry)
            yield Open(gap, tuple(self._outcomes(gap)))
        for finding in self._inspection.live:
            if finding.entry.id not in doubted:
                yield from self._less_than_doubtful(finding)

    def _outcomes(self, gap: Gap) -> Iterator[Outcome]:
        if gap.why == "unproven" and gap.entry in self._found:
            yield from self._of_unproven(self._found[gap.entry])
        elif gap.why == "doubtful" and gap.entry in self._found:
            yield from _of_doubtful(self._found[gap.entry], self._map)
        else:
            yield from self._of_place(gap)

    def _of_place(self, gap: Gap) -> Iterator[Outcome]:
        """A hole where nobody looked (a leak at lines and tanks), or sound metal under the probe.

        Where a crack would be worse than a hole, as in a rail, both are supposed: rot starts cracks.
        """
        zone = self._map.zones.get(gap.zone)
        at: dict[str, SlotValue] = {"zone": gap.zone}
        at |= {n: v for n, v in (("side", gap.side), ("face", gap.face)) if v is not None}
        inside = gap.face == "interior"
        if is_hands_off(zone):
            bad, good = {"condition": "leak"}, {"method": "seen"}
            clear = worded("it is clear")
            found = worded("there is a leak inside") if inside else worded("there is a leak")
        else:
            bad = {"condition": "hole", "probe": "through"}
            good = {"method": "scoped"} if inside else {"method": "probed", "probe": "firm"}
            clear = worded("it is clear inside") if inside else worded("it is clear and firm")
            found = worded("there is a hole inside") if inside else worded("there is a hole")
        hole = _added(Kind.FINDING, {**at, **bad})
        crack = _added(Kind.FINDING, {**at, "condition": "crack"}, CRACKED)
        if is_hands_off(zone) or self._rank(crack) <= self._rank(hole):
            yield Outcome(found, (hole,))
        else:
            yield Outcome(worded("{found} and a crack", found=found), (hole, crack))
        yield Outcome(clear, (_added(Kind.CLEAR, {**at, **good}),))

    def _rank(self, change: Add) -> int:
        return self._grader.draft(change.entry).grade.rank

    def _of_unproven(self, finding: Finding) -> Iterator[Outcome]:
        """The probe goes through; or whatever proves it at no worse a grade; else it comes clear."""
        entry = as_read(finding)
        yield self._worst_of(entry)
        yield next(self._proven(entry, finding), _clear(entry))

    def _proven(self, entry: Entry, finding: Finding) -> Iterator[Outcome]:
        for supposed in self._supposing.all_of(entry):
            if supposed.change.set.get("probe") in FAILED:
                continue  # metal that gave way is proven, but not to be as it was graded
            then = self._grader.grade(amended(entry, supposed.change), finding.words)
            if not then.unproven and finding.grade and then.grade.rank <= finding.grade.rank:
                yield Outcome(supposed.said, (supposed.change,))

    def _worst_of(self, entry: Entry) -> Outcome:
        if is_hands_off(known_zone(entry.slots, self._map)):
            leak = Amend(entry.id, {"condition": "leak"}, "measure")
            return Outcome(worded("there is a leak"), (leak,))
        return Outcome(worded("the probe goes through"), (probed(entry, "through"),))

    def _less_than_doubtful(self, finding: Finding) -> Iterator[Open]:
        """Said with a hedge, without its distance, or with another reading close behind."""
        entry, zone = finding.entry, known_zone(finding.entry.slots, self._map)
        if entry.kind is Kind.FINDING and entry.slots.get("certainty") == "tentative":
            gap = _gap(entry, worded("said with a hedge"))
            yield Open(gap, (self._worst_of(as_read(finding)), _clear(entry)))
        if zone is not None and (open_still := undecided(finding, self._map)):
            far = self._supposing.distances(as_read(finding), zone)
            outcomes = tuple(Outcome(one.said, (one.change,)) for one in far)
            yield Open(_gap(entry, open_still), outcomes)
        if entry.runner_up and _differs(entry):
            gap = _gap(entry, worded("it may have been heard otherwise"))
            yield Open(gap, tuple(_readings(finding)))


def _of_doubtful(finding: Finding, zone_map: ZoneMap) -> Iterator[Outcome]:
    """As it was heard, as the next reading has it, or not said at all."""
    entry = finding.entry
    if entry.kind is Kind.REMARK:  # a fault said without its place
        lost = Amend(entry.id, {}, "correction", kind=Kind.FINDING, doubts=())
        yield Outcome(worded("it is in structure"), (lost,))
    elif entry.kind is Kind.CLEAR and known_zone(entry.slots, zone_map) is not None:
        hole = {n: v for n, v in entry.slots.items() if n in ("zone", "side", "face", "ordinal")}
        hole |= {"condition": "hole", "probe": "through"}
        hidden = worded("there is a hole")
        yield Outcome(hidden, (Withdraw(entry.id), _added(Kind.FINDING, hole)))
    yield from _readings(finding)


def _readings(finding: Finding) -> Iterator[Outcome]:
    entry = finding.entry
    if entry.runner_up and _differs(entry):
        other = _as_runner_up(entry)
        told = what_in_words(replace(finding, entry=amended(entry, other)))
        meant = worded("it was meant as {what}", what=told or worded("something else"))
        yield Outcome(meant, (other,))
    if entry.kind is not Kind.REMARK:
        yield Outcome(worded("it was heard right"), (Amend(entry.id, {}, "affirm", doubts=()),))
    yield Outcome(worded("it was not said"), (Withdraw(entry.id),))


def _as_runner_up(entry: Entry) -> Amend:
    gone = tuple(name for name in entry.slots if name not in entry.runner_up)
    kind = Kind.FINDING if "condition" in entry.runner_up and entry.kind is Kind.CLEAR else None
    return Amend(entry.id, entry.runner_up, "affirm", drop=gone, kind=kind, doubts=())


def _differs(entry: Entry) -> bool:
    return any(entry.slots.get(name) != value for name, value in entry.runner_up.items()) or bool(
        entry.slots.keys() - entry.runner_up.keys() - {"loss_percent"}
    )


def _clear(entry: Entry) -> Outcome:
    firm: Slots = {"probe": "firm", "method": "probed"}
    gone = tuple(name for name in entry.slots if name in _OF_FINDING or name.endswith(_MEASURED))
    return Outcome(
        worded("it is clear and firm"),
        (Amend(entry.id, firm, "correction", drop=gone, kind=Kind.CLEAR),),
    )


_MEASURED = ("_mm", "_percent", "count")
"""How the names of measures end."""


def _gap(entry: Entry, reason: str) -> Gap:
    told: Iterable[str | None] = (_text(entry.slots, name) for name in ("zone", "side", "face"))
    zone, side, face = told
    return Gap(zone or "unplaced", "doubtful", side, face, entry.id, reason)


def _text(slots: Slots, name: str) -> str | None:
    value = slots.get(name)
    return str(value) if value else None


def _added(kind: Kind, slots: Slots, name: str = SUPPOSED) -> Add:
    return Add(Entry(name, "u0", "1970-01-01T00:00:00Z", kind, slots))
