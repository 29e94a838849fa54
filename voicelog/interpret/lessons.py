"""Which words that were heard explain a correction: "seal" where somebody meant the sill.

A correction teaches something only where the words were misheard. A person who misjudged, or thought
better of it, corrects as well, but then the words do not sound like what they should have said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from difflib import SequenceMatcher
from functools import cached_property
from typing import NamedTuple

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.lesson import Lesson
from voicelog.domain.reading import Phrase, Speech, Statement, Vocabulary
from voicelog.domain.slot import Slots, SlotValue
from voicelog.domain.zone import ZoneMap
from voicelog.interpret.bounds import least_apart, profile
from voicelog.interpret.classes import QUIET
from voicelog.interpret.cover import Item, covers
from voicelog.interpret.digits import put_right
from voicelog.interpret.lexicon import fold, key
from voicelog.interpret.localise import Numerals
from voicelog.interpret.matcher import Matcher
from voicelog.interpret.reader import Reader
from voicelog.interpret.sounds import alike, sounds, weight
from voicelog.interpret.spans import Span
from voicelog.interpret.tokens import Token, tokenise

LEAST = 0.7
"""Lowest likeness (0 to 1) at which words may be a mishearing of a phrase.

Measured: 0.97 of the vocabulary's 631 known mishearings of up to four words are so like a phrase of
their own meaning; of 2501 slots of the tuning corpus corrected to another value at random, where
nothing was misheard, NEG yield a lesson."""

LONGEST = 4
"""Words of the longest run that is looked at."""

_BY_SOUND = 0.9
"""Share of the sound in likeness, as for known words: an ear spells what it misheard rightly."""

_TRIED = 6
"""Candidates of one slot that are read again; the best few hold the right one, or none does."""

_CLASSES: Mapping[str, tuple[str, ...]] = {
    "zone": ("zone", "family"),
    "condition": ("condition", "rust", "rot"),
    "side": ("side", "kerb", "seat"),
    "probe": ("probe",),
    "face": ("face",),
    "part": ("part",),
    "layer": ("layer",),
    "method": ("method",),
    "surround": ("surround",),
    "spoken_grade": ("spoken_grade",),
}
"""Slots that single words carry, and the classes of the phrases that say them."""

_ASKED = ("kerb", "seat")
"""Classes whose side hangs on the speaker: only reading tells."""

_IDLE = frozenset((
    *QUIET, "join", "relation", "ignore", "hedge", "contrast", "pronoun", "tag", "past", "address",
    "question", "hypothetical", "obstacle", "end", "label", "lead",
))  # fmt: skip
"""Classes that a misheard phrase may hold without anything understood being lost."""


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
        wrong = {n: v for n, v in before.items() if n in _CLASSES and after.get(n) != v}
        asked = [n for n in _CLASSES if n in after and (confirmed or before.get(n) != after[n])]
        found = (self._explained(tokens, items, slot, after[slot], wrong) for slot in asked)
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
        runs = _aligned(_texts(wrong), _texts(right))
        found = (self._taken(item, wrong, runs) for item in items if _is_hearable(item))
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
        value: SlotValue,
        wrong: Slots,
    ) -> Lesson | None:
        if any(_says(item, slot, value) for item in items if item.slot != "family"):
            return None  # its words are there: somebody thought better of it
        phrases = [p for p in self._vocabulary.phrases if _may_say(p, slot, value)]
        likely = sorted(
            _candidates(tokens, items, phrases, wrong), key=lambda c: (-c[1].likeness, -len(c[0]))
        )
        for span, lesson in likely[:_TRIED]:
            if self._reads(tokens, span, lesson.say, slot, value):
                return lesson
        return None

    def _reads(
        self, tokens: Sequence[Token], span: range, say: str, slot: str, value: SlotValue
    ) -> bool:
        """The sentence says the value once the phrase stands in the place of these words."""
        put = Token(say, tokens[span.stop - 1].stop)
        words = [*tokens[: span.start], put, *tokens[span.stop :]]
        text = " ".join((token.heard or token.text) + token.stop for token in words)
        return any(_told(s, slot, value) for s in self._reader.read(Heard.typed(text)).statements)

    def _taken(
        self, item: Item, heard: Sequence[Token], runs: Sequence[tuple[Span, Span]]
    ) -> Lesson | None:
        """What was heard for one phrase of what was said, if it sounds like it."""
        span = _over(runs, Span(item.start, item.end))
        if span is None or any(token.stop for token in heard[span.start : span.stop - 1]):
            return None
        words = _texts(heard[span.start : span.stop])
        phrase = Phrase(item.text, item.slot, item.value, item.also)
        lesson = _Likeness([phrase]).lesson(words)
        same = key(words) == key(item.text.split())
        return None if same or lesson is None else replace(lesson, say=item.text)


class _Sounding(NamedTuple):
    """A phrase with what is asked of it again and again."""

    phrase: Phrase
    spelt: str
    sound: str
    weight: float
    profile: int


class _Likeness:
    """Phrases that words may be a mishearing of: the few of one meaning, each compared in full.

    An index over the sounds (:class:`~voicelog.interpret.echoes.Echoes`) would miss a third of what
    was misheard badly enough to need a correction.
    """

    def __init__(self, phrases: Iterable[Phrase]) -> None:
        from rapidfuzz.fuzz import ratio

        self._ratio = ratio
        self._phrases = [_sounding(phrase) for phrase in phrases]

    def lesson(self, words: Sequence[str]) -> Lesson | None:
        """The phrase most like them that has at least one other word."""
        spelt, heard = key(words), sounds(" ".join(words))
        mine = _Sounding(Phrase(" ".join(words), "", ""), spelt, heard, weight(heard), profile(heard))
        best, phrase = 0.0, None
        for other in self._phrases:
            likeness = self._alike(mine, other, max(best, LEAST))
            if likeness > best and _differs(words, other.phrase.text.split()):
                best, phrase = likeness, other.phrase
        if phrase is None:
            return None
        return Lesson(
            mine.phrase.text, phrase.slot, phrase.value, phrase.text, round(best, 4), phrase.also
        )

    def _alike(self, one: _Sounding, other: _Sounding, least: float) -> float:
        """How alike they are; 0 where it is under ``least``, mostly found out at once."""
        letters = (1.0 - _BY_SOUND) * self._ratio(one.spelt, other.spelt) / 100
        needed = max(0.0, (least - letters) / _BY_SOUND)
        apart = max(abs(one.weight - other.weight), least_apart(one.profile, other.profile))
        both = one.weight + other.weight
        if both and 1.0 - 2.0 * apart / (both + apart) < needed:
            return 0.0
        likeness = letters + _BY_SOUND * alike(one.sound, other.sound, needed)
        return likeness if likeness >= least else 0.0


def _sounding(phrase: Phrase) -> _Sounding:
    sound = sounds(phrase.text)
    spelt = key(phrase.text.split())
    return _Sounding(phrase, spelt, sound, weight(sound), profile(sound))


def _candidates(
    tokens: Sequence[Token], items: Sequence[Item], phrases: Sequence[Phrase], wrong: Slots
) -> Iterator[tuple[range, Lesson]]:
    """Runs of words with the phrase that each may be a mishearing of."""
    likeness = _Likeness(phrases)
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
        item.slot in _IDLE
        or (item.score < 1 and any(_says(item, slot, value) for slot, value in wrong.items()))
        or set(map(fold, item.text.split())) <= said
        for item in inside
    )


def _differs(words: Sequence[str], phrase: Sequence[str]) -> bool:
    """Neither only has a word more than the other: then none was misheard."""
    mine, theirs = (f" {' '.join(map(fold, each))} " for each in (words, phrase))
    return mine not in theirs and theirs not in mine and key(words) != key(phrase)


def _is_hearable(item: Item) -> bool:
    return any(item.slot in classes for classes in _CLASSES.values())


def _says(item: Item | Phrase, slot: str, value: SlotValue) -> bool:
    """The words say just that at their face value."""
    if item.slot == "family" and slot == "zone":
        return str(value) in item.value.split("+")
    direct = item.slot in _CLASSES[slot] and item.slot not in _ASKED and item.value == value
    return direct or item.also.get(slot) == value


def _may_say(phrase: Phrase, slot: str, value: SlotValue) -> bool:
    """A person says it, and it may mean that."""
    asked = slot == "side" and phrase.slot in _ASKED
    return not phrase.misheard and (asked or _says(phrase, slot, value))


def _told(statement: Statement, slot: str, value: SlotValue) -> bool:
    """It says the value, or asks which of several is meant, that one among them."""
    options = (q.options for q in statement.questions if q.slot == slot)
    return statement.slots.get(slot) == value or any(value in each for each in options)


def _texts(tokens: Sequence[Token]) -> list[str]:
    return [token.text for token in tokens]


def _aligned(heard: Sequence[str], said: Sequence[str]) -> list[tuple[Span, Span]]:
    """Runs of both, in order: what was heard, and what was said there; equal words one by one."""
    runs: list[tuple[Span, Span]] = []
    matcher = SequenceMatcher(None, heard, said, autojunk=False)
    for kind, begin, end, first, last in matcher.get_opcodes():
        if kind == "equal" or end - begin == last - first:
            steps = range(end - begin)
            runs += [
                (Span(begin + n, begin + n + 1), Span(first + n, first + n + 1)) for n in steps
            ]
        else:
            runs.append((Span(begin, end), Span(first, last)))
    return runs


def _over(runs: Sequence[tuple[Span, Span]], said: Span) -> range | None:
    """Words heard for a stretch of what was said; None where its bounds cut through a run."""
    inside = [(h, s) for h, s in runs if s.begin < said.end and s.end > said.begin]
    if not inside or inside[0][1].begin < said.begin or inside[-1][1].end > said.end:
        return None
    heard = range(inside[0][0].begin, inside[-1][0].end)
    return heard if 0 < len(heard) <= LONGEST else None


def _each_once(found: Iterator[Lesson]) -> tuple[Lesson, ...]:
    """The same words teach one thing only: the likeliest."""
    best: dict[str, Lesson] = {}
    for lesson in found:
        known = best.get(lesson.heard)
        if known is None or lesson.likeness > known.likeness:
            best[lesson.heard] = lesson
    return tuple(best.values())
