"""Which part of an utterance is talk rather than a report."""

from __future__ import annotations

import pytest

from voicelog.interpret.cover import Item
from voicelog.interpret.talk import split_talk

_WORDS = {
    "hole": ("condition", "hole"), "sill": ("zone", "sill"), "photo": ("act", "photo"),
    "if": ("hypothetical", "if"), "tell-him": ("address", "tell"), "mate": ("address", "person"),
    "can": ("question", "opener"), "supposed": ("hypothetical", "clause"), "but": ("contrast", "but"),
    "the": ("filler", "light"), "that": ("filler", "light"), "crack": ("condition", "crack"),
    "rail": ("zone", "rear-rail"), "was": ("question", "question"), "what": ("question", "question"),
}  # fmt: skip


def _items(text: str) -> list[Item]:
    items = []
    for at, said in enumerate(text.split()):
        word = said.rstrip(",.?")
        slot, value = _WORDS.get(word, ("unknown", ""))
        items.append(Item(slot, value, at, at + 1, text=word, stop=said[len(word) :]))
    return items


@pytest.mark.parametrize(
    ("text", "report", "talk"),
    [
        ("sill hole", "sill hole", []),
        ("if sill hole", "", ["if sill hole"]),
        ("sill hole tell-him soon", "sill hole", ["tell-him soon"]),
        ("the sill tell-him hole", "", ["the sill tell-him hole"]),
        ("the hole, tell-him soon", "the hole", ["tell-him soon"]),
        ("sill, tell-him hole. hole", "sill hole", ["tell-him hole"]),
        ("sill hole?", "", ["sill hole?"]),
        ("photo?", "photo", []),
        ("hole, mate", "hole mate", []),
        ("mate go home", "", ["mate go home"]),
        ("mate sill hole", "mate sill hole", []),
        ("can we go", "", ["can we go"]),
        ("hole zzz can push", "hole zzz can push", []),
        ("supposed hole but sill", "but sill", []),
        ("supposed hole, sill", "sill", []),
        ("supposed hole sill, crack", "sill crack", []),
        ("supposed hole sill, post", "post", []),
        ("supposed hole sill, rail crack", "rail crack", []),
        ("that was sill hole", "that was sill hole", []),
        ("that, was sill hole", "that", ["was sill hole"]),
        ("what we, hole sill", "what we hole sill", []),
        ("what you, hole sill", "", ["what you hole sill"]),
        ("what we, post", "", ["what we post"]),
    ],
)
def test_talk_is_cut_off(text: str, report: str, talk: list[str]) -> None:
    """A marker takes the rest of its sentence, and its clause where nothing was reported."""
    kept, cut = split_talk(_items(text))
    assert " ".join(item.text for item in kept) == report
    assert [" ".join(item.text for item in run) for run in cut] == [t.rstrip("?") for t in talk]
