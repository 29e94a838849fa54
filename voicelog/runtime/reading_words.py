"""A reading in words, before anything is known of what was said earlier."""

from __future__ import annotations

from collections.abc import Sequence

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.reading import Act
from voicelog.domain.zone import ZoneMap
from voicelog.findings.places import place_in_words
from voicelog.findings.wording import what_in_words
from voicelog.runtime.warm_up_prompts import Sense
from voicelog.tongue import joined, worded

_KINDS = {Act.NOT_SEEN: Kind.NOT_SEEN, Act.PHOTO: Kind.PHOTO}


def reading_in_words(senses: Sequence[Sense], zone_map: ZoneMap) -> str:
    """What was understood, for example ``left sill, hole``; "nothing" where nothing was."""
    return joined("; ", (_told(sense, zone_map) for sense in senses)) or worded("nothing")


def _told(sense: Sense, zone_map: ZoneMap) -> str:
    """Place and what is there; of what steers the inspection, what it does."""
    kind = _KINDS.get(sense.act, Kind.CLEAR if sense.clear else Kind.FINDING)
    entry = Entry("", "", "", kind, sense.slots, absent=sense.absent)
    steers = sense.act is not Act.REPORT and sense.act not in _KINDS
    does = str(sense.act).replace("-", " ") if steers else ""
    parts = (does, _place(sense, zone_map), what_in_words(Finding(entry)))
    return joined(", ", filter(None, parts))


def _place(sense: Sense, zone_map: ZoneMap) -> str:
    if "zone" in sense.slots:
        return place_in_words(sense.slots, zone_map)
    return str(sense.slots.get("side", ""))
