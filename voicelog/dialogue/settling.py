"""What an answer makes of the entry it was about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from voicelog.dialogue.ask import Ask
from voicelog.dialogue.place import OPPOSITE, checked_side
from voicelog.dialogue.scene import only_place, without_place
from voicelog.dialogue.spelt import SPELT, kept_as_heard
from voicelog.domain.entry import Amend, Entry, Kind, amended
from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import Slots, SlotValue
from voicelog.domain.zone import ZoneMap

_RAISED: Mapping[str, tuple[str, ...]] = {
    "side": ("which side ", "whose left and right "),
    "face": ("inside of a part that hides no cavity",),
    "zone": ("which ",),
}
"""How the doubts begin that go together with a question about a slot; the first that fits."""
_ENDS = {"centre": "middle"}
"""The end of a family that the words for a side may mean: "the middle one"."""


def affirmed(entry: Entry) -> Amend:
    """It was understood right: no doubt is left, and a zone that was assumed has been said."""
    if SPELT in entry.tags:
        return kept_as_heard(entry)
    said = {"zone": entry.slots["zone"]} if entry.place_assumed and "zone" in entry.slots else {}
    return Amend(entry.id, said, why="affirm", doubts=())


def swapped(entry: Entry, ask: Ask) -> Amend:
    """The next best reading was meant: its slots stand for those of the entry."""
    gone = tuple(name for name in entry.slots if name not in ask.instead)
    return Amend(
        entry.id, ask.instead, why="affirm", drop=gone, kind=Kind.FINDING, doubts=(), absent=()
    )


def says_again(entry: Entry, statement: Statement) -> bool:
    """The same report once more, place and fault, nothing added: as good as *affirm*."""
    said = statement.slots
    whole = statement.act is Act.REPORT and {"zone", "condition"} <= said.keys()
    return (
        whole
        and not statement.doubts
        and all(entry.slots.get(name) == value for name, value in said.items())
    )


def chosen(entry: Entry, ask: Ask, statement: Statement, zone_map: ZoneMap) -> Amend | None:
    """The entry with the slot that was asked; None where the words are no answer to that.

    An answer may say the place again ("left cab mount"), or more of it ("left, inside"); whoever
    says anything else goes on with the inspection. Its own doubts stay with the entry.
    """
    said = _place_said(entry, ask, statement, zone_map)
    if said is None or said.get(ask.slot) not in _allowed(ask):
        return None
    if "zone" in entry.slots and said.get("zone", entry.slots["zone"]) != entry.slots["zone"]:
        return None
    rest = (*_settled(entry.doubts, ask.slot), *statement.doubts)
    return _side_checked(entry, Amend(entry.id, said, why="place", doubts=rest), zone_map)


def _place_said(entry: Entry, ask: Ask, statement: Statement, zone_map: ZoneMap) -> Slots | None:
    """Where the words say it is; None where they say anything else."""
    says_more = bool(without_place(statement.slots)) or statement.clear or statement.absent
    numbered = statement.bare_number is not None
    steers = statement.act not in (Act.REPORT, Act.CORRECTION)
    if says_more or numbered or steers or statement.questions:
        return None
    said: dict[str, SlotValue] = dict(only_place(statement.slots))
    if ask.slot == "zone" and "zone" not in said:
        _take_end(said, ask, zone_map)
    if statement.other_side and entry.slots.get("side") in OPPOSITE:
        said["side"] = OPPOSITE[str(entry.slots["side"])]
    return said


def _take_end(said: dict[str, SlotValue], ask: Ask, zone_map: ZoneMap) -> None:
    """ "The front one" of several zones: the end picks the zone and is no face of it."""
    family = next((f for f in zone_map.families if f.zones == ask.options), None)
    ends = family.ends if family is not None else {}
    for slot in ("face", "side"):
        end = str(said.get(slot, ""))
        zone = ends.get(_ENDS.get(end, end))
        if zone is not None:
            del said[slot]
            said["zone"] = zone
            return


def _allowed(ask: Ask) -> Sequence[str]:
    return (*ask.options, "both") if ask.slot == "side" else ask.options


def _settled(doubts: Sequence[str], slot: str) -> tuple[str, ...]:
    """The doubts that a word on the slot leaves open."""
    return tuple(doubt for doubt in doubts if _raised_by(doubt) != slot)


def _raised_by(doubt: str) -> str:
    return next((slot for slot, begins in _RAISED.items() if doubt.startswith(begins)), "")


def _side_checked(entry: Entry, change: Amend, zone_map: ZoneMap) -> Amend:
    """A zone that comes in pairs, named at last: its side may be open still."""
    before = amended(entry, change)
    after = checked_side(before, zone_map)
    if after == before:
        return change
    return replace(change, doubts=after.doubts, questions=after.questions)
