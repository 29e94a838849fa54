"""Values of slots as a person types them, into a field or after ``--set``; and the way back."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from voicelog.domain.entry import Kind
from voicelog.domain.inert import inert
from voicelog.domain.reading import Speech, Vocabulary
from voicelog.domain.slot import SLOTS, SPELT_SLOTS, Slots, SlotValue
from voicelog.domain.vehicle import odometer_of, told_odometer
from voicelog.domain.zone import ZoneMap
from voicelog.errors import UsageFault
from voicelog.interpret.lexicon import key
from voicelog.interpret.slot_names import named_value
from voicelog.interpret.slot_numbers import DECIMALS, number_value
from voicelog.interpret.slot_words import (
    no_such,
    short_name,
    shown,
    slot_named,
    values_of,
    words_of,
)
from voicelog.interpret.units import INCH_MM
from voicelog.tongue import worded

LONGEST_TEXT = 500
"""Characters of a value."""
_HALF_CHARACTER = re.compile("[\ud800-\udfff]")
"""What a terminal makes of bytes that are no text; strict readers would refuse the whole log."""


@dataclass(frozen=True, slots=True)
class Assigned:
    """What a row of assignments asks for.

    Args:
        set: slots with their new values.
        drop: slots that no longer hold, given without a value.
        kind: the entry's new kind; None leaves it.
        reason: why a place could not be looked at; None leaves it.
    """

    set: Slots = field(default_factory=dict)
    drop: tuple[str, ...] = ()
    kind: Kind | None = None
    reason: str | None = None


def slot_value(
    slot: str, text: str, zone_map: ZoneMap, vocabulary: Vocabulary, *, speech: Speech = Speech()
) -> SlotValue:
    """The value that a text means in a slot.

    Names of closed lists, zones and conditions are taken by their id, their title or any spoken
    form; what recognisers make of them is only suggested. Numbers take units (see
    :func:`~voicelog.interpret.slot_numbers.number_value`). What *I spell* gives keeps letters and
    digits in upper case; whether an identification number checks is not asked here.

    Args:
        slot: a name of ``SLOTS``.
        text: as typed.
        zone_map: the places of the vehicle.
        vocabulary: every phrase, the map's zone names included.
        speech: how this person's words are to be taken.

    Raises:
        UsageFault: no such slot or value; the hint names the nearest.
    """
    slot, text = slot_named(slot), _tidy(text)
    kind = SLOTS[slot].kind
    if not text:
        raise UsageFault(worded("{slot} has no value", slot=slot), worded("Give one"))
    if len(text) > LONGEST_TEXT:
        raise UsageFault(
            worded(
                "{slot} is longer than {most} characters",
                slot=slot,
                most=LONGEST_TEXT,
            ),
            worded("Shorten it"),
        )
    if kind in ("word", "name"):
        return named_value(slot, text, zone_map, vocabulary, speech)
    if kind == "text":
        return _spelt(slot, text) if slot in SPELT_SLOTS else _text(slot, text)
    return number_value(slot, text, vocabulary, speech)


def slot_assignments(
    texts: Iterable[str],
    zone_map: ZoneMap,
    vocabulary: Vocabulary,
    *,
    speech: Speech = Speech(),
) -> Assigned:
    """What ``side=right``, ``size=3/16 in``, ``face=`` (dropped) and the like ask for.

    ``kind=`` and ``reason=`` are no slots but are taken too; a reason goes with ``kind=not-seen``.

    Raises:
        UsageFault: one of them is none, or the same name is given twice.
    """
    given = _apart(texts)
    kind, reason = given.pop("kind", None), given.pop("reason", None)
    told = None if kind is None else _kind(kind)
    if reason and told not in (None, Kind.NOT_SEEN):
        raise UsageFault(
            worded("An entry of kind {kind} has no reason", kind=told),
            worded("Give kind=not-seen with it"),
        )
    if reason and len(reason) > LONGEST_TEXT:
        raise UsageFault(
            worded("reason is longer than {most} characters", most=LONGEST_TEXT),
            worded("Shorten it"),
        )
    return Assigned(
        {
            slot: slot_value(slot, text, zone_map, vocabulary, speech=speech)
            for slot, text in given.items()
            if text
        },
        tuple(slot for slot, text in given.items() if not text),
        told,
        reason,
    )


def value_in_words(slot: str, value: SlotValue, zone_map: ZoneMap) -> str:
    """A value the way a field shows it: ``4.8 mm (0.189 in)``, ``33 %``, ``Front rail``.

    :func:`slot_value` makes the same value of it again, unprintable characters aside.
    """
    kind = SLOTS[slot].kind
    if isinstance(value, str):
        return (
            values_of(slot, zone_map).get(value, inert(value)) if kind != "text" else inert(value)
        )
    number = f"{float(value):.{DECIMALS}f}".rstrip("0").rstrip(".")
    if kind == "length":
        return f"{number} mm ({float(value) / float(INCH_MM):.3f} in)"
    return f"{number} %" if kind == "percent" else number


def _tidy(text: str) -> str:
    """White space at the ends gone, elsewhere single; half characters replaced."""
    return " ".join(_HALF_CHARACTER.sub("\ufffd", text).split())


def _apart(texts: Iterable[str]) -> dict[str, str]:
    """Names, those of slots in full, to the tidied text behind the first equals sign."""
    given: dict[str, str] = {}
    for text in texts:
        name, sign, value = text.partition("=")
        if not sign:
            raise UsageFault(
                worded("{text} sets nothing", text=shown(text)),
                worded("Write slot=value, such as side=left"),
            )
        name = name.strip().lower()
        name = name if name in ("kind", "reason") else slot_named(name)
        if name in given:
            raise UsageFault(
                worded("{name} is given twice", name=short_name(name)), worded("Give it once")
            )
        given[name] = _tidy(value)
    return given


def _kind(text: str) -> Kind:
    spelt = key(words_of(text))
    for kind in Kind:
        if key(words_of(kind)) == spelt:
            return kind
    raise no_such(text, worded("kind of entry"), tuple(Kind))


def _text(slot: str, text: str) -> str:
    """Words as they are; an odometer as it is kept.

    Raises:
        UsageFault: it is no reading.
    """
    if slot != "odometer":
        return text
    reading = odometer_of(text)
    if reading is None:
        raise UsageFault(
            worded("{text} is no odometer reading", text=shown(text)),
            worded("Write it like 82400 mi"),
        )
    return told_odometer(*reading)


def _spelt(slot: str, text: str) -> str:
    """Letters and digits in upper case; blanks and hyphens only group them."""
    characters = re.sub(r"[\s-]", "", text)
    if not characters.isalnum():
        raise UsageFault(
            worded("{slot}: {text} is not only letters and digits", slot=slot, text=shown(text)),
            worded("Type them alone"),
        )
    return characters.upper()
