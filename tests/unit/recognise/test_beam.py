"""The search, over a decoder made of a table: bias, width, and the guards."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from voicelog.recognise.beam import COPIES, COPIES_OF_ONE, Spelling, loops, search
from voicelog.recognise.bias import PhraseTree

TEXTS = ("<end>", " right", " rot", " hole", " whole", " in", " the", " rail", ",")
END = 0
SPELLING = Spelling(TEXTS, END)


class Table:
    """A decoder that knows what follows a token: text to its chances.

    Args:
        after: chances of what follows a text, "" being the beginning; what is not named shares
            the rest.
    """

    def __init__(self, after: dict[str, dict[str, float]]) -> None:
        self._after = after
        self.widest = 0

    def start(self) -> np.ndarray:
        """Chances of the first token."""
        return self._row("")[None]

    def step(self, parents: Sequence[int], tokens: Sequence[int]) -> np.ndarray:
        """Chances of the next token of each text."""
        assert len(parents) == len(tokens)
        self.widest = max(self.widest, len(tokens))
        return np.stack([self._row(TEXTS[token]) for token in tokens])

    def _row(self, text: str) -> np.ndarray:
        chances = self._after.get(text, {"<end>": 0.9})
        rest = (1 - sum(chances.values())) / (len(TEXTS) - len(chances))
        return np.log(np.array([chances.get(text, rest) for text in TEXTS], np.float32))


LOOP = {
    "": {" right": 0.9},
    " right": {" right": 0.97, "<end>": 0.01},
}
PIECES = {
    "": {" in": 0.9},
    " in": {" the": 0.98},
    " the": {" rail": 0.98},
    " rail": {" in": 0.95, "<end>": 0.02},
}
MISHEARD = {
    "": {" whole": 0.6, " hole": 0.3},
    " whole": {"<end>": 0.95},
    " hole": {"<end>": 0.95},
}


def _text(tokens: Sequence[int]) -> str:
    return "".join(TEXTS[token] for token in tokens).strip()


def _best(table: Table, *, width: int = 4, phrases: Sequence[str] = (), longest: int = 40) -> str:
    tree = PhraseTree(phrases, nats_per_letter=0.4) if phrases else None
    return _text(search(table, SPELLING, width=width, longest=longest, tree=tree)[0].tokens)


def test_without_bias_the_likelier_text_wins() -> None:
    """Greedy and beam agree where there is nothing to win by looking further."""
    assert _best(Table(MISHEARD)) == _best(Table(MISHEARD), width=1) == "whole"


def test_bias_prefers_the_vocabulary() -> None:
    """Four letters at 0.4 nats outweigh a chance half as large."""
    assert _best(Table(MISHEARD), phrases=["hole"]) == "hole"
    assert _best(Table(MISHEARD), phrases=["hole"], width=1) == "hole"


def test_bias_does_not_invent_what_is_far_away() -> None:
    """A word the decoder finds a thousand times less likely stays unsaid."""
    table = {"": {" whole": 0.997, " hole": 0.0003}, " whole": {"<end>": 0.95}}
    assert _best(Table(table), phrases=["hole"]) == "whole"


def test_bias_is_limited() -> None:
    """What it may give at most decides, however much the phrases would earn."""
    tree = PhraseTree(["hole"], nats_per_letter=0.4)

    def best(most: float) -> str:
        paths = search(Table(MISHEARD), SPELLING, width=2, longest=4, tree=tree, most=most)
        return TEXTS[paths[0].tokens[0]]

    assert best(1.0) == " hole"
    assert best(0.5) == " whole"


def test_beam_finds_what_greedy_misses() -> None:
    """The likelier first word may lead into an unlikely text."""
    table = {
        "": {" whole": 0.55, " hole": 0.44},
        " whole": {" in": 0.3, " rot": 0.3, " the": 0.3},
        " hole": {"<end>": 0.99},
    }
    assert _best(Table(table), width=1) != "hole"
    assert _best(Table(table)) == "hole"


def test_paths_come_best_first_and_no_wider_than_asked() -> None:
    """The runners-up are there, in order."""
    table = Table(MISHEARD)
    paths = search(table, SPELLING, width=4, longest=40)
    assert [_text(path.tokens) for path in paths[:2]] == ["whole", "hole"]
    assert [path.rank for path in paths] == sorted((p.rank for p in paths), reverse=True)
    assert table.widest <= 4


@pytest.mark.parametrize("width", [1, 4])
@pytest.mark.parametrize("phrases", [(), ("right",)])
def test_a_looping_decoder_is_stopped(width: int, phrases: Sequence[str]) -> None:
    """One word over and over ends after a few copies, whether bias feeds the loop or not."""
    said = _best(Table(LOOP), width=width, phrases=phrases, longest=200)
    assert 1 <= said.split().count("right") <= COPIES_OF_ONE


@pytest.mark.parametrize("width", [1, 4])
def test_a_looping_piece_is_stopped(width: int) -> None:
    """The same for a piece of several words."""
    said = _best(Table(PIECES), width=width, phrases=["rail"], longest=200)
    assert len(said.split()) < 16


def test_length_guard_takes_texts_as_they_stand() -> None:
    """A decoder that never ends a text is cut at the limit."""
    endless = {
        text: {other: 0.99} for text, other in zip(("", *TEXTS[1:]), TEXTS[1:], strict=False)
    }
    paths = search(Table({**endless, ",": {" right": 0.99}}), SPELLING, width=1, longest=6)
    assert len(paths[0].tokens) == 6


@pytest.mark.parametrize(
    ("tokens", "looping"),
    [
        ([], False),
        ([1] * COPIES_OF_ONE, False),
        ([1] * (COPIES_OF_ONE + 1), True),
        ([5, 1, 2] + [1, 2] * (COPIES - 1), False),
        ([5, 1, 2] + [1, 2] * COPIES, True),
        ([1, 2, 3, 4, 5, 6, 7, 8] * (COPIES + 1), True),
        ([1, 2] * (COPIES + 1) + [3], False),
        ([1, 2, 3, 1, 2, 3, 1, 2, 3, 3, 1, 2, 3, 1, 2, 3], True),
        ([1, 2, 1, 3, 1, 1, 2, 4, 1, 1, 3, 5, 1, 2, 2, 3], False),
    ],
)
def test_loops_are_too_many_copies_at_the_end(tokens: list[int], looping: bool) -> None:
    """Counted for single tokens and for pieces; what lies before does not matter."""
    assert loops(tokens) is looping
