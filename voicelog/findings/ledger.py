"""The ledger: changes folded into findings with their history, graded as they stand now."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Finding,
    Inspection,
    Kind,
    Replace,
    Restore,
    State,
    Withdraw,
    amended,
    entry_id,
)
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.grade import RuleSet
from voicelog.domain.layers import Layers
from voicelog.domain.recovery import lines_lost
from voicelog.domain.uncollected import uncollected
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.errors import LogFault
from voicelog.findings.facts_of import known_zone, number, wall_loss
from voicelog.findings.grading import Grader
from voicelog.findings.whole import Whole
from voicelog.tongue import to_word, worded

_HINT = to_word("Run voicelog verify on the log's folder.")


@dataclass(frozen=True, slots=True)
class _Record:
    """An entry and what became of it.

    Args:
        told: text to the conditions that it describes: the one it was read with, and what a probe
            made of that. Once the condition was corrected, the words are about something else. None
            while that is the entry's own text and condition, as of most entries.
    """

    entry: Entry
    told: Mapping[str, frozenset[str]] | None = None
    history: tuple[Entry, ...] = ()
    withdrawn: bool = False

    @property
    def read(self) -> Mapping[str, frozenset[str]]:
        """The same, worked out."""
        return _read_with(self.entry) if self.told is None else self.told

    @property
    def words(self) -> str:
        """What it was read from; empty where that describes something else."""
        text = self.entry.text
        if self.told is None:
            return text
        return text if _condition(self.entry) in self.read.get(text, frozenset()) else ""


class Ledger:
    """Everything said in one inspection, as it stands now.

    Taking in a change costs the same however long the log is; an entry is graded when somebody
    asks for it, and again only after it has changed.

    Args:
        zone_map: the places in force.
        rules: the severity table in force.
        rails: how the vehicle's rails are made.

    Raises:
        GrammarFault: the table cannot be used.
    """

    def __init__(self, zone_map: ZoneMap, rules: RuleSet, rails: Rails) -> None:
        self._zone_map = zone_map
        self._rules = rules
        self._rails = rails
        self._grader = Grader(zone_map, rules)
        self._records: dict[str, _Record] = {}
        self._findings: dict[str, Finding] = {}
        self._standing: Layers[Finding] = Layers()
        self._touched: dict[str, None] = {}
        self._lost: list[int] = []

    def apply(self, changes: Iterable[Change]) -> tuple[Finding, ...]:
        """Take in the changes of one utterance: all of them, or none.

        Returns:
            The entries touched, each once, as they stand now.

        Raises:
            LogFault: a change names an entry that is not there, or adds one that is.
        """
        return tuple(self._finding(entry_id) for entry_id in self.take(changes))

    def take(self, changes: Iterable[Change]) -> tuple[str, ...]:
        """As :meth:`apply`, but grades nothing yet; returns the ids of the entries touched."""
        staged = self._staged(changes)
        self._records |= staged
        self._touched |= dict.fromkeys(staged)
        for name in staged:
            self._findings.pop(name, None)
        return tuple(staged)

    def miss(self, facts: Iterable[Fact]) -> None:
        """Take note of the lines that could not be recovered: the verdict cannot speak for them."""
        self._lost += lines_lost(facts)

    def preview(self, changes: Iterable[Change]) -> tuple[Finding, ...]:
        """The entries that the changes would touch, each once, as they would stand; takes in none.

        Raises:
            LogFault: as for :meth:`apply`.
        """
        return tuple(map(self._graded, self._staged(changes).values()))

    def __getitem__(self, name: str) -> Finding:
        """The entry of that id as it stands now.

        Raises:
            KeyError: there is none.
        """
        return self._finding(name)

    def __contains__(self, name: object) -> bool:
        return name in self._records

    def state(self, name: str) -> State | None:
        """The entry of that id as it was kept, and whether it holds; None without one."""
        record = self._records.get(name)
        return None if record is None else State(record.entry, record.withdrawn)

    def entry(self, name: str) -> Entry | None:
        """The entry of that id as it was kept, neither graded nor worked out; None without one."""
        record = self._records.get(name)
        return None if record is None else record.entry

    def _staged(self, changes: Iterable[Change]) -> dict[str, _Record]:
        staged: dict[str, _Record] = {}
        for change in changes:
            name = entry_id(change)
            staged[name] = _after(staged.get(name) or self._records.get(name), change)
        return staged

    def inspection(self) -> Inspection:
        """All of it: every entry in order, what was looked at, what was not, and the verdict.

        However long the log is, this costs no more than what changed since it was last asked for:
        the parts are worked out when somebody looks at them, as things stand now.
        """
        for name in self._touched:
            self._standing[name] = self._finding(name)
        self._touched, self._findings = {}, {}
        whole = Whole(
            self._standing.copy(),
            tuple(self._lost),
            self._zone_map,
            self._rules.limits,
            self._rails,
        )
        return Inspection.late(whole.part)

    def _finding(self, name: str) -> Finding:
        if name not in self._touched:
            return self._standing[name]
        finding = self._findings.get(name)
        if finding is None:
            finding = self._findings[name] = self._graded(self._records[name])
        return finding

    def _graded(self, record: _Record) -> Finding:
        entry, words = record.entry, record.words
        loss = self._loss(entry) if "thickness_mm" in entry.slots else None
        shown = entry if loss is None else _with_loss(entry, loss)
        history = tuple(map(self._as_shown, record.history)) if record.history else ()
        if entry.kind is not Kind.FINDING:
            return Finding(
                shown, history, withdrawn=record.withdrawn, words=words, loss_percent=loss
            )
        graded = self._grader.grade(entry, words)
        return Finding(
            shown,
            history,
            grade=graded.grade,
            computed_grade=graded.computed,
            spoken_grade=graded.spoken,
            rules=graded.rules,
            unproven=graded.unproven,
            cautions=graded.cautions,
            withdrawn=record.withdrawn,
            words=words,
            loss_percent=loss,
        )

    def _as_shown(self, entry: Entry) -> Entry:
        loss = self._loss(entry)
        return entry if loss is None else _with_loss(entry, loss)

    def _loss(self, entry: Entry) -> float | None:
        if number(entry.slots, "thickness_mm") is None:
            return None
        return wall_loss(entry.slots, known_zone(entry.slots, self._zone_map))


def fold(
    facts: Iterable[Fact], zone_map: ZoneMap, rules: RuleSet, rails: Rails = Rails.MIXED
) -> Inspection:
    """The facts of a log as an inspection; facts that change no entry are passed over.

    Args:
        facts: in the order of the log.
        zone_map: the log's own map.
        rules: the log's own severity table.
        rails: how the vehicle's rails are made.

    Raises:
        LogFault: a fact's changes cannot be read or do not fit what came before.
        GrammarFault: the table cannot be used.
    """
    ledger = Ledger(zone_map, rules, rails)
    with uncollected():
        for fact in facts:
            ledger.take(changes_of(fact))
            ledger.miss((fact,))
        return ledger.inspection()


def _after(record: _Record | None, change: Change) -> _Record:
    """What an entry becomes through a change.

    Raises:
        LogFault: the change does not fit.
    """
    if isinstance(change, Add):
        if record is not None:
            raise LogFault(
                worded("The log adds the entry {entry} twice", entry=change.entry.id), worded(_HINT)
            )
        return _Record(change.entry)
    if record is None:
        raise LogFault(
            worded(
                "The log changes the entry {entry}, which is not there",
                entry=entry_id(change),
            ),
            worded(_HINT),
        )
    return _changed(record, change)


def _changed(record: _Record, change: Amend | Withdraw | Restore | Replace) -> _Record:
    """What an entry that is there becomes; every earlier state stays in its history."""
    match change:
        case Withdraw():
            return replace(record, withdrawn=True)
        case Restore():
            return replace(record, withdrawn=False)
        case Amend():
            entry, read = amended(record.entry, change), _read_after(record, change)
        case Replace(entry):
            read = {**_read_with(entry), **record.read}
    return replace(record, entry=entry, told=read, history=(*record.history, record.entry))


def _with_loss(entry: Entry, loss: float) -> Entry:
    """The entry with the wall loss that its thickness means, in percent to one decimal."""
    return replace(entry, slots={**entry.slots, "loss_percent": round(loss, 1) + 0.0})


def _read_with(entry: Entry) -> dict[str, frozenset[str]]:
    return {entry.text: frozenset((_condition(entry),))}


def _read_after(record: _Record, change: Amend) -> Mapping[str, frozenset[str]]:
    """A probe tells more of the same; who says a condition once more takes the words back."""
    if "condition" not in change.set:
        return record.read
    text, condition = record.entry.text, str(change.set["condition"])
    known = record.read.get(text, frozenset())
    if change.why != "correction":
        known = known | {condition} if record.words else known
    elif condition == _condition(record.entry):
        known = known - {condition}
    return {**record.read, text: known}


def _condition(entry: Entry) -> str:
    return str(entry.slots.get("condition", ""))
