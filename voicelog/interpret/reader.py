"""The reader: all hypotheses of an utterance to the one reading that explains them best."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.reading import Act, Reading, Speech, Statement, Vocabulary
from voicelog.domain.vehicle import VEHICLE
from voicelog.domain.zone import ZoneMap
from voicelog.interpret.breath import without_breaths
from voicelog.interpret.choosing import FAR, Candidate, Choice, choose
from voicelog.interpret.cover import Cover, Item, covers
from voicelog.interpret.digits import put_right
from voicelog.interpret.drafter import drafts
from voicelog.interpret.heading import Headings
from voicelog.interpret.localise import Numerals
from voicelog.interpret.matcher import Matcher
from voicelog.interpret.mending import Mender
from voicelog.interpret.placing import Context
from voicelog.interpret.scope import apart, mark, unhidden
from voicelog.interpret.sense import checked, doubted, remark, sense, tags
from voicelog.interpret.shared_names import with_shared_names
from voicelog.interpret.spelt import spelt
from voicelog.interpret.statements import statements
from voicelog.interpret.talk import split_talk
from voicelog.interpret.tokens import Token, tokenise


class Reader:
    """Understands utterances with one vocabulary and one map; it remembers nothing between them.

    Args:
        vocabulary: every phrase, the map's zone names included.
        zone_map: the places of the vehicle.
        speech: how this speaker's words are to be taken.
    """

    def __init__(
        self,
        vocabulary: Vocabulary,
        zone_map: ZoneMap,
        *,
        speech: Speech = Speech(),
    ) -> None:
        self._matcher = Matcher(vocabulary)
        self._mender = Mender(self._matcher, zone_map)
        self._numerals = Numerals(vocabulary)
        self._headings = Headings(vocabulary)
        self._context = Context(zone_map, speech)

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

    def _candidates(self, hypothesis: Hypothesis, heard: Heard) -> Iterator[Candidate]:
        tokens = put_right(self._numerals.localised(tokenise(hypothesis)))
        behind = heard.hypotheses[0].score - hypothesis.score
        for cover in self._ways(tokens):
            said = self._statements(cover, tokens, hypothesis.text)
            cover = _explained(cover, said, len(tokens))
            yield Candidate(cover, tokens, hypothesis.text, behind, said)

    def _ways(self, tokens: Sequence[Token]) -> list[Cover]:
        """The ways to cut the words that are worth a look, the best one mended."""
        if not tokens:
            return []
        best, *others = covers(tokens, self._matcher, self._context.speech)
        close = [cover for cover in others if cover.total > best.total - FAR]
        return [self._mender.mended(best), *close]

    def _reading(self, choice: Choice) -> Reading:
        best, rival = choice.best, choice.rival
        said = best.said
        if rival is not None and choice.margin < self._context.speech.margin:
            said = tuple(doubted(s, "another reading fits nearly as well") for s in said)
        return Reading(
            said,
            best.text,
            score=round(max(0.0, min(1.0, best.fit)), 4),
            margin=round(choice.margin, 4),
            runner_up=rival.said if rival is not None else (),
            attention=any(item.slot == "attention" for item in best.cover.items),
        )

    def _statements(
        self, cover: Cover, tokens: Sequence[Token], text: str
    ) -> tuple[Statement, ...]:
        made = [said for run in apart(cover.items) for said in self._run(run, tokens)]
        return tuple(made) or (Statement(Act.REMARK, text=text, tags=tags(cover.items)),)

    def _run(self, run: Sequence[Item], tokens: Sequence[Token]) -> list[Statement]:
        told = spelt(run, tokens)
        if told is not None:
            return [told]
        heading = self._headings.within(run, tokens)
        if heading is None:
            return self._said(run, tokens)
        if heading.rest:
            return [heading.said, *self._said(heading.rest, tokens)]
        return [heading.beside(self._said(run, tokens))]

    def _said(self, run: Sequence[Item], tokens: Sequence[Token]) -> list[Statement]:
        """What a run says of places and of talk."""
        told, talk = split_talk(without_breaths(unhidden(run)))
        report = with_shared_names(told, self._context.zone_map)
        sensible = sense(report)
        said = statements(drafts(mark(report)), self._context)
        made = [checked(statement, report, sensible, tokens) for statement in said]
        return _with_history([*made, *map(remark, talk)], run)


def _explained(cover: Cover, said: Sequence[Statement], words: int) -> Cover:
    """What is said of the vehicle is made of its very words, which no cover knows of."""
    own = sum(len(one.text.split()) for one in said if VEHICLE in one.tags)
    return replace(cover, total=min(float(words), cover.total + own)) if own else cover


def _with_history(made: list[Statement], run: Sequence[Item]) -> list[Statement]:
    """What is told of the vehicle's past is a remark of its own; without a place, only that."""
    return [*filter(_has_weight, made), remark(run)] if tags(run) else made


def _has_weight(said: Statement) -> bool:
    """It steers, or reports something of a place."""
    placed = "zone" in said.slots or bool(said.questions)
    return said.act is not Act.REMARK and (placed or said.act is not Act.REPORT)
