"""The reader: all hypotheses of an utterance to the one reading that explains them best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.reading import Act, Reading, Speech, Statement, Vocabulary
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.interpret.choosing import FAR, Candidate, Choice, choose
from voicelog.interpret.cover import Cover, Item, covers
from voicelog.interpret.digits import put_right
from voicelog.interpret.drafter import drafts
from voicelog.interpret.gaps import LIGHT
from voicelog.interpret.localise import Numerals
from voicelog.interpret.matcher import Matcher
from voicelog.interpret.mending import Mender
from voicelog.interpret.placing import Context
from voicelog.interpret.scope import CONTENT, apart, mark, next_content, split_talk, unhidden
from voicelog.interpret.spelt import spelt
from voicelog.interpret.statements import facts, statements
from voicelog.interpret.tokens import Token, tokenise

_LEAST_SENSE = 0.34
"""Least share of weighty words explained for an utterance that names its place."""
_LEAST_SENSE_UNPLACED = 0.6
"""The same where the place would have to be carried over."""
_IDLE = {"unknown": 1.0, "filler": 0.0, "ignore": 0.0, "join": 0.0}
"""How much a word of these classes speaks for talk."""
_FAINT = 0.15
"""Mean confidence below which weighty words are doubtful: with a bias, single right words of the
built-in ear often score under 0.1 (the bundled recordings), so one low word proves nothing."""


class Reader:
    """Understands utterances with one vocabulary and one map; it remembers nothing between them.

    Args:
        vocabulary: every phrase, the map's zone names included.
        zone_map: the places of the vehicle.
        speech: how this speaker's words are to be taken.
        rails: kept for callers that fold a log with the same settings.
    """

    def __init__(
        self,
        vocabulary: Vocabulary,
        zone_map: ZoneMap,
        *,
        speech: Speech = Speech(),
        rails: Rails = Rails.MIXED,
    ) -> None:
        self._matcher = Matcher(vocabulary)
        self._mender = Mender(self._matcher, zone_map)
        self._numerals = Numerals(vocabulary)
        self._context = Context(zone_map, speech)
        self.rails = rails

    def read(self, *heard: Heard) -> Reading:
        """The reading that explains the hypotheses best; a lone remark where nothing does.

        Args:
            heard: what one ear made of the utterance, or each of several.
        """
        candidates = [c for one in heard for h in one.hypotheses for c in self._candidates(h, one)]
        if not candidates:
            text = heard[0].text if heard else ""
            return Reading((Statement(Act.REMARK),), text, score=0.0)
        return self._reading(choose(candidates))

    def _candidates(self, hypothesis: Hypothesis, heard: Heard) -> list[Candidate]:
        tokens = put_right(self._numerals.localised(tokenise(hypothesis)))
        if not tokens:
            return []
        behind = heard.hypotheses[0].score - hypothesis.score
        ways = covers(tokens, self._matcher, self._context.speech)
        ways = (self._mender.mended(ways[0]), *ways[1:])
        return [
            Candidate(
                cover,
                tokens,
                hypothesis.text,
                behind,
                self._statements(cover, tokens, hypothesis.text),
            )
            for cover in ways
            if cover.total > ways[0].total - FAR
        ]

    def _reading(self, choice: Choice) -> Reading:
        best, rival = choice.best, choice.rival
        said = best.said
        if rival is not None and choice.margin < self._context.speech.margin:
            said = tuple(_doubt(s, "another reading fits nearly as well") for s in said)
        attention = any(item.slot == "attention" for item in best.cover.items)
        score = max(0.0, min(1.0, best.fit))
        others = rival.said if rival is not None else ()
        return Reading(said, best.text, round(score, 4), round(choice.margin, 4), others, attention)

    def _statements(
        self, cover: Cover, tokens: tuple[Token, ...], text: str
    ) -> tuple[Statement, ...]:
        made: list[Statement] = []
        for run in apart(cover.items):
            made.extend(self._run(run, tokens))
        return tuple(made) or (Statement(Act.REMARK, text=text, tags=_tags(cover.items)),)

    def _run(self, run: Sequence[Item], tokens: tuple[Token, ...]) -> list[Statement]:
        told = spelt(run, tokens)
        if told is not None:
            return [told]
        report, talk = split_talk(_trim_filler_side(unhidden(run)))
        sense = max(_sense(report), _sense(_first_clause(report)))
        made = [
            self._checked(statement, report, sense, tokens)
            for statement in statements(drafts(mark(report)), self._context)
        ]
        for words in talk:
            text = " ".join(item.text for item in words)
            made.append(Statement(Act.REMARK, text=text, tags=_tags(words)))
        return _with_history(made, run)

    def _checked(
        self,
        statement: Statement,
        report: Sequence[Item],
        sense: float,
        tokens: tuple[Token, ...],
    ) -> Statement:
        """Too little of the sentence understood: a remark. Faintly heard: doubtful."""
        says = facts(statement) or statement.clear or statement.absent
        if statement.act is not Act.REPORT or not says:
            return statement
        placed = "zone" in statement.slots or bool(statement.questions)
        least = _LEAST_SENSE if placed else _LEAST_SENSE_UNPLACED
        if sense < least:
            return Statement(Act.REMARK, text=statement.text, tags=_tags(report))
        if sense < least + 0.12:
            statement = _doubt(statement, "little of the sentence was understood")
        faint = [
            item.text
            for item in report
            if item.slot in CONTENT and _confidence(item, tokens) < _FAINT
        ]
        return _doubt(statement, f"{faint[0]} was heard faintly") if faint else statement


def _with_history(made: list[Statement], run: Sequence[Item]) -> list[Statement]:
    """What is told of the vehicle's past is a remark of its own; without a place, only that."""
    tags = _tags(run)
    if not tags:
        return made
    kept = [s for s in made if "zone" in s.slots or s.questions or s.act is not Act.REPORT]
    kept = [s for s in kept if s.act is not Act.REMARK]
    text = " ".join(item.text for item in run)
    return [*kept, Statement(Act.REMARK, text=text, tags=tags)]


def _doubt(statement: Statement, doubt: str) -> Statement:
    return replace(statement, doubts=(*statement.doubts, doubt))


def _confidence(item: Item, tokens: tuple[Token, ...]) -> float:
    words = tokens[item.start : item.end]
    return sum(token.confidence for token in words) / len(words)


def _trim_filler_side(items: Sequence[Item]) -> list[Item]:
    """ "Right, …" before another side or before talk is only a breath."""
    items = list(items)
    after = next_content(items, 0) if items else None
    if items and items[0].text in ("okay", "ok") and after is not None:
        return [replace(items[0], slot="ignore", value="ignore"), *_trim_filler_side(items[1:])]
    if items and items[0].text in ("all right", "alright") and after is not None:
        if after.slot == "zone" and not items[0].stop:  # a breath, or "right" after one
            items[0] = replace(items[0], slot="side", value="right", score=0.4)
        else:
            items[0] = replace(items[0], slot="ignore", value="ignore")
        return items
    for at in range(1, len(items)):
        alone = items[at].text == "right" and items[at].stop and items[at - 1].stop
        denied = at > 1 and items[at - 2].slot == "negation"  # "not left, right,"
        if alone and not denied and any(item.slot in ("side", "kerb") for item in items[:at]):
            items[at] = replace(items[at], slot="ignore", value="ignore")
    if items and items[0].text == "right" and items[0].stop and len(items) > 1:
        later = [item.slot for item in items[1:] if item.slot not in ("filler", "unknown")]
        says_place = later[:1] == ["zone"] and "side" not in later
        if not says_place:
            items[0] = replace(items[0], slot="ignore", value="ignore")
    return items


def _first_clause(items: Sequence[Item]) -> Sequence[Item]:
    """Up to the first stop, where a fault is named there; else nothing that makes sense."""
    end = next((at + 1 for at, item in enumerate(items) if item.stop), len(items))
    clause = items[:end]
    told = any(item.slot in CONTENT for item in clause)
    return clause if told else items


def _sense(items: Sequence[Item]) -> float:
    """Share of the weighty words that say something about the vehicle, 0 to 1."""
    explained = idle = 0.0
    for item in items:
        if item.slot in _IDLE:
            idle += _IDLE[item.slot] if item.value != LIGHT else 0.0
        else:
            explained += item.weight
    return explained / (explained + idle) if explained + idle else 1.0


def _tags(items: Sequence[Item]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(item.value for item in items if item.slot == "tag"))
