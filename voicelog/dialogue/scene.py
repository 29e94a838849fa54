"""What the dialogue remembers: where the inspector is, what was said, what this turn changed."""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass, field, replace

from voicelog.dialogue.ask import Ask
from voicelog.dialogue.place import Place, checked_face, checked_side, moved
from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Kind,
    Replace,
    Restore,
    Withdraw,
    amended,
    entry_id,
)
from voicelog.domain.grade import Grade
from voicelog.domain.layers import Layers
from voicelog.domain.reading import Speech, Statement
from voicelog.domain.slot import PLACE_SLOTS, Slots
from voicelog.domain.zone import Rails, Zone, ZoneMap

SPOKEN_OF = (Kind.FINDING, Kind.CLEAR, Kind.NOT_SEEN, Kind.PHOTO)
"""What a correction or a disregard can mean; never a remark."""


@dataclass(frozen=True, slots=True)
class Moment:
    """When an utterance was said.

    Args:
        utterance: its id, ``u<seq>``.
        at: wall-clock time, RFC 3339.
        at_s: seconds of the inspection.
    """

    utterance: str
    at: str
    at_s: float


@dataclass(frozen=True, slots=True)
class Said:
    """A statement at its moment, and the place it leads to."""

    statement: Statement
    moment: Moment
    place: Place

    @property
    def slots(self) -> Slots:
        """What it says of the metal; the place left out."""
        return without_place(self.statement.slots)


@dataclass(frozen=True, slots=True)
class _Kept:
    """An entry as it stands, when it was made, and whether it holds."""

    entry: Entry
    made_s: float
    holds: bool = True


@dataclass(slots=True)
class Scene:
    """The state of one inspection's dialogue.

    Args:
        zone_map: the places of the vehicle.
        rails: how its rails are made.
        speech: how long places carry.
        place: where the inspector is.
        unplaced: id of the newest condition said without a place, until a place was said.
        asked: id of the spelled number about which a question was just noted (nothing asks aloud).
        standing_by: the tool listens for the resume phrase only.
        disregarded: the last utterance took an entry back.
        changes: made by the utterance at hand.
        refused: why nothing was done, in a plain sentence; empty otherwise.
        question: the question that waits for its answer (live only, like all that follow).
        asked_s: when it was asked, in seconds of the inspection.
        lapsed: the last question that nobody answered; it explains a late answer.
        waiting: ids of entries of the same utterance that are to be asked about next.
        unsafe: ids of entries now graded unsafe, which no word alone may soften.
        softened: the one of them for which this utterance affirmed a lower grade, with its reason.
        lowering: the entry, and the lower grade that was just said of it and not taken yet.
    """

    zone_map: ZoneMap
    rails: Rails
    speech: Speech
    place: Place = field(default_factory=Place)
    unplaced: str | None = None
    asked: str | None = None
    standing_by: bool = False
    disregarded: bool = False
    changes: list[Change] = field(default_factory=list)
    refused: str = ""
    question: Ask | None = None
    asked_s: float = 0.0
    lapsed: Ask | None = None
    waiting: tuple[str, ...] = ()
    unsafe: Container[str] = frozenset()
    softened: str = ""
    lowering: tuple[str, str] | None = None
    _kept: Layers[_Kept] = field(default_factory=Layers)

    def begin(self) -> None:
        """A new utterance: nothing has changed by it yet."""
        self.changes, self.refused, self.standing_by, self.softened = [], "", False, ""

    def copy(self) -> Scene:
        """Another scene that starts from here and leaves this one as it is."""
        return replace(self, changes=[], refused="", _kept=self._kept.copy())

    def __getitem__(self, entry_id: str) -> Entry:
        kept = self._kept[entry_id]
        if not kept.holds:
            raise KeyError(entry_id)
        return kept.entry

    def __contains__(self, entry_id: object) -> bool:
        return isinstance(entry_id, str) and entry_id in self._kept and self._kept[entry_id].holds

    def newest_first(self, *kinds: Kind) -> Iterator[Entry]:
        """Entries of these kinds that hold, the newest first."""
        everything = self._kept.newest_first()
        return (one.entry for one in everything if one.holds and one.entry.kind in kinds)

    def newest(self, *kinds: Kind) -> Entry | None:
        """The newest entry of these kinds that holds."""
        return next(self.newest_first(*kinds), None)

    def age_s(self, entry: Entry, moment: Moment) -> float:
        """Seconds since the entry was made."""
        return moment.at_s - self._kept[entry.id].made_s

    def is_fresh(self, entry: Entry, moment: Moment) -> bool:
        """True while late words may still mean it."""
        return self.age_s(entry, moment) <= self.speech.carry_s

    def zone(self, place: Place) -> Zone | None:
        """The zone of a place, when the map knows it."""
        return self.zone_map.zones.get(place.zone) if place.zone is not None else None

    def hear(self, statement: Statement, moment: Moment) -> Said:
        """The statement with the place it leads to, which becomes the current one."""
        place = moved(self.place, statement, moment.at_s, self.speech.carry_s)
        place = checked_face(place, self.zone_map, self.rails)
        self.place = replace(place, doubts=(), questions=())
        return Said(statement, moment, place)

    def touched(self) -> tuple[Entry, ...]:
        """The entries that this turn made or changed and that hold, each once, as they stand."""
        named = map(entry_id, self.changes)
        return tuple(self[name] for name in dict.fromkeys(named) if name in self)

    def next_id(self, moment: Moment) -> str:
        """The id of the next entry that this utterance makes."""
        made = sum(isinstance(change, Add) for change in self.changes)
        return f"e{moment.utterance[1:]}.{made + 1}"

    def add(self, entry: Entry, moment: Moment) -> None:
        """Keep a new entry, in doubt where it names no side of two."""
        entry = checked_side(entry, self.zone_map)
        self.changes.append(Add(entry))
        self._kept[entry.id] = _Kept(entry, moment.at_s)

    def amend(self, change: Amend) -> None:
        """Change an entry that holds; a grade that would soften *unsafe* is held back and asked."""
        grade = change.set.get("spoken_grade")
        guarded = change.entry in self.unsafe and change.entry != self.softened
        if guarded and grade is not None and grade != Grade.UNSAFE:
            self.lowering = (change.entry, str(grade))
            rest = {name: value for name, value in change.set.items() if name != "spoken_grade"}
            if not (rest or change.drop or change.kind):
                return
            change = replace(change, set=rest)
        self.changes.append(change)
        self._become(amended(self[change.entry], change))

    def put(self, change: Change, moment: Moment) -> None:
        """Take over, in this utterance, a change that was worked out before."""
        self.changes.append(change)
        self.replay(change, moment.at_s)

    def replay(self, change: Change, made_at_s: float) -> None:
        """Take in a change that an earlier run made.

        What another reading would have made is a reviewer's business and not remembered here.
        """
        match change:
            case Add(entry):
                self._kept[entry.id] = _Kept(replace(entry, runner_up={}), made_at_s)
            case Amend(name):
                # at the bench what was withdrawn can be amended, and is not back by it
                self._become(amended(self._kept[name].entry, change))
            case Replace(entry):
                self._become(replace(entry, runner_up={}))
            case Restore(name):
                self._kept[name] = replace(self._kept[name], holds=True)
            case Withdraw(name):
                self._kept[name] = replace(self._kept[name], holds=False)

    def withdraw(self, entry: Entry) -> None:
        """Take an entry back."""
        self.changes.append(Withdraw(entry.id))
        self._kept[entry.id] = replace(self._kept[entry.id], holds=False)

    def _become(self, entry: Entry) -> None:
        """An earlier entry stands so from now on."""
        self._kept[entry.id] = replace(self._kept[entry.id], entry=entry)


def without_place(slots: Slots) -> Slots:
    """The slots that do not say where."""
    return {name: value for name, value in slots.items() if name not in PLACE_SLOTS}


def only_place(slots: Slots) -> Slots:
    """The slots that say where."""
    return {name: value for name, value in slots.items() if name in PLACE_SLOTS}
