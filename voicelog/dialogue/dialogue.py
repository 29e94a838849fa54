"""The dialogue: readings in, changes to the inspection out, with what was said before in mind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from voicelog.dialogue.amendments import BAD_PROBES, condition_of_probe, corrected, late
from voicelog.dialogue.place import Place, checked_face, moved, same_spot
from voicelog.domain.entry import Add, Amend, Change, Entry, Kind, Withdraw, amended
from voicelog.domain.reading import Act, Reading, Speech, Statement
from voicelog.domain.slot import PLACE_SLOTS, SlotValue
from voicelog.domain.zone import Rails, Role, ZoneMap

COMPLETES_S = 5.0
"""Seconds within which a place completes a condition said without one."""

NO_PLACE = "no place was named"
"""The doubt of a condition said where no place is known."""

_COPIED = ("condition", "layer", "face", "part", "certainty")
_SPOKEN_OF = (Kind.FINDING, Kind.CLEAR, Kind.NOT_SEEN, Kind.PHOTO)
_SILENT = (Act.SAY_AGAIN, Act.READ_BACK, Act.AFFIRM, Act.NEGATIVE, Act.GO_AHEAD)


@dataclass(frozen=True, slots=True)
class Turn:
    """What one utterance did.

    Args:
        changes: to the inspection, in order.
        act: the act of its last statement.
        refused: why nothing was done, in a plain sentence; empty otherwise.
        standing_by: the tool listens for the resume phrase only.
        finished: the end of the inspection was asked for.
        keep: False in stand-by, where neither sound nor text may be kept.
    """

    changes: tuple[Change, ...]
    act: Act
    refused: str = ""
    standing_by: bool = False
    finished: bool = False
    keep: bool = True


@dataclass(frozen=True, slots=True)
class _Moment:
    utterance: str
    at: str
    at_s: float


class Dialogue:
    """Remembers the current place and the entries made so far; does no input or output.

    Args:
        zone_map: the places of the vehicle.
        rails: how its rails are made.
        speech: how long places carry.
    """

    def __init__(
        self, zone_map: ZoneMap, *, rails: Rails = Rails.MIXED, speech: Speech = Speech()
    ) -> None:
        self._map, self._rails, self._speech = zone_map, rails, speech
        self._place = Place()
        self._entries: dict[str, Entry] = {}
        self._made_s: dict[str, float] = {}
        self._unplaced: str | None = None
        self._standing_by = False
        self._disregarded = False
        self._changes: list[Change] = []
        self._refused = ""

    def take(self, reading: Reading, *, utterance: str, at: str, at_s: float) -> Turn:
        """What the reading does now.

        Args:
            reading: of one utterance.
            utterance: its id, ``u<seq>``.
            at: wall-clock time, RFC 3339.
            at_s: seconds of the inspection.
        """
        acts = [statement.act for statement in reading.statements]
        if self._standing_by and not (reading.attention and Act.GO_AHEAD in acts):
            return Turn((), Act.REMARK, standing_by=True, keep=False)
        self._standing_by = False
        self._changes, self._refused = [], ""
        moment = _Moment(utterance, at, at_s)
        for statement in reading.statements:
            self._do(statement, moment, reading)
        self._disregarded = acts[-1] is Act.DISREGARD
        return Turn(
            tuple(self._changes), acts[-1], self._refused, self._standing_by, Act.FINISH in acts
        )

    def _do(self, statement: Statement, moment: _Moment, reading: Reading) -> None:
        match statement.act:
            case Act.STAND_BY:
                self._standing_by = True
            case Act.DISREGARD:
                self._disregard()
            case Act.CORRECTION:
                self._correct(statement, moment)
            case Act.REMARK:
                self._remark(statement, moment)
            case Act.SAME | Act.ANOTHER:
                self._copy(statement, moment)
            case Act.PHOTO | Act.NOT_SEEN:
                self._claim(statement, moment)
            case Act.REPORT:
                self._report(statement, moment, reading)
            case Act.FINISH:
                pass
            case _ if statement.act in _SILENT:
                pass

    # -- entries ---------------------------------------------------------------------------

    def _report(self, statement: Statement, moment: _Moment, reading: Reading) -> None:
        place = self._move(statement, moment)
        said = {n: v for n, v in statement.slots.items() if n not in PLACE_SLOTS}
        if "condition" in said and not _only_dirt_over_good(statement):
            self._find(statement, said, place, moment, reading)
        elif statement.clear or _denies_all(statement):
            self._clear(statement, said, place, moment)
        elif statement.absent:
            self._remark(statement, moment)
        elif said or statement.bare_number is not None:
            self._late(statement, said, place, moment, reading)
        elif statement.doubts and statement.questions:
            self._remark(statement, moment)
        elif self._unplaced is not None and place.zone is not None:
            self._complete(place, moment)

    def _find(
        self,
        statement: Statement,
        said: Mapping[str, SlotValue],
        place: Place,
        moment: _Moment,
        reading: Reading,
    ) -> None:
        said = self._of_a_line(said, place)
        asked = any(question.slot == "zone" for question in place.questions)
        unplaced = place.zone is None and not asked
        entry = self._entry(moment, Kind.REMARK if unplaced else Kind.FINDING, statement, place)
        entry = replace(entry, slots={**entry.slots, **said}, unplaced=unplaced)
        if unplaced:
            entry = replace(entry, doubts=(*entry.doubts, NO_PLACE))
        if entry.doubtful:
            entry = replace(entry, runner_up=_runner_up(reading))
        self._add(entry, moment)
        if unplaced:
            self._unplaced = entry.id

    def _of_a_line(self, said: Mapping[str, SlotValue], place: Place) -> Mapping[str, SlotValue]:
        """What weeps at a fluid line or a tank is the fluid, not rust."""
        zone = self._map[place.zone] if place.zone is not None and place.zone in self._map else None
        holds_fluid = zone is not None and (zone.role is Role.FLUID_LINE or zone.id == "fuel-tank")
        weeps = said.get("condition") == "rust-weep"
        return {**said, "condition": "leak"} if holds_fluid and weeps else said

    def _clear(
        self,
        statement: Statement,
        said: Mapping[str, SlotValue],
        place: Place,
        moment: _Moment,
    ) -> None:
        if place.zone is None and not place.questions:
            self._remark(statement, moment)
            return
        kept = {n: v for n, v in said.items() if n in ("probe", "method", "layer", "surround")}
        entry = self._entry(moment, Kind.CLEAR, statement, place)
        method = {} if "method" in kept or "probe" in kept else {"method": "seen"}
        entry = replace(entry, slots={**entry.slots, **kept, **method}, absent=statement.absent)
        told = condition_of_probe(kept.get("probe"))
        if told is not None:
            slots = {**entry.slots, "condition": told, "certainty": "stated"}
            entry = replace(entry, kind=Kind.FINDING, slots=slots, absent=())
        self._add(entry, moment)

    def _late(
        self,
        statement: Statement,
        said: Mapping[str, SlotValue],
        place: Place,
        moment: _Moment,
        reading: Reading,
    ) -> None:
        """A measure, probe, method or grade alone: to the last finding here, if it is fresh."""
        target = self._fresh_entry(place, moment)
        probe = said.get("probe")
        if target is not None and (said or statement.bare_number is not None):
            self._change(late(target, said or {"size_mm": float(statement.bare_number or 0)}))
        elif place.zone is not None and (told := condition_of_probe(probe)) is not None:
            found = {**said, "condition": told, "certainty": "stated"}
            self._find(statement, found, place, moment, reading)
        elif place.zone is not None and "thickness_mm" in said:
            found = {**said, "condition": "thinning", "certainty": "stated"}
            self._find(statement, found, place, moment, reading)
        elif place.zone is not None and probe == "firm" and "zone" in statement.slots:
            self._clear(statement, said, place, moment)
        else:
            self._remark(statement, moment)

    def _fresh_entry(self, place: Place, moment: _Moment) -> Entry | None:
        for entry in reversed(list(self._entries.values())):
            if entry.kind in (Kind.FINDING, Kind.CLEAR) and same_spot(entry.slots, place.slots):
                fresh = moment.at_s - self._made_s[entry.id] <= self._speech.carry_s
                return entry if fresh else None
        return None

    def _copy(self, statement: Statement, moment: _Moment) -> None:
        """ "Same again" copies condition, layer, face and part; "another one" the place as well."""
        model = self._newest((Kind.FINDING, Kind.CLEAR))
        place = self._move(statement, moment)
        if model is None or (place.zone is None and not place.questions):
            self._remark(statement, moment)
            return
        said = {n: v for n, v in statement.slots.items() if n not in PLACE_SLOTS}
        copied = {n: model.slots[n] for n in _COPIED if n in model.slots}
        here = {n: v for n, v in self._entry_place(place, statement).items() if n != "landmark"}
        if statement.act is Act.ANOTHER:
            here = {**{n: model.slots[n] for n in ("zone", "side") if n in model.slots}, **here}
        entry = self._entry(moment, model.kind, statement, place)
        if model.kind is Kind.CLEAR:
            copied, said = {"method": "seen"}, dict(said)
        entry = replace(entry, slots={**copied, **here, **said})
        if statement.act is Act.SAME and same_spot(model.slots, here):
            entry = replace(entry, doubts=(*entry.doubts, "the same as at the same place"))
        self._add(entry, moment)

    def _claim(self, statement: Statement, moment: _Moment) -> None:
        """A photo claimed, or a place that could not be looked at."""
        place = self._move(statement, moment)
        if place.zone is None and not place.questions:
            self._remark(statement, moment)
            return
        kind = Kind.PHOTO if statement.act is Act.PHOTO else Kind.NOT_SEEN
        entry = self._entry(moment, kind, statement, place)
        self._add(replace(entry, reason=statement.reason), moment)

    def _remark(self, statement: Statement, moment: _Moment) -> None:
        text = f"{statement.text} ({statement.reason})" if statement.reason else statement.text
        self._add(
            Entry(self._next_id(moment), moment.utterance, moment.at, Kind.REMARK, text=text,
                  tags=statement.tags),
            moment,
        )  # fmt: skip

    # -- changes to earlier entries ------------------------------------------------------------

    def _correct(self, statement: Statement, moment: _Moment) -> None:
        named = {n: v for n, v in statement.slots.items() if n in PLACE_SLOTS}
        content = any(n not in PLACE_SLOTS for n in statement.slots) or statement.clear
        content = content or statement.bare_number is not None
        target = self._named_entry(named) if content and "zone" in named else None
        if target is not None:
            named = {}
        target = target or self._newest(_SPOKEN_OF)
        if target is None:
            self._refused = "there is nothing to correct"
            return
        change = corrected(target, _without_place(statement), _corrected_place(target, named))
        if change is None:
            self._refused = "the correction says nothing that could change"
            return
        self._change(change)
        place = {n: v for n, v in self._entries[target.id].slots.items() if n in PLACE_SLOTS}
        self._place = Place(place, said_at_s=moment.at_s)

    def _named_entry(self, named: Mapping[str, SlotValue]) -> Entry | None:
        for entry in reversed(list(self._entries.values())):
            if entry.kind in _SPOKEN_OF and same_spot(entry.slots, named):
                return entry
        return None

    def _disregard(self) -> None:
        target = self._newest(_SPOKEN_OF)
        if self._disregarded:
            self._refused = "one entry was just disregarded; say what else should go by its place"
        elif target is None:
            self._refused = "there is nothing to disregard"
        else:
            self._changes.append(Withdraw(target.id))
            del self._entries[target.id]
            self._disregarded = True

    def _complete(self, place: Place, moment: _Moment) -> None:
        entry_id, self._unplaced = self._unplaced, None
        if entry_id is None or moment.at_s - self._made_s[entry_id] > COMPLETES_S:
            return
        doubts = tuple(d for d in self._entries[entry_id].doubts if d != NO_PLACE)
        slots = self._place_slots(place)
        self._change(Amend(entry_id, slots, why="place", kind=Kind.FINDING, doubts=doubts))

    # -- bookkeeping ---------------------------------------------------------------------------

    def _move(self, statement: Statement, moment: _Moment) -> Place:
        place = moved(self._place, statement, moment.at_s, self._speech.carry_s)
        place = checked_face(place, self._map, self._rails)
        self._place = replace(place, doubts=(), questions=())
        return place

    def _entry(self, moment: _Moment, kind: Kind, statement: Statement, place: Place) -> Entry:
        return Entry(
            id=self._next_id(moment),
            utterance=moment.utterance,
            at=moment.at,
            kind=kind,
            slots=self._entry_place(place, statement),
            text=statement.text,
            doubts=place.doubts,
            questions=place.questions,
            place_assumed=place.assumed,
        )

    def _entry_place(self, place: Place, statement: Statement) -> dict[str, SlotValue]:
        """The place with the landmark and part of this statement only."""
        own = {n: statement.slots[n] for n in ("landmark", "part") if n in statement.slots}
        return {**self._place_slots(place), **own}

    @staticmethod
    def _place_slots(place: Place) -> dict[str, SlotValue]:
        kept = ("zone", "ordinal", "side", "face")
        return {name: place.slots[name] for name in kept if name in place.slots}

    def _next_id(self, moment: _Moment) -> str:
        made = sum(isinstance(change, Add) for change in self._changes)
        return f"e{moment.utterance[1:]}.{made + 1}"

    def _add(self, entry: Entry, moment: _Moment) -> None:
        self._changes.append(Add(entry))
        self._entries[entry.id] = entry
        self._made_s[entry.id] = moment.at_s

    def _change(self, change: Amend) -> None:
        self._changes.append(change)
        self._entries[change.entry] = amended(self._entries[change.entry], change)

    def _newest(self, kinds: tuple[Kind, ...]) -> Entry | None:
        return next((e for e in reversed(list(self._entries.values())) if e.kind in kinds), None)


def _only_dirt_over_good(statement: Statement) -> bool:
    good = statement.clear or statement.slots.get("probe") == "firm"
    return statement.slots.get("condition") == "debris" and good


def _denies_all(statement: Statement) -> bool:
    """ "No holes, no scale" or "no rust" or "no cracks, firm" clear a place; "no holes" does not."""
    if not statement.absent or statement.slots.get("probe") in BAD_PROBES:
        return False
    whole = "surface-rust" in statement.absent or statement.slots.get("method") == "seen"
    return whole or len(statement.absent) > 1 or statement.slots.get("probe") == "firm"


def _without_place(statement: Statement) -> Statement:
    slots = {n: v for n, v in statement.slots.items() if n not in PLACE_SLOTS}
    return replace(statement, slots=slots)


def _corrected_place(entry: Entry, named: Mapping[str, SlotValue]) -> dict[str, SlotValue]:
    return {n: v for n, v in named.items() if entry.slots.get(n) != v}


def _runner_up(reading: Reading) -> Mapping[str, SlotValue]:
    return next((s.slots for s in reading.runner_up if s.act is Act.REPORT and s.slots), {})
