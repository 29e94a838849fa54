"""What the baselines share, so that the comparison is about finding what the words mean.

They read numbers with voicelog's own :mod:`voicelog.interpret.measures`, take plurals for
singulars, carry the place from one utterance to the next, and turn phrases into entries in the same way. They differ in how they find
the vocabulary's phrases in a text.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from corpus import Said
from own import settings_of

from voicelog.domain.heard import Hypothesis
from voicelog.domain.reading import Phrase, Speech
from voicelog.interpret.measures import Measure, measure_at
from voicelog.interpret.tokens import tokenise
from voicelog.yardstick.strict import Answer, Got

CLASSES: Mapping[str, str] = {
    "zone": "zone", "side": "side", "kerb": "side", "seat": "side", "face": "face",
    "condition": "condition", "rot": "condition", "rust": "condition", "probe": "probe",
    "surround": "surround", "spoken_grade": "spoken_grade", "hedge": "certainty",
    "clear": "clear", "good": "clear", "act": "act",
}  # fmt: skip
"""Word class of the vocabulary to what an entry is made of; the others tell the baselines nothing.
Of the acts only *not seen* and *photo* make entries."""

MEASURE = "measure"
"""How the word that stands for a measure in a simplified text begins; its number follows."""

_ACTS = ("not-seen", "photo")
_PROBED = {"firm": ("clear", ""), "soft": ("finding", "soft-spot"), "through": ("finding", "hole")}
"""Kind and condition of a probe that comes without either."""


@dataclass(frozen=True)
class Sentence:
    """Plain words, every measure among them replaced by one word.

    Args:
        words: lower case, without plural endings; ``measure0`` stands for the first measure.
        measures: those, in order.
        breaks: indexes of the words after which a comma stood.
    """

    words: tuple[str, ...]
    measures: tuple[Measure, ...]
    breaks: frozenset[int] = frozenset()


@dataclass
class Found:
    """What a baseline found in one sentence, for one entry.

    Args:
        slots: by slot, ``clear`` and ``act`` among them.
        measures: with whether a condition stood right after it.
        sure: every phrase was there word for word.
    """

    slots: dict[str, str] = field(default_factory=dict)
    measures: list[tuple[Measure, bool]] = field(default_factory=list)
    sure: bool = True


Finder = Callable[[Sentence, Speech], Sequence[Found]]
"""A baseline: what it finds in a sentence, one :class:`Found` for each entry."""


def understand(said: Sequence[Said], flags: Mapping[str, str], finder: Finder) -> Answer:
    """One inspection as a baseline takes it down."""
    speech = settings_of(tuple(sorted(flags.items()))).speech
    place: dict[str, str] = {}
    entries: list[Got] = []
    for utterance in said:
        for sentence in sentences(utterance.text, speech):
            for found in finder(sentence, speech):
                place = moved(place, found.slots)
                entries += _entry(found, place)
    return Answer(tuple(entries))


def sentences(text: str, speech: Speech) -> Iterator[Sentence]:
    """The text cut at full stops, semicolons and "next item"; its measures as one word each."""
    for part in re.split(r"(?<!\d)[.;](?:\s|$)|\bnext item\b", text):
        tokens = tokenise(Hypothesis(part))
        words, stops = [token.text for token in tokens], [token.stop for token in tokens]
        kept: list[str] = []
        measures: list[Measure] = []
        breaks: set[int] = set()
        at = 0
        while at < len(words):
            found = measure_at(words, at, speech)
            if found is not None:
                kept.append(f"{MEASURE}{len(measures)}")
                measures.append(found)
            else:
                kept.append(fold(words[at]))
            at = found.end if found is not None else at + 1
            if stops[at - 1]:
                breaks.add(len(kept) - 1)
        if kept:
            yield Sentence(tuple(kept), tuple(measures), frozenset(breaks))


def fold(word: str) -> str:
    """The word without the ending of a plural, so that "cracks" is found by "crack"."""
    return word[:-1] if len(word) > 3 and word.endswith("s") and word[-2] != "s" else word


def folded(text: str) -> str:
    """Every word of a phrase folded, hyphens opened as in what was heard."""
    return " ".join(fold(word) for word in text.replace("-", " ").split())


def value(phrase: Phrase, speech: Speech) -> tuple[str, str] | None:
    """The slot a phrase settles and its value; None where it settles none."""
    slot = CLASSES.get(phrase.slot)
    if slot is None or (slot == "act" and phrase.value not in _ACTS):
        return None
    if phrase.slot == "kerb":
        near = speech.nearside
        return slot, near if phrase.value == "near" else _opposite(near)
    if phrase.slot == "seat":
        side = speech.driver_side
        return (
            None if side is None
            else (slot, side if phrase.value == "driver" else _opposite(side))
        )  # fmt: skip
    return slot, phrase.value


def _opposite(side: str) -> str:
    return "left" if side == "right" else "right"


def moved(place: Mapping[str, str], said: Mapping[str, str]) -> dict[str, str]:
    """The place after a sentence: a zone clears what was known, a new side the face."""
    kept = {} if said.get("zone", place.get("zone")) != place.get("zone") else dict(place)
    if said.get("side", kept.get("side")) != kept.get("side"):
        kept.pop("face", None)
    return kept | {slot: said[slot] for slot in ("zone", "side", "face") if slot in said}


def _entry(found: Found, place: Mapping[str, str]) -> Iterator[Got]:
    """The entry of what was found; nothing where no kind can be told or no place is known."""
    kind, condition = _kind(found.slots)
    if not kind or "zone" not in place:
        return
    slots: dict[str, Any] = {"kind": kind, **place}
    if condition:
        slots["condition"] = condition
    if kind in ("finding", "clear") and "probe" in found.slots:
        slots["probe"] = found.slots["probe"]
    if kind == "finding":
        more = ("surround", "spoken_grade", "certainty")
        slots |= {slot: found.slots[slot] for slot in more if slot in found.slots}
        slots |= sizes(found.measures, condition)
    yield Got(slots, () if found.sure else ("not word for word",))


def _kind(slots: Mapping[str, str]) -> tuple[str, str]:
    """Kind and condition; an empty kind where there is nothing to enter."""
    if slots.get("act") == "not-seen":
        return "not-seen", ""
    if "condition" in slots:
        return "finding", slots["condition"]
    if slots.get("act") == "photo":
        return "photo", ""
    if "clear" in slots:
        return "clear", ""
    return _PROBED.get(slots.get("probe", ""), ("", ""))


def sizes(measures: Sequence[tuple[Measure, bool]], condition: str) -> dict[str, float]:
    """Slots of the measures by their unit and the condition; a bare number before it is a count."""
    slots: dict[str, float] = {}
    for measure, counts in measures:
        slot = _slot(measure, condition, counts)
        if slot and slot not in slots:
            slots[slot] = round(measure.value) if slot == "count" else measure.value
            if measure.by is not None and slot == "size_mm":
                slots["size_mm"], slots["width_mm"] = sorted((measure.value, measure.by))[::-1]
    return slots


def _slot(measure: Measure, condition: str, counts: bool) -> str:
    if measure.quantity in ("percent", "area"):
        return "loss_percent" if condition == "thinning" else "area_percent"
    if measure.quantity == "gauge":
        return "nominal_mm"
    if measure.quantity == "number" and counts:
        return "count"
    return {"thinning": "thickness_mm", "pitting": "depth_mm"}.get(condition, "size_mm")


def numbered(
    words: Sequence[str], measures: Sequence[Measure], condition_at: int
) -> list[tuple[Measure, bool]]:
    """The measures, each with whether it stands right before the condition."""
    before = words[condition_at - 1] if 0 < condition_at <= len(words) else ""
    return [(m, before == f"{MEASURE}{number}") for number, m in enumerate(measures)]
