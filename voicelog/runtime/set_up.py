"""What is asked before an inspection opens, where no flag has said it: pure questions and answers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from voicelog.config.settings import Settings
from voicelog.domain.vehicle import STOOD
from voicelog.domain.zone import Cavity, Rails, ZoneMap
from voicelog.tongue import either, worded

LONGEST_SUBJECT = 120
"""Characters of a subject: a sentence at most."""

LEAVES_OPEN = ("skip", "negative", "don't know", "i don't know", "no idea", "not known")
"""What is said instead of an answer; ``negative`` is also a key."""
_NOT = frozenset(("not", "no", "isn't", "aren't", "never"))
"""Words beside which an option that is named may be the very one that is not meant."""

_SIDES = ("left", "right")
_ALSO = {
    "lift": ("hoist", "two post", "four post", "2 post", "4 post"),
    "stands": ("axle stands", "jack stands"),
    "ramp": ("ramps",),
    "pit": ("inspection pit",),
    "floor": ("ground", "wheels"),
    "boxed": ("box section", "closed"),
    "open": ("c section", "channel"),
    "ladder-frame": ("ladder", "body on frame", "separate chassis"),
    "unibody": ("uni body", "unit body", "unitary body", "monocoque"),
    "backbone": ("back bone", "spine"),
}
"""Other names of an answer."""
_ASKED_FOR = {"stood": ("on a {}", "on the {}", "it's on a {}"), "map": ("it's a {}",)}
"""How an answer to a question is put, beside its name alone."""


@dataclass(frozen=True, slots=True)
class SetUpQuestion:
    """One question.

    Args:
        setting: what its answer settles: ``subject``, ``map``, ``driver_side``, ``rails`` or
            ``stood``.
        text: the question as it is said.
        options: the answers it takes; none where any words will do.
    """

    setting: str
    text: str
    options: tuple[str, ...] = ()


def questions(
    settings: Settings,
    subject: str,
    maps: Sequence[str] = (),
    *,
    map_given: bool = False,
    stood: str = "",
) -> Iterator[SetUpQuestion]:
    """What is still open, in the order in which it is asked.

    Args:
        settings: in force.
        subject: what is inspected; empty when not known.
        maps: the maps there are; asked about only where there is a choice.
        map_given: somebody has chosen the map.
        stood: how the vehicle stands; empty when not known.
    """
    if not subject:
        yield SetUpQuestion("subject", worded("What is being inspected?"))
    if len(maps) > 1 and not map_given:
        yield SetUpQuestion("map", worded("Which map: {maps}?", maps=_listed(maps)), tuple(maps))
    if settings.speech.driver_side is None:
        yield SetUpQuestion(
            "driver_side", worded("Driver's side: {sides}?", sides=_listed(_SIDES)), _SIDES
        )
    if settings.rails is Rails.MIXED:
        kinds = tuple(Rails)
        yield SetUpQuestion(
            "rails", worded("How are the rails made: {kinds}?", kinds=_listed(kinds)), kinds
        )
    if not stood:
        yield SetUpQuestion(
            "stood", worded("On a lift, stands, a ramp, a pit or the floor?"), STOOD
        )


def rails_matter(zone_map: ZoneMap) -> bool:
    """True where it depends on how the rails are made which places hide a cavity."""
    return any(zone.cavity is Cavity.IF_BOXED for zone in zone_map.zones.values())


def answer_to(question: SetUpQuestion, text: str) -> str | None:
    """What an answer settles; None where it names no option, or more than one.

    Args:
        question: that was asked.
        text: what was said or typed.
    """
    plain = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if not question.options:
        return plain[:LONGEST_SUBJECT].strip(" .,;!?") or None
    words = "".join(c if c.isalnum() else " " for c in plain.lower())
    if _NOT & set(plain.lower().split()):
        return None
    named = [
        option
        for option in question.options
        if any(_names(words, name) for name in _called(option))
    ]
    return named[0] if len(named) == 1 else None


def leaves_open(text: str) -> bool:
    """True for words that answer nothing, and are meant to."""
    return text.strip(" .,!?").lower() in LEAVES_OPEN


def phrases_of(asked: Iterable[SetUpQuestion]) -> tuple[str, ...]:
    """What an ear leans towards while these are asked: their answers alone, as few phrases are
    heard better than many.
    """
    named = [(q.setting, name) for q in asked for option in q.options for name in _called(option)]
    put = [way.format(name) for setting, name in named for way in _ASKED_FOR.get(setting, ())]
    return (*(name for _, name in named), *put, *LEAVES_OPEN) if named else ()


def settled(settings: Settings, setting: str, answer: str) -> Settings:
    """The settings with an answer; subject and how the vehicle stands are none of them."""
    match setting:
        case "map":
            return replace(settings, map=answer)
        case "driver_side":
            return replace(settings, speech=replace(settings.speech, driver_side=answer))
        case "rails":
            return replace(settings, rails=Rails(answer))
        case _:
            return settings


def _called(option: str) -> tuple[str, ...]:
    """Every name of an answer, as it is spoken."""
    return (option.replace("-", " "), *_ALSO.get(option, ()))


def _names(words: str, name: str) -> bool:
    return f" {name} " in f" {' '.join(words.split())} "


def _listed(options: Sequence[str]) -> str:
    return either([option.replace("-", " ") for option in options])
