"""Was enough of a sentence understood, and heard clearly?"""

from __future__ import annotations

import pytest

from voicelog.domain.reading import Act, Statement
from voicelog.interpret.cover import Item
from voicelog.interpret.sense import Sense, checked, sense
from voicelog.interpret.tokens import Token

_PLACED = Statement(Act.REPORT, {"zone": "sill", "condition": "hole"})
_UNPLACED = Statement(Act.REPORT, {"condition": "hole"})
_HOLE = Item("condition", "hole", 0, 1, text="hole")
_CLEAR_WORD, _FAINT_WORD = Token("hole", confidence=0.9), Token("hole", confidence=0.1)


def _odd(at: int, stop: str = "") -> Item:
    return Item("unknown", "", at, at + 1, text="zzz", stop=stop)


def test_sense_is_the_share_of_words_explained() -> None:
    """Half of them here; the first clause counts alone where it tells; small words never count."""
    light = Item("filler", "light", 2, 3, text="the")
    assert sense([_HOLE, _odd(1), light]).placed == pytest.approx(0.5)
    stopped = Item("condition", "hole", 0, 1, text="hole", stop=",")
    assert sense([stopped, _odd(1), _odd(2)]).placed == pytest.approx(1.0)
    assert sense([_odd(0, ","), _HOLE]).placed == pytest.approx(0.5)
    assert sense([]).placed == pytest.approx(1.0)


def test_known_words_speak_for_talk_where_a_place_is_carried() -> None:
    """A filler counts against the sentence only there; a light word never does."""
    filler = Item("filler", "filler", 1, 2, text="went")
    light = Item("filler", "light", 2, 3, text="the")
    told = sense([_HOLE, filler, light])
    assert told.placed == pytest.approx(1.0)
    assert told.carried == pytest.approx(1 / 1.15)


@pytest.mark.parametrize(
    ("statement", "share", "act", "doubts"),
    [
        (_PLACED, 0.33, Act.REMARK, 0),
        (_PLACED, 0.4, Act.REPORT, 1),
        (_PLACED, 0.5, Act.REPORT, 0),
        (_UNPLACED, 0.5, Act.REMARK, 0),
        (_UNPLACED, 0.65, Act.REPORT, 1),
        (_UNPLACED, 0.8, Act.REPORT, 0),
        (Statement(Act.REPORT, bare_number=2.8), 0.5, Act.REMARK, 0),
        (Statement(Act.REPORT, bare_number=2.8), 0.8, Act.REPORT, 0),
        (Statement(Act.DISREGARD), 0.1, Act.DISREGARD, 0),
        (Statement(Act.REPORT, {"zone": "sill"}), 0.1, Act.REPORT, 0),
    ],
)
def test_too_little_sense_makes_a_remark(
    statement: Statement, share: float, act: Act, doubts: int
) -> None:
    """A report needs more of its words explained where the place must be carried over."""
    got = checked(statement, [_HOLE], Sense(share, share), (_CLEAR_WORD,))
    assert (got.act, len(got.doubts)) == (act, doubts)


def test_a_faint_word_is_doubtful() -> None:
    """The first word that tells and was heard faintly is named."""
    got = checked(_PLACED, [_HOLE], Sense(1.0, 1.0), (_FAINT_WORD,))
    assert got.doubts == ("hole was heard faintly",)


@pytest.mark.parametrize("act", [Act.REPORT, Act.SAME, Act.ANOTHER, Act.NOT_SEEN])
@pytest.mark.parametrize(
    ("slots", "share", "confidence", "kept"),
    [
        ({"zone": "sill", "condition": "hole"}, 0.9, 0.01, True),
        ({"condition": "hole"}, 0.9, 0.81, True),
        ({"condition": "hole"}, 0.9, 0.79, False),
        ({"condition": "hole"}, 1.0, 0.51, True),
        ({"condition": "hole"}, 1.0, 0.49, False),
    ],
)
def test_what_is_half_heard_is_no_finding(
    act: Act, slots: dict[str, str], share: float, confidence: float, *, kept: bool
) -> None:
    """Its words are kept as a doubtful remark; what names its place stays a finding, and where every
    word is understood ("metal is firm"), less has to be heard clearly.
    """
    heard = (Token("hole", confidence=confidence),)
    got = checked(Statement(act, slots), [_HOLE], Sense(share, share), heard)
    assert (got.act is act) is kept
    assert kept or (got.text == "hole" and len(got.doubts) == 1)


@pytest.mark.parametrize("act", [Act.DISREGARD, Act.STAND_BY, Act.CORRECTION, Act.PHOTO])
def test_commands_are_taken_however_they_are_heard(act: Act) -> None:
    """Nobody's finding is made by them, and who has to repeat a command gives up."""
    assert checked(Statement(act), [_HOLE], Sense(1.0, 1.0), (_FAINT_WORD,)).act is act


def test_words_heard_badly_all_around_make_a_clear_one_doubtful() -> None:
    """What the words beside it are says more than its own: the faintest that tells is named."""
    heard = (Token("hole", confidence=0.9), Token("in"), Token("sill", confidence=0.7))
    items = [_HOLE, Item("zone", "sill", 2, 3, text="sill")]
    clear = checked(_PLACED, items, Sense(1.0, 1.0), heard)
    murky = (*heard, *[Token("word", confidence=0.4)] * 3)
    assert clear.doubts == ()
    assert checked(_PLACED, items, Sense(1.0, 1.0), murky).doubts == ("sill was heard faintly",)
