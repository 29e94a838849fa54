"""Where the time between the last word and its tone went."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.runtime.event import Event
from voicelog.runtime.hearing import Uttered


def where_it_went(
    event: Event, item: Uttered, began_s: float, tone_s: float
) -> Mapping[str, float]:
    """Where the time went, in seconds; the ear's work before the decision made nobody wait."""
    timing = event.timing
    after_s = timing.decode_s + timing.read_s + timing.write_s
    return {
        "end-pointing": item.ended_s - item.offset_s - item.clip.speech_end_s,
        "ear, before the decision": item.decode_s,
        "queue": began_s - item.ended_s,
        "ear": timing.decode_s,
        "reading": timing.read_s,
        "disk": timing.write_s,
        "tone": tone_s - began_s - after_s,
    }
