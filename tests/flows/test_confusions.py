"""Words that recognisers are known to take for others: resolved in context, and only there.

Source of the confusions: those measured with small recognisers on synthetic trade speech (the
grammar's ``[[confusion]]`` tables list them).
"""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.dialogue.dialogue import Dialogue
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The grammar as it ships."""
    return load_grammar()


@pytest.fixture(scope="module")
def reader(grammar: Grammar) -> Reader:
    """It remembers nothing between utterances."""
    return Reader(grammar.vocabulary, grammar.zone_map)


def _entries(grammar: Grammar, reader: Reader, texts: Iterable[str]) -> list[Entry]:
    """What utterances three seconds apart make, remarks left out."""
    dialogue = Dialogue(grammar.zone_map)
    turns = [
        dialogue.take(
            reader.read(Heard.typed(text)),
            utterance=f"u{number}",
            at="2026-03-14T08:05:30.000Z",
            at_s=3.0 * number,
        )
        for number, text in enumerate(texts, start=2)
    ]
    changes = [change for turn in turns for change in turn.changes]
    added = [change.entry for change in changes if isinstance(change, Add)]
    return [entry for entry in added if entry.kind is not Kind.REMARK]


IN_CONTEXT = {
    "rust as rest": ("left front rail surface rest", "front-rail", "left", "surface-rust"),
    "rust as roast": ("left front rail, surface roast", "front-rail", "left", "surface-rust"),
    "brake as break": ("left break line leaking", "brake-line", "left", "leak"),
    "brake as break, no side": ("break line leaking", "brake-line", None, "leak"),
    "sill as seal": ("right seal pitting", "sill", "right", "pitting"),
    "sill as cell": ("left cell pitting", "sill", "left", "pitting"),
    "hole as hold": ("left sill, hold ten millimetres", "sill", "left", "hole"),
    "arm as on": ("left control on mount surface rust", "control-arm-mount", "left", "surface-rust"),
    "member as number": ("gearbox crossed number scale", "gearbox-cross-member", None, "scale"),
    "cross as crust": ("gearbox crust member, scale", "gearbox-cross-member", None, "scale"),
    "millimetres": ("left sill hole ten millimbers", "sill", "left", "hole"),
    "patch as poach": ("right sill, poach on it", "sill", "right", "old-repair"),
    "patch as pitch": ("left sill, pitch welded on", "sill", "left", "old-repair"),
    "seam as scene": ("left front rail scene blown", "front-rail", "left", "pack-rust"),
    "thin as then": ("left sill, paper then", "sill", "left", "thinning"),
    "rear as where": ("where spring hanger, left, hole", "rear-spring-hanger", "left", "hole"),
    "rear as re": ("left re spring hanger, hole", "rear-spring-hanger", "left", "hole"),
    "right as bright": ("bright front rail, scale", "front-rail", "right", "scale"),
    "frame as framed": ("left front framed rail, scale", "front-rail", "left", "scale"),
    "tower as hour": ("left shock hour, surface rust", "shock-mount", "left", "surface-rust"),
    "left as lift": ("lift outrigger, scale", "outrigger", "left", "scale"),
    "rail as rain": ("left front rain, surface rust", "front-rail", "left", "surface-rust"),
}  # fmt: skip


@pytest.mark.parametrize(
    ("text", "zone", "side", "condition"), IN_CONTEXT.values(), ids=list(IN_CONTEXT)
)
def test_in_context_the_word_that_was_said_is_found(
    grammar: Grammar, reader: Reader, text: str, zone: str, side: str | None, condition: str
) -> None:
    """One finding, as if it had been heard rightly."""
    (entry,) = _entries(grammar, reader, [text])
    found = tuple(entry.slots.get(name) for name in ("zone", "side", "condition"))
    assert (entry.kind, found) == (Kind.FINDING, (zone, side, condition))


def test_the_unit_survives_too(grammar: Grammar, reader: Reader) -> None:
    """ "Millimbers" are millimetres, and the size is the hole's."""
    (entry,) = _entries(grammar, reader, ["left sill hole ten millimbers"])
    assert entry.slots["size_mm"] == 10.0


@pytest.mark.parametrize(
    "text",
    [
        "the rest of the bolts are in the tray",
        "I need a rest",
        "give me a break",
        "put a new seal on it",
        "a whole lot of work",
        "the whole lot is coming off on Monday",
        "how about lunch",
        "well, that's that",
        "get the belt on",
        "right, pass me the lamp",
        "all right then",
        "tell the lad in the left front rain jacket",
        "he left the rest of the sill paint in the van",
        "what is that on the left front rain",
    ],
)
def test_out_of_context_it_stays_what_it_is(grammar: Grammar, reader: Reader, text: str) -> None:
    """Chatter makes no entry, even right after a finding, and leaves that as it was."""
    before = ["left front rail, scale"]
    assert _entries(grammar, reader, [text]) == []
    (entry,) = _entries(grammar, reader, [*before, text])
    assert entry == _entries(grammar, reader, before)[0]


@pytest.mark.parametrize(
    ("texts", "side", "condition"),
    [
        (["left rear rail rot"], "left", "hole"),
        (["right rear rail rot"], "right", "hole"),
        (["right rear rail, scale"], "right", "scale"),
        (["left rear rail, no, right rear rail, scale"], "right", "scale"),
        (["rear rail, right", "scale"], "right", "scale"),
        (["left rear rail", "right", "scale"], "right", "scale"),
    ],
)
def test_right_stays_a_side_and_rot_a_fault(
    grammar: Grammar, reader: Reader, texts: list[str], side: str, condition: str
) -> None:
    """The confusion that would turn a defect into a side, and a side into a defect."""
    (entry,) = _entries(grammar, reader, texts)
    found = tuple(entry.slots.get(name) for name in ("zone", "side", "condition"))
    assert found == ("rear-rail", side, condition)


def test_a_word_taken_by_its_faint_sound_is_marked(grammar: Grammar, reader: Reader) -> None:
    """ "Poach" may have been "patch": a person is asked to listen again."""
    (entry,) = _entries(grammar, reader, ["right sill, poach on it"])
    assert entry.doubts == ('"poach" was taken for old repair',)


@pytest.mark.parametrize("text", ["left scale, pitting", "scale", "left scale"])
def test_scale_is_never_a_sill(grammar: Grammar, reader: Reader, text: str) -> None:
    """Both have the Soundex code S400: a likeness of sound alone picks no place."""
    assert _entries(grammar, reader, [text]) == []
    (entry,) = _entries(grammar, reader, ["left sill, scale"])
    assert (entry.slots["zone"], entry.slots["condition"]) == ("sill", "scale")
