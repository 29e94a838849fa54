"""What a log knows of the vehicle: told by flags, said during the inspection, noted afterwards."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from voicelog.domain.entry import Entry, Inspection, Kind
from voicelog.domain.fact import Fact
from voicelog.domain.inert import inert
from voicelog.domain.slot import SPELT_SLOTS
from voicelog.domain.vehicle import (
    REFUSED,
    STOOD,
    SURFACES,
    VEHICLE,
    Odometer,
    Refusal,
    Vehicle,
    odometer_of,
)
from voicelog.domain.vin import vin_check
from voicelog.findings.vehicle_facts import Telling, noted
from voicelog.findings.wording import spelt_in_words
from voicelog.tongue import joined, to_word, worded

_NUMBERS = {
    "vin": to_word("Sources differ on the VIN: {given}"),
    "plate": to_word("Sources differ on the plate: {given}"),
    "paint_code": to_word("Sources differ on the paint code: {given}"),
}
"""What two sources may disagree about, beside the odometer."""
_SAME_KM = 1.0
"""Two readings this close are one: a unit was converted, and a fraction left out. Ours."""
_LONGEST = 120


@dataclass(slots=True)
class _Told:
    """Everything told so far.

    Args:
        texts: the newest of each.
        by: of what can be told twice, the newest of each source.
        odometer: the newest reading with a unit.
        surface: what lies over the metal.
        refusals: by what was refused.
    """

    texts: dict[str, str] = field(default_factory=dict)
    by: dict[str, dict[str, str]] = field(default_factory=dict)
    odometer: Odometer | None = None
    surface: tuple[str, ...] = ()
    refusals: dict[str, Refusal] = field(default_factory=dict)


def vehicle_of(facts: Sequence[Fact], inspection: Inspection) -> Vehicle:
    """The vehicle as all lines of a log tell it; the later line holds.

    A remark counts as it stands now, at the line of the utterance that made it; a withdrawn one does
    not count. A surface that was noted takes the place of what was told before, one that is said is
    added to it; refusals add up. What is noted empty takes back. A reading without a unit never
    counts, it is a doubt.

    Args:
        facts: in order; the first opened the log.
        inspection: the same, folded.

    Raises:
        LogFault: a line tells something of the vehicle that cannot be read. Words that are not known
            for how it stood, its surface or a refusal are passed over: a newer version may know them.
    """
    remarks = [f.entry for f in inspection.live if f.entry.kind is Kind.REMARK]
    told = _Told()
    for one in sorted((*noted(facts), *_said(remarks)), key=lambda telling: telling.line):
        _take(told, one)
    vin = told.texts.get("vin", "")
    return Vehicle(
        described=told.texts.get("described") or str(facts[0].body.get("subject", "")),
        vin=vin,
        vin_problem=vin_check(vin).problem if vin else "",
        plate=told.texts.get("plate", ""),
        paint_code=told.texts.get("paint_code", ""),
        odometer=told.odometer,
        inspected_on=facts[0].at,
        inspector=told.texts.get("inspector", ""),
        stood=told.texts.get("stood", ""),
        surface=told.surface,
        refusals=tuple(told.refusals.values()),
        contradictions=tuple(_contradictions(told)),
        doubts=tuple(_doubts(remarks)),
    )


def _said(remarks: Sequence[Entry]) -> Iterator[Telling]:
    """What remarks say of the vehicle, each at the line of its utterance."""
    for entry in remarks:
        line = int(entry.utterance[1:]) if entry.utterance[1:].isdecimal() else 0
        names = ("vin", "plate", "paint_code", "odometer", "inspector")
        texts = {name: str(entry.slots[name]) for name in names if name in entry.slots}
        tags = [tag.partition("-")[::2] for tag in entry.tags] if VEHICLE in entry.tags else []
        stood = [value for name, value in tags if name == "stood"]
        texts |= {"stood": stood[-1]} if stood else {}
        yield Telling(
            line, to_word("said"), texts,
            surface=[value for name, value in tags if name == "surface"],
            refusals=[Refusal(v, entry.text) for name, v in tags if name == "refused"] or None,
        )  # fmt: skip


def _take(told: _Told, one: Telling) -> None:
    for name, text in one.texts.items():
        if name == "stood" and text and text not in STOOD:
            continue
        told.texts[name] = text
        told.by[name] = {**told.by.get(name, {}), one.source: text} if text else {}
    reading = odometer_of(one.texts.get("odometer", ""))
    if reading is not None and reading[1]:
        told.odometer = Odometer(*reading)
    elif one.texts.get("odometer") == "":
        told.odometer = None
    if one.surface is not None:
        before = told.surface if one.source == "said" else ()
        known = (value for value in one.surface if value in SURFACES)
        told.surface = tuple(dict.fromkeys((*before, *known)))
    if one.refusals == []:
        told.refusals = {}
    told.refusals |= {r.what: r for r in one.refusals or () if r.what in REFUSED}


def _contradictions(told: _Told) -> Iterator[str]:
    """Sentences on what two sources tell differently."""
    for name, sentence in _NUMBERS.items():
        if len(set(told.by.get(name, {}).values())) > 1:
            yield worded(sentence, given=_given(told.by[name]))
    readings = told.by.get("odometer", {})
    known = list(filter(None, map(odometer_of, readings.values())))
    if any(not _alike(one, other) for one in known for other in known):
        yield worded("Sources differ on the odometer reading: {given}", given=_given(readings))


def _given(by: Mapping[str, str]) -> str:
    """What each source gives, with its name."""
    return joined(
        worded(" and "),
        (joined("", (inert(text, _LONGEST), " (", worded(told), ")")) for told, text in by.items()),
    )


def _alike(one: tuple[float, str], other: tuple[float, str]) -> bool:
    """The same reading; where one has no unit, the same number."""
    if not (one[1] and other[1]):
        return one[0] == other[0]
    return abs(Odometer(*one).km - Odometer(*other).km) <= _SAME_KM


def _doubts(remarks: Sequence[Entry]) -> Iterator[str]:
    """Sentences on remarks about the vehicle that are in doubt; of a VIN, its check aside."""
    for entry in remarks:
        about = VEHICLE in entry.tags or any(name in entry.slots for name in SPELT_SLOTS)
        if about and entry.doubtful:
            named = spelt_in_words(entry) or f"“{inert(entry.text, _LONGEST)}”"
            why = "; ".join(inert(doubt, _LONGEST) for doubt in entry.doubts)
            yield worded("{what} is in doubt: {why} ({entry})", what=named, why=why, entry=entry.id)
