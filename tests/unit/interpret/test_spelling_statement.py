"""*I spell* as one statement: what it is, its characters, what was left over."""

from __future__ import annotations

import pytest

from voicelog.domain.reading import Act, Statement
from voicelog.interpret.cover import Item
from voicelog.interpret.spelt import spelt
from voicelog.interpret.tokens import Token

_OPENERS = {("i", "spell"): "spell", ("correction",): "correction"}


def _said(text: str) -> Statement | None:
    """The words cut as the reader cuts them: control words in one piece, all others unknown."""
    words = text.split()
    items, at = [], 0
    while at < len(words):
        fits = [opener for opener in _OPENERS if tuple(words[at : at + len(opener)]) == opener]
        length = len(fits[0]) if fits else 1
        slot, value = ("act", _OPENERS[fits[0]]) if fits else ("unknown", words[at])
        said = " ".join(words[at : at + length])
        items.append(Item(slot, value, at, at + length, text=said))
        at += length
    return spelt(items, tuple(Token(word) for word in words))


@pytest.mark.parametrize(
    ("text", "slot", "characters", "tags"),
    [
        ("i spell vin one m eight g d m", "vin", "1M8GDM", ("spelt", "vin")),
        ("i spell v i n one mike eight", "vin", "1M8", ("spelt", "vin")),
        ("i spell the chassis number alfa one", "vin", "A1", ("spelt", "vin")),
        ("i spell the plate is alfa bravo one two", "plate", "AB12", ("spelt", "plate")),
        ("tag i spell alfa bravo", "plate", "AB", ("spelt", "plate")),
        ("paint code i spell kilo four seven", "paint_code", "K47", ("spelt", "paint-code")),
        ("i spell colour code zulu double three", "paint_code", "Z33", ("spelt", "paint-code")),
        ("i spell alfa bravo", "spelt", "AB", ("spelt",)),
        ("i spell 1m8gdm9axkp042788", "vin", "1M8GDM9AXKP042788", ("spelt", "vin")),
        ("i spell one m eight g d m nine a x k p zero four two seven eight", "vin",
         "1M8GDM9AXKP04278", ("spelt", "vin")),
    ],
)  # fmt: skip
def test_what_is_spelled_and_what_it_is(
    text: str, slot: str, characters: str, tags: tuple[str, ...]
) -> None:
    """Its kind is said before or after *I spell*, or its length tells it."""
    said = _said(text)
    assert said is not None
    assert (said.act, dict(said.slots), said.tags) == (Act.REMARK, {slot: characters}, tags)
    assert said.doubts == ()


def test_nothing_is_spelled_without_the_control_words() -> None:
    """Letters in ordinary talk stay talk."""
    assert _said("plan b it is") is None


def test_words_left_over_are_named() -> None:
    """What follows the last character may have been one more: it is doubtful."""
    said = _said("i spell plate alfa bravo gubbins charlie")
    assert said is not None
    assert said.slots == {"plate": "AB"}
    assert said.doubts == ('"gubbins charlie" was not understood',)


def test_nothing_understood_is_kept_in_doubt() -> None:
    """The words are there, no character is made up."""
    said = _said("i spell")
    assert said is not None
    assert (said.slots, bool(said.doubts), said.text) == ({}, True, "i spell")


def test_a_correction_before_it_puts_right_what_was_spelled() -> None:
    """The dialogue then looks for what was spelled before."""
    said = _said("correction i spell alfa charlie")
    assert said is not None
    assert (said.act, said.slots) == (Act.CORRECTION, {"spelt": "AC"})
