"""What the dialogue remembers: where the inspector is, what was said, what this turn changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from voicelog.dialogue.place import Place, checked_face, checked_side, moved
from voicelog.domain.entry import Add, Amend, Change, Entry, Kind, Withdraw, amended
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


@dataclass(slots=True)
class Scene:
    """The state of one inspection's dialogue.

    Args:
        zone_map: the places of the vehicle.
        rails: how its rails are made.
        speech: how long places carry.
        place: where the inspector is.
        unplaced: id of the newest condition said without a place, until a place was said.
        asked: id of the entry about which a question was just asked.
        standing_by: the tool listens for the resume phrase only.
        disregarded: the last utterance took an entry back.
        changes: made by the utterance at hand.
        refused: why nothing was done, in a plain sentence; empty otherwise.
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
    _live: dict[str, Entry] = field(default_factory=dict)
    _made_s: dict[str, float] = field(default_factory=dict)

    def copy(self) -> Scene:
        """Another scene that starts from here and leaves this one as it is."""
        return replace(
            self, changes=[], refused="", _live=dict(self._live), _made_s=dict(self._made_s)
        )

    def __getitem__(self, entry_id: str) -> Entry:
        return self._live[entry_id]

    def newest_first(self, *kinds: Kind) -> Iterator[Entry]:
        """Entries of these kinds that hold, the newest first."""
        return (entry for entry in reversed(self._live.values()) if entry.kind in kinds)

    def newest(self, *kinds: Kind) -> Entry | None:
        """The newest entry of these kinds that holds."""
        return next(self.newest_first(*kinds), None)

    def age_s(self, entry: Entry, moment: Moment) -> float:
        """Seconds since the entry was made."""
        return moment.at_s - self._made_s[entry.id]

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
        named = (c.entry.id if isinstance(c, Add) else c.entry for c in self.changes)
        return tuple(self._live[name] for name in dict.fromkeys(named) if name in self._live)

    def next_id(self, moment: Moment) -> str:
        """The id of the next entry that this utterance makes."""
        made = sum(isinstance(change, Add) for change in self.changes)
        return f"e{moment.utterance[1:]}.{made + 1}"

    def add(self, entry: Entry, moment: Moment) -> None:
        """Keep a new entry, in doubt where it names no side of two."""
        entry = checked_side(entry, self.zone_map)
        self.changes.append(Add(entry))
        self._live[entry.id] = entry
        self._made_s[entry.id] = moment.at_s

    def amend(self, change: Amend) -> None:
        """Change an entry that holds."""
        self.changes.append(change)
        self._live[change.entry] = amended(self._live[change.entry], change)

    def withdraw(self, entry: Entry) -> None:
        """Take an entry back."""
        self.changes.append(Withdraw(entry.id))
        del self._live[entry.id]


def without_place(slots: Slots) -> Slots:
    """The slots that do not say where."""
    return {name: value for name, value in slots.items() if name not in PLACE_SLOTS}


def only_place(slots: Slots) -> Slots:
    """The slots that say where."""
    return {name: value for name, value in slots.items() if name in PLACE_SLOTS}
