"""What stands before and after one item."""

from __future__ import annotations

import pytest

from voicelog.domain.reading import Speech
from voicelog.interpret.cover import Item
from voicelog.interpret.look import Look
from voicelog.interpret.measures import measure_at

_SLOTS = {
    "hole": "condition", "scale": "condition", "sill": "zone", "left": "side", "both": "side",
    "number": "ordinal", "clean": "clear", "gone": "rot", "from": "relation", "uh": "filler",
    "the": "filler", "on": "filler", "below": "relation", "that": "filler",
}  # fmt: skip


def _items(text: str) -> list[Item]:
    """An item a word (numbers are measures), its comma or full stop being its stop."""
    items = []
    for at, said in enumerate(text.split()):
        word = said.rstrip(",.")
        measure = measure_at([word], 0, Speech())
        slot = "measure" if measure is not None else _SLOTS.get(word, "unknown")
        stop = said[len(word) :]
        items.append(Item(slot, word, at, at + 1, text=word, stop=stop, measure=measure))
    return items


def _look(text: str) -> Look:
    """From the word between asterisks."""
    at = next(i for i, word in enumerate(text.split()) if word.startswith("*"))
    return Look(_items(text.replace("*", "")), at)


def test_quiet_words_are_looked_past() -> None:
    """Fillers and unknown words stand between without parting."""
    look = _look("hole uh *left zzz the sill")
    assert look.follows("family", "zone")
    assert look.comes_after("condition")
    assert not look.follows("side")
    assert not look.after_stop
    assert not _look("*left").comes_after("zone")


@pytest.mark.parametrize(
    ("text", "metal"),
    [
        ("two *left", True),
        ("two *left, sill", True),
        ("two *left scale", True),
        ("two *left sill", False),
        ("two, *left", False),
        ("number two *left", False),
        ("scale *left", False),
        ("*left", False),
        ("two *both", False),
    ],
)
def test_left_after_a_number(text: str, metal: bool) -> None:
    """It is metal that remains unless a name, a stop or a numbered mount says otherwise."""
    assert _look(text).is_metal_left() is metal


@pytest.mark.parametrize(
    ("text", "belongs"),
    [
        ("hole on the *left", True),
        ("hole the *left", False),
        ("hole on the left *sill", True),
        ("scale *left", False),
        ("the *left", False),
    ],
)
def test_a_preposition_ties_a_place_to_what_was_said(text: str, belongs: bool) -> None:
    """Articles and sides may stand between."""
    assert _look(text).after_preposition() is belongs


@pytest.mark.parametrize(
    ("text", "own"),
    [
        ("*hole uh left sill", True),
        ("*hole clean sill", False),
        ("*hole uh, left sill", False),
        ("*hole", False),
    ],
)
def test_an_own_place_follows(text: str, own: bool) -> None:
    """It comes before a stop and before anything else is described."""
    assert _look(text).own_place_follows() is own


@pytest.mark.parametrize(
    ("text", "trails"),
    [
        ("scale *both", True),
        ("scale *both. sill", True),
        ("scale *both, sill", False),
        ("scale *sill", False),
    ],
)
def test_a_side_that_trails(text: str, trails: bool) -> None:
    """Only a side, and only at the end of what is said."""
    assert _look(text).trails() is trails


def test_a_fault_as_a_landmark() -> None:
    """ "From the hole" says where; "below that, a hole" does not."""
    from_the, below = _look("two from the *hole"), _look("below that *hole")
    assert from_the.is_landmark_of(from_the.items[1])
    assert not below.is_landmark_of(below.items[0])
