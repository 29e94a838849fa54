"""Which words that were heard explain a correction: "seal" where somebody meant the sill.

A correction teaches something only where the words were misheard. A person who misjudged, or thought
better of it, corrects as well, but then the words do not sound like what they should have said.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.lesson import Lesson
from voicelog.domain.reading import Phrase, Speech, Vocabulary
from voicelog.domain.slot import PLACE_SLOTS, Slots
from voicelog.domain.zone import ZoneMap
from voicelog.interpret.cover import Item, covers
from voicelog.interpret.digits import put_right
from voicelog.interpret.lexicon import fold, key
from voicelog.interpret.likeness import Likeness
from voicelog.interpret.localise import Numerals
from voicelog.interpret.matcher import Matcher
from voicelog.interpret.reader import Reader
from voicelog.interpret.sayable import CLASSES, IDLE, is_hearable, is_there, may_say, says, told
from voicelog.interpret.side_by_side import aligned, over
from voicelog.interpret.spans import Span
from voicelog.interpret.tokens import Token, tokenise

LONGEST = 4
"""Words of the longest run that is looked at."""

_TRIED = 6
"""Candidates of one slot that are read again; the best few hold the right one, or none does."""


class Lessons:
    """Looks for mishearings with one vocabulary and one map.

    Args:
        vocabulary: every phrase, the map's zone names included.
        zone_map: the places of the vehicle.
        speech: how this speaker's words are to be taken.
        reader: of the same, where one is there already.
    """

    def __init__(
        self,
        vocabulary: Vocabulary,
        zone_map: ZoneMap,
        *,
        speech: Speech = Speech(),
        reader: Reader | None = None,
    ) -> None:
        self._vocabulary, self._speech = vocabulary, speech
        self._reader = reader or Reader(vocabulary, zone_map, speech=speech)

    def of_correction(
        self, text: str, before: Slots, after: Slots, *, confirmed: bool = False
    ) -> tuple[Lesson, ...]:
        """What words of an entry explain that its slots were corrected.

        For each slot that changed: the run of words that nothing explained, or that said what was
        wrong, which sounds most like a phrase of the right value and, put into its place, makes the
        sentence read so.

        Args:
            text: the words the entry was read from.
            before: its slots as they were read.
            after: its slots as they are right.
            confirmed: it was doubtful and a person found it right: words that were taken by their
                sound are looked for in the slots that did not change, too.

        Returns:
            At most one lesson for each slot, in the order of the slots.
        """
        tokens = self._tokens(text)
        if not tokens:
            return ()
        items = covers(tokens, self._matcher, self._speech)[0].items
        wrong = {n: v for n, v in before.items() if n in CLASSES and after.get(n) != v}
        asked = [n for n in CLASSES if n in after and (confirmed or before.get(n) != after[n])]
        found = (self._explained(tokens, items, slot, after, wrong) for slot in asked)
        return _each_once(lesson for lesson in found if lesson is not None)

    def of_texts(self, heard: str, said: str) -> tuple[Lesson, ...]:
        """What was misheard, from what was heard and what a person typed that was said.

        Args:
            heard: the words as they were heard.
            said: the same sentence as it should have been heard; a rewording teaches nothing.
        """
        wrong, right = self._tokens(heard), self._tokens(said)
        if not wrong or not right:
            return ()
        items = covers(right, self._matcher, self._speech)[0].items
        runs = aligned(_texts(wrong), _texts(right))
        found = (self._taken(item, wrong, runs) for item in items if is_hearable(item))
        return _each_once(lesson for lesson in found if lesson is not None)

    @cached_property
    def _matcher(self) -> Matcher:
        return Matcher(self._vocabulary)

    @cached_property
    def _numerals(self) -> Numerals:
        return Numerals(self._vocabulary)

    def _tokens(self, text: str) -> tuple[Token, ...]:
        """The words as the reader takes them, so that they are found again when they are heard."""
        return tuple(put_right(self._numerals.localised(tokenise(Hypothesis(text)))))

    def _explained(
        self,
        tokens: Sequence[Token],
        items: Sequence[Item],
        slot: str,
        after: Slots,
        wrong: Slots,
    ) -> Lesson | None:
        value = after[slot]
        if any(is_there(item, slot, value) for item in items):
            return None  # its words are there: somebody thought better of it
        phrases = [p for p in self._vocabulary.phrases if may_say(p, slot, value)]
        likely = sorted(
            _candidates(tokens, items, phrases, wrong), key=lambda c: (-c[1].likeness, -len(c[0]))
        )
        for span, lesson in likely[:_TRIED]:
            if self._reads(_put(tokens, span, lesson.say), slot, after):
                return lesson
        return None

    def _reads(self, text: str, slot: str, after: Slots) -> bool:
        """The sentence says the value, at least once its place and its fault are told beside it: one
        of them may have been misheard beyond recognition.
        """
        place, fault = (self._named(name, after) for name in ("zone", "condition"))
        ways = (text, f"{text}, {fault}" if slot in PLACE_SLOTS else f"{place}, {text}")
        readings = (self._reader.read(Heard.typed(way)) for way in ways)
        return any(told(s, slot, after[slot]) for each in readings for s in each.statements)

    def _named(self, slot: str, after: Slots) -> str:
        """A phrase for the slot as it is right; empty where there is none."""
        value = after.get(slot, "")
        phrases = (p for p in self._vocabulary.phrases if p.slot == slot and not p.misheard)
        return next((p.text for p in phrases if p.value == value), "")

    def _taken(
        self, item: Item, heard: Sequence[Token], runs: Sequence[tuple[Span, Span]]
    ) -> Lesson | None:
        """What was heard for one phrase of what was said, if it sounds like it."""
        span = over(runs, Span(item.start, item.end))
        breath = any(token.stop for token in heard[span.start : span.stop - 1])
        if breath or not 0 < len(span) <= LONGEST:
            return None
        words = _texts(heard[span.start : span.stop])
        phrase = Phrase(item.text, item.slot, item.value, item.also)
        lesson = Likeness([phrase]).lesson(words)
        same = key(words) == key(item.text.split())
        return None if same or lesson is None else replace(lesson, say=item.text)


def _put(tokens: Sequence[Token], span: range, say: str) -> str:
    """The sentence with a phrase in the place of some words."""
    put = Token(say, tokens[span.stop - 1].stop)
    words = [*tokens[: span.start], put, *tokens[span.stop :]]
    return " ".join((token.heard or token.text) + token.stop for token in words)


def _candidates(
    tokens: Sequence[Token], items: Sequence[Item], phrases: Sequence[Phrase], wrong: Slots
) -> Iterator[tuple[range, Lesson]]:
    """Runs of words with the phrase that each may be a mishearing of."""
    likeness = Likeness(phrases)
    for begin in range(len(tokens)):
        for end in range(begin + 1, min(len(tokens), begin + LONGEST) + 1):
            lesson = likeness.lesson(_texts(tokens[begin:end]))
            if lesson is not None and _is_free(items, begin, end, lesson.say, wrong):
                yield range(begin, end), lesson
            if tokens[end - 1].stop:
                break


def _is_free(items: Sequence[Item], begin: int, end: int, say: str, wrong: Slots) -> bool:
    """What the words said so far was wrong, or nothing, or the phrase says it as well."""
    said = set(map(fold, say.split()))
    inside = [item for item in items if item.start < end and item.end > begin]
    return all(
        item.slot in IDLE
        or (item.score < 1 and any(says(item, slot, value) for slot, value in wrong.items()))
        or set(map(fold, item.text.split())) <= said
        for item in inside
    )


def _texts(tokens: Sequence[Token]) -> list[str]:
    return [token.text for token in tokens]


def _each_once(found: Iterator[Lesson]) -> tuple[Lesson, ...]:
    """The same words teach one thing only: the likeliest."""
    best: dict[str, Lesson] = {}
    for lesson in found:
        known = best.get(lesson.heard)
        if known is None or lesson.likeness > known.likeness:
            best[lesson.heard] = lesson
    return tuple(best.values())
