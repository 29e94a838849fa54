"""Several hypotheses, and several ears, read together."""

from __future__ import annotations

from functools import cache

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.reading import Reading
from voicelog.interpret.choosing import agreement, contradicts
from voicelog.interpret.reader import Reader


@cache
def _reader() -> Reader:
    grammar = load_grammar()
    return Reader(grammar.vocabulary, grammar.zone_map)


def _heard(*texts: tuple[str, float]) -> Heard:
    return Heard(tuple(Hypothesis(text, score) for text, score in texts), engine="test")


def _slots(reading: Reading) -> dict[str, object]:
    (statement,) = reading.statements
    return dict(statement.slots)


def test_a_later_hypothesis_wins_when_it_makes_sense() -> None:
    """The ear likes the first a little better, but only the second says anything."""
    heard = _heard(("left front rail serve is worst", -4.0), ("left front rail surface rust", -4.3))
    assert _slots(_reader().read(heard))["condition"] == "surface-rust"


def test_most_hypotheses_outvote_the_first() -> None:
    """Three of four say right; the first one's left is not kept, and the doubt is."""
    heard = _heard(
        ("left front rail pitting", -3.0),
        ("right front rail pitting", -3.1),
        ("right front rail a pitting", -3.2),
        ("right front rail the pitting", -3.2),
    )
    reading = _reader().read(heard)
    assert _slots(reading)["side"] == "right"
    assert reading.runner_up[0].slots["side"] == "left"


def test_an_even_split_is_doubtful() -> None:
    """Two hypotheses that contradict each other, as likely as each other."""
    heard = _heard(("left front rail pitting", -3.0), ("right front rail pitting", -3.0))
    reading = _reader().read(heard)
    assert reading.margin < 0.1
    assert reading.statements[0].doubts == ("another reading fits nearly as well",)


def test_an_unlikely_hypothesis_does_not_disturb() -> None:
    """Five nats behind, a contradiction is no reason for doubt."""
    heard = _heard(("left front rail pitting", -3.0), ("right front rail pitting", -8.0))
    reading = _reader().read(heard)
    assert _slots(reading)["side"] == "left"
    assert reading.statements[0].doubts == ()


def test_two_ears_are_read_together() -> None:
    """What one ear lost the other has; the reading is the one that says it all."""
    one = _heard(("left sun rail surface rust", -2.0))
    other = _heard(("left front rail surface rust", -9.0))
    reading = _reader().read(one, other)
    slots = _slots(reading)
    assert (slots["zone"], slots["side"]) == ("front-rail", "left")


def test_nothing_heard_is_a_remark() -> None:
    """No ear, no hypothesis, only blanks: one empty remark each."""
    for heard in ((), (_heard(),), (_heard((" ", 0.0)),)):
        reading = _reader().read(*heard)
        assert [str(s.act) for s in reading.statements] == ["remark"]


def test_agreement_is_a_share() -> None:
    """Symmetric, 1 for the same facts, 0 for nothing in common."""
    one = frozenset({(0, "zone", "front-rail"), (0, "side", "left")})
    other = frozenset({(0, "zone", "front-rail")})
    assert agreement(one, one) == 1.0
    assert agreement(one, other) == agreement(other, one) == 2 / 3
    assert agreement(one, frozenset({(1, "zone", "front-rail")})) == 0.0


def test_leaving_something_out_is_no_contradiction() -> None:
    """Another value contradicts, a missing one does not, another act does."""
    left = frozenset({(0, "act", "report"), (0, "side", "left")})
    assert not contradicts(left, frozenset({(0, "act", "report")}))
    assert contradicts(left, frozenset({(0, "act", "report"), (0, "side", "right")}))
    assert contradicts(left, frozenset({(0, "act", "same"), (0, "side", "left")}))


def test_a_side_that_was_said_already_is_no_other_reading() -> None:
    """The "left" of "no solid metal left" taken for the side changes nothing."""
    reading = _reader().read(Heard.typed("left outrigger, rotten, no solid metal left"))
    (statement,) = reading.statements
    assert statement.slots["surround"] == "none"
    assert statement.doubts == ()
