"""What leaning earns, keeps and takes back."""

from __future__ import annotations

import pytest

from voicelog.recognise.bias import LIKELY, PhraseTree
from voicelog.recognise.context import Context

NATS = 0.5


def _worth(tree: PhraseTree, *pieces: str) -> float:
    """Worth of a text that grows piece by piece and then ends."""
    lean = tree.start()
    for piece in pieces:
        lean = tree.step(lean, piece)
    return tree.finish(lean).worth


@pytest.fixture
def tree() -> PhraseTree:
    """Three phrases, one of which begins with another."""
    return PhraseTree(["left", "left front rail", "rust", "can't see"], nats_per_letter=NATS)


@pytest.mark.parametrize(
    ("text", "letters"),
    [
        (" left", 4),
        (" Left, front rail.", 13),
        (" rust", 4),
        (" rusty", 0),
        (" rus", 0),
        (" trust", 0),
        (" left front door", 4),
        (" left front rail rust", 17),
        (" the left rust", 8),
        (" can't see", 8),
        (" can’t see", 8),
        (" can't", 0),
        ("", 0),
    ],
)
def test_a_text_is_worth_the_letters_of_its_whole_phrases(
    tree: PhraseTree, text: str, letters: int
) -> None:
    """Case and punctuation do not matter, spaces earn nothing, parts of phrases nothing."""
    assert _worth(tree, text) == pytest.approx(letters * NATS)


def test_worth_does_not_depend_on_how_the_text_comes(tree: PhraseTree) -> None:
    """Letter by letter or in one piece: the same."""
    text = " left front rail, rusty left"
    assert _worth(tree, *text) == pytest.approx(_worth(tree, text))


def test_bonus_is_given_in_advance_and_taken_back(tree: PhraseTree) -> None:
    """Under way, a phrase counts as far as it got; once broken off, it never did."""
    lean = tree.step(tree.start(), " left fro")
    assert lean.worth == pytest.approx(7 * NATS)
    assert tree.step(lean, "g").worth == pytest.approx(4 * NATS)


def test_a_phrase_may_begin_inside_another_that_breaks_off() -> None:
    """In "left front door", the first phrase leads nowhere, the second does."""
    tree = PhraseTree(["left front rail", "front door"], nats_per_letter=NATS)
    assert _worth(tree, " left front door") == pytest.approx(9 * NATS)


def test_phrases_do_not_overlap() -> None:
    """A word that two phrases share counts for one of them."""
    tree = PhraseTree(["coil spring", "spring hanger"], nats_per_letter=NATS)
    assert _worth(tree, " coil spring hanger") == pytest.approx(12 * NATS)


def test_empty_phrases_change_nothing() -> None:
    """A phrase without letters is no phrase."""
    assert _worth(PhraseTree(["", " - "], nats_per_letter=NATS), " left") == 0.0


def test_hyphens_in_phrase_and_text_count_as_spaces() -> None:
    """With one or without, it is the same phrase."""
    tree = PhraseTree(["kick-up"], nats_per_letter=NATS)
    assert _worth(tree, " Kick up") == _worth(tree, " kick-up") == pytest.approx(6 * NATS)


CONTEXT = Context({("side", "place"): 1.0, ("side", "fault"): -1.0}, strength=0.5)
KINDS = {"left": "side", "rail": "place", "rust": "fault", "there": ""}


def _in_context() -> PhraseTree:
    return PhraseTree(KINDS, nats_per_letter=NATS, kinds=KINDS, context=CONTEXT)


@pytest.mark.parametrize(
    ("text", "letters", "context"),
    [
        (" rail", 4, 0.0),
        (" left rail", 8, 0.5),
        (" left, er, rail", 8, 0.5),
        (" left there rail", 13, 0.5),
        (" left rust", 8, -0.5),
        (" left rail rust", 12, 0.5),
    ],
)
def test_what_follows_well_earns_more(text: str, letters: int, context: float) -> None:
    """After a side a place earns half a nat more, a fault less; talk between them does not matter."""
    assert _worth(_in_context(), text) == pytest.approx(letters * NATS + context)


def test_context_counts_as_soon_as_a_phrase_may_end() -> None:
    """The last letter brings it, before the space: else a search would drop the text before."""
    tree = _in_context()
    lean = tree.step(tree.start(), " left rail")
    assert lean.worth == pytest.approx(8 * NATS + 0.5)
    assert tree.step(lean, "ing").worth == pytest.approx(4 * NATS)


def test_what_an_utterance_follows_is_context_too() -> None:
    """With a side carried over, a place earns more from the first word on."""
    tree = _in_context().expecting(first="side")
    assert _worth(tree, " rail") == pytest.approx(4 * NATS + 0.5)
    assert _worth(_in_context(), " rail") == pytest.approx(4 * NATS)


def test_likely_phrases_earn_more_and_all_others_as_ever() -> None:
    """The options of a question come on top of the vocabulary, known to it or not."""
    tree = _in_context().expecting(likely=("left", "both"))
    assert _worth(tree, " left") == pytest.approx(4 * NATS * LIKELY)
    assert _worth(tree, " both") == pytest.approx(4 * NATS * LIKELY)
    assert _worth(tree, " rail") == pytest.approx(4 * NATS)
