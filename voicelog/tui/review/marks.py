"""What an entry has to show for itself: one sign each, always in the same column."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, timezone

from voicelog.domain.entry import Finding
from voicelog.domain.fact import Fact
from voicelog.domain.zone import ZoneMap
from voicelog.review.pictures import Place, Shown, is_pictured

_TOUCHED = ("scraped", "probed", "gauged")
"""Methods that reach the metal, as coverage counts them."""


@dataclass(frozen=True, slots=True)
class Known:
    """What marks are told from, beside the entry itself.

    Args:
        zone_map: the places.
        pictures: the places of which a photo was claimed.
        sounds: ids of the utterances whose sound is kept.
        corrected: entry to how often it was put right at the bench.
        after: ids of the entries changed after the newest signature.
        shown: how many pictures in the log show each entry.
        zone: of the place, for times.
    """

    zone_map: ZoneMap
    pictures: frozenset[Place] = frozenset()
    sounds: Collection[str] = frozenset()
    corrected: Callable[[str], int] = lambda _: 0
    after: Collection[str] = frozenset()
    shown: Shown = field(default_factory=dict)
    zone: timezone = UTC


@dataclass(frozen=True, slots=True)
class Mark:
    """One sign.

    Args:
        sign: one character.
        word: what it stands for.
        holds: whether it is true of an entry.
    """

    sign: str
    word: str
    holds: Callable[[Finding, Known], bool]


def _is_doubtful(finding: Finding, _known: Known) -> bool:
    return (finding.entry.doubtful or finding.entry.unplaced) and not finding.withdrawn


def _has_photo(finding: Finding, known: Known) -> bool:
    return is_pictured(finding.entry, known.pictures, known.zone_map, known.shown)


def _is_probed(finding: Finding, _known: Known) -> bool:
    slots = finding.entry.slots
    return "probe" in slots or "thickness_mm" in slots or slots.get("method") in _TOUCHED


def _saw_inside(finding: Finding, _known: Known) -> bool:
    slots = finding.entry.slots
    return slots.get("face") == "interior" or slots.get("method") == "scoped"


def _is_corrected(finding: Finding, known: Known) -> bool:
    return times_corrected(finding, known) > 0


MARKS: tuple[Mark, ...] = (
    Mark("?", "doubtful", _is_doubtful),
    Mark("♪", "sound kept", lambda f, known: f.entry.utterance in known.sounds),
    Mark("▤", "photo claimed", _has_photo),
    Mark("●", "metal probed", _is_probed),
    Mark("■", "looked inside", _saw_inside),
    Mark("c", "corrected", _is_corrected),
    Mark("Δ", "changed after signing", lambda f, known: f.entry.id in known.after),
)
"""In the order of their columns; the signs of photo, probe and inside are those of the live screen."""


def times_corrected(finding: Finding, known: Known) -> int:
    """How often it was put right at the bench."""
    return known.corrected(finding.entry.id)


def signs(finding: Finding, known: Known) -> str:
    """A character for each mark, a blank where it does not hold."""
    return "".join(mark.sign if mark.holds(finding, known) else " " for mark in MARKS)


def mark_words(finding: Finding, known: Known) -> Iterator[tuple[str, str]]:
    """Sign and word of each mark that holds."""
    for mark in MARKS:
        if mark.holds(finding, known):
            times = times_corrected(finding, known) if mark.sign == "c" else 1
            yield mark.sign, mark.word + ("" if times < 2 else f" {times} times")


def sounds_kept(facts: Collection[Fact]) -> frozenset[str]:
    """The utterances whose sound the log has, and that was not erased since."""
    kept = {str(fact.body.get("utterance", "")) for fact in facts if _has_clip(fact)}
    gone = {str(f.body.get("utterance", "")) for f in facts if f.type == "clip-erased"}
    return frozenset(kept - gone)


def _has_clip(fact: Fact) -> bool:
    clip = fact.body.get("clip")
    return isinstance(clip, Mapping) and "file" in clip
