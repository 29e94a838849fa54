"""Was enough of a sentence understood, and heard clearly, to report what it says?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from voicelog.domain.reading import Act, Statement
from voicelog.interpret.classes import CONTENT
from voicelog.interpret.cover import Item
from voicelog.interpret.gaps import LIGHT
from voicelog.interpret.statements import facts
from voicelog.interpret.tokens import Token

_LEAST_SENSE = 0.34
"""Least share of weighty words explained for an utterance that names its place."""
_LEAST_SENSE_UNPLACED = 0.6
"""The same where the place would have to be carried over."""
_LITTLE = 0.12
"""So much over the least is still little, and doubtful."""
_IDLE = {"unknown": 1.0, "filler": 0.0, "ignore": 0.0, "join": 0.0}
"""How much a word of these classes speaks for talk."""
_IDLE_UNPLACED = {"unknown": 1.0, "filler": 0.15, "ignore": 0.15, "join": 0.0}
"""The same where the place would have to be carried over: known words speak for talk too."""
_FAINT = 0.15
"""Mean confidence below which weighty words are doubtful, however clear the rest is."""
_UNSURE = 0.8
"""Mean confidence of all words below which everything said is doubtful: what the words around it are
says more than its own. Measured with the built-in ear's chances on 336 clips (quiet to 5 dB, voices
and texts of no training): of the entries that came out otherwise than from the typed text it marks
80 in 100, where the other signs alone mark 72; of the others 76 instead of 71, most of them
because an end or a side was left open. At 0.7 it is 77 and 71, at 0.85 85 and 78."""

_MUMBLED, _MUMBLED_AT_ALL, _WHOLLY = 0.8, 0.5, 0.95
"""Mean confidence of all words below which what would have to be carried over to the place at hand is no
more than a doubtful remark: colleagues and a radio, half heard, sound like findings to an ear that listens
for them. The second is for a sentence of which nearly all (the third, as a share) is understood: "metal is
firm", said after a finding, is short, and seldom heard without doubt. What names its place stays a finding,
in doubt. Measured with the built-in ear in tuning voices: of 240 such short sentences, quiet and at 10 dB,
196 come out as if typed, where 208 do without this rule, and 160 with 0.8 for all; of half an hour of talk
and radio 21 false findings are left of 45, and 17 with 0.8 for all. Whole sentences lose nothing:
of 54 each in quiet, at 10 and at 0 dB 51, 46 and 43 come out exactly right, where 51, 46 and 43 did."""
_MUMBLED_DOUBT = "it was heard too faintly to be taken for a finding"
_CLAIMS = (Act.REPORT, Act.SAME, Act.ANOTHER, Act.NOT_SEEN)
"""What says something about the vehicle; a picture announced too often, or a command, does no harm."""


class Sense(NamedTuple):
    """How much of a sentence makes sense, 0 to 1.

    Args:
        placed: where it names its place.
        carried: where the place would have to be carried over.
    """

    placed: float
    carried: float


def sense(items: Sequence[Item]) -> Sense:
    """Share of the weighty words that say something about the vehicle.

    "Sill has a hole, so i told him we'd never get it through": the first clause alone counts where
    it makes more sense than the whole.
    """
    return Sense(_sense(items, _IDLE), _sense(items, _IDLE_UNPLACED))


def _sense(items: Sequence[Item], idle: Mapping[str, float]) -> float:
    clause = _first_clause(items)
    whole = _share(items, idle)
    return whole if len(clause) == len(items) else max(whole, _share(clause, idle))


def checked(
    statement: Statement, report: Sequence[Item], sense: Sense, tokens: Sequence[Token]
) -> Statement:
    """The statement; a remark if too little was understood or heard, doubtful if little was.

    Args:
        statement: what was read.
        report: the items that it was read from.
        sense: :func:`sense` of them.
        tokens: the words of the utterance.
    """
    says = _says_something(statement)
    placed = "zone" in statement.slots or bool(statement.questions)
    claims = statement.act in _CLAIMS and (says or statement.act is not Act.REPORT)
    if claims and not placed and _is_mumbled(sense, tokens):
        return remark(report, _MUMBLED_DOUBT)
    if statement.act is Act.CORRECTION and _is_idle_no(report, sense):
        return Statement(Act.REMARK, text=statement.text, tags=tags(report))
    if statement.act is not Act.REPORT or not says:
        return statement
    least = _LEAST_SENSE if placed else _LEAST_SENSE_UNPLACED
    share = sense.placed if placed else sense.carried
    if share < least:
        return Statement(Act.REMARK, text=statement.text, tags=tags(report))
    if share < least + _LITTLE:
        statement = doubted(statement, "little of the sentence was understood")
    faint = _faintest(report, tokens)
    return doubted(statement, f"{faint} was heard faintly") if faint else statement


def _is_idle_no(report: Sequence[Item], sense: Sense) -> bool:
    """ "No, leave the tank till tomorrow": a "no" of talk, which puts nothing right; a control word
    is no such.
    """
    steered = any(item.slot == "act" for item in report)
    return not steered and sense.carried < _LEAST_SENSE_UNPLACED


def _says_something(statement: Statement) -> bool:
    numbered = statement.bare_number is not None
    return bool(facts(statement) or statement.clear or statement.absent or numbered)


def _is_mumbled(sense: Sense, tokens: Sequence[Token]) -> bool:
    """The words of the utterance were heard too badly to believe what it claims."""
    least = _MUMBLED_AT_ALL if sense.carried >= _WHOLLY else _MUMBLED
    return bool(tokens) and _confidence(tokens) < least


def doubted(statement: Statement, doubt: str) -> Statement:
    """The statement with one doubt more."""
    return replace(statement, doubts=(*statement.doubts, doubt))


def remark(items: Sequence[Item], *doubts: str) -> Statement:
    """Their words as they are, and what they are about."""
    text = " ".join(item.text for item in items)
    return Statement(Act.REMARK, text=text, tags=tags(items), doubts=doubts)


def tags(items: Sequence[Item]) -> tuple[str, ...]:
    """What a remark is about."""
    return tuple(dict.fromkeys(item.value for item in items if item.slot == "tag"))


def _share(items: Sequence[Item], idle: Mapping[str, float]) -> float:
    told = sum(item.weight for item in items if item.slot not in idle)
    rest = sum(idle.get(item.slot, 0.0) for item in items if item.value != LIGHT)
    return told / (told + rest) if told + rest else 1.0


def _first_clause(items: Sequence[Item]) -> Sequence[Item]:
    """Up to the first stop, where that says something; else all."""
    end = next((at + 1 for at, item in enumerate(items) if item.stop), len(items))
    told = any(item.slot in CONTENT for item in items[:end])
    return items[:end] if told else items


def _faintest(report: Sequence[Item], tokens: Sequence[Token]) -> str:
    """The weighty words heard least clearly, where that is too little; else nothing."""
    heard = [
        (_confidence(tokens[item.start : item.end]), item.text)
        for item in report
        if item.slot in CONTENT
    ]
    least, text = min(heard, key=lambda one: one[0], default=(1.0, ""))
    return text if least < _FAINT or _confidence(tokens) < _UNSURE else ""


def _confidence(words: Sequence[Token]) -> float:
    return sum(word.confidence for word in words) / len(words)
