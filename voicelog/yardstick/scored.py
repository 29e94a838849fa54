"""What became of the recordings of a sheet, and the counts of any group of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from voicelog.yardstick.sheet import Item
from voicelog.yardstick.strict import Answer, Tally, false_in
from voicelog.yardstick.words import Words


@dataclass(frozen=True, slots=True)
class Take:
    """One recording, by what is known of it.

    Args:
        item: the sentence that is said.
        speaker: a code.
        noise: the name that the speaker gave the noise.
        number: which take it is; empty for the first.
    """

    item: Item
    speaker: str
    noise: str
    number: str = ""


@dataclass(frozen=True, slots=True)
class Result:
    """What a system made of one recording.

    Args:
        tally: it judged, as counts; of talk, what stands after it judged by what stood before.
        answer: the entries themselves.
    """

    tally: Tally
    answer: Answer


@dataclass(frozen=True, slots=True)
class Scored:
    """One recording, heard.

    Args:
        take: which.
        seconds: how long it is.
        clips: utterances that it was cut into; 0 where no speech was found.
        heard: what the first ear wrote.
        words: its word errors.
        asked: utterances about which the second ear was asked.
        results: by the system's name.
    """

    take: Take
    seconds: float
    clips: int
    heard: str
    words: Words
    asked: int
    results: Mapping[str, Result]


@dataclass(frozen=True, slots=True)
class Counts:
    """What a system made of a group of recordings.

    Args:
        told: counts over recordings that tell of the vehicle.
        talk: recordings of talk.
        spoilt: those of them that made an entry, or changed the one before.
        false: entries so made and changed.
        false_marked: those of the entries made that are marked doubtful.
        words: word errors, talk included.
    """

    told: Tally
    talk: int
    spoilt: int
    false: int
    false_marked: int
    words: Words


def counts(scored: Iterable[Scored], system: str) -> Counts:
    """A system's counts over some recordings."""
    listed = list(scored)
    told = (s.results[system].tally for s in listed if not s.take.item.is_talk)
    talk = [s.results[system].tally for s in listed if s.take.item.is_talk]
    return Counts(
        sum(told, Tally()),
        len(talk),
        sum(false_in(tally) > 0 for tally in talk),
        sum(map(false_in, talk)),
        sum(tally.wrong_marked for tally in talk),
        sum((s.words for s in listed), Words()),
    )


def by_noise(scored: Sequence[Scored]) -> dict[str, list[Scored]]:
    """The recordings of each noise, in the order in which they came."""
    return _grouped(scored, [s.take.noise for s in scored])


def by_speaker(scored: Sequence[Scored]) -> dict[str, list[Scored]]:
    """The recordings of each speaker, likewise."""
    return _grouped(scored, [s.take.speaker for s in scored])


def by_kind(scored: Sequence[Scored]) -> dict[str, list[Scored]]:
    """The recordings of each kind of sentence, likewise."""
    return _grouped(scored, [s.take.item.kind for s in scored])


def _grouped(scored: Sequence[Scored], names: Sequence[str]) -> dict[str, list[Scored]]:
    groups: dict[str, list[Scored]] = {}
    for name, one in zip(names, scored, strict=True):
        groups.setdefault(name, []).append(one)
    return groups
