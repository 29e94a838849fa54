"""What is denied: soft metal, good words, a method, and what only stands in the way of a look."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import pytest

from voicelog.domain.entry import Entry, Kind
from voicelog.domain.reading import NOT_GOOD
from voicelog.domain.slot import Slots


class _Played(Protocol):
    entries: tuple[Entry, ...]


class _Stage(Protocol):
    def play(self, said: Sequence[str]) -> _Played: ...


NOT_SOFT = ("no soft spot", "no soft spots", "not soft anywhere", "nothing soft", "isn't soft at all",
            "no softness in it", "doesn't feel soft", "couldn't find anything soft")  # fmt: skip


def _shown(entry: Entry) -> Slots:
    quiet = ("certainty", "side", "zone")
    return {name: value for name, value in entry.slots.items() if name not in quiet}


@pytest.mark.parametrize("denied", NOT_SOFT)
def test_that_nothing_is_soft_says_nothing_of_a_probe(stage: _Stage, denied: str) -> None:
    """As "no holes" alone it is a remark; who did not say to have probed has not."""
    assert [entry.kind for entry in stage.play([f"left sill, {denied}"]).entries] == [Kind.REMARK]
    (rusty,) = stage.play([f"left sill, surface rust, {denied}"]).entries
    assert _shown(rusty) == {"condition": "surface-rust"}


@pytest.mark.parametrize("denied", NOT_SOFT[:3])
def test_said_later_it_is_no_probe_of_the_finding(stage: _Stage, denied: str) -> None:
    """Neither is a soft spot taken back by it."""
    scaly, remark = stage.play(["right outrigger, scale", denied]).entries
    assert "probe" not in scaly.slots
    assert remark.kind is Kind.REMARK
    soft, _ = stage.play(["right shock mount, gives under the pick", denied]).entries
    assert (soft.kind, soft.slots["probe"]) == (Kind.FINDING, "soft")


@pytest.mark.parametrize(
    ("text", "absent", "how"),
    [
        ("clean, no soft spots", ("soft-spot",), {"method": "seen"}),
        ("no cracks, no soft patches", ("crack", "soft-spot"), {"method": "seen"}),
        ("prodded it all over, no soft spots", ("soft-spot",),
         {"method": "probed", "probe": "firm"}),
        ("nothing soft with the hammer", ("soft-spot",), {"method": "tapped", "probe": "firm"}),
        ("not probed, clean, no soft spots", ("soft-spot",), {"method": "seen"}),
        ("no soft spots, wasn't tapped, clean", ("soft-spot",), {"method": "seen"}),
        ("no soft spots, couldn't get a hammer on it, clean", ("soft-spot",), {"method": "seen"}),
        ("no soft spots, no hammer on it, clean", ("soft-spot",), {"method": "seen"}),
    ],
)  # fmt: skip
def test_it_clears_with_other_words_and_is_firm_where_somebody_probed(
    stage: _Stage, text: str, absent: tuple[str, ...], how: Slots
) -> None:
    """A probe that was denied is none."""
    (entry,) = stage.play([f"left mid rail, {text}"]).entries
    assert (entry.kind, entry.absent, _shown(entry)) == (Kind.CLEAR, absent, how)


@pytest.mark.parametrize(
    "text",
    [
        "doesn't look good",
        "doesn't feel solid",
        "not very clean",
        "far from solid",
        "hardly clean",
        "has had it",
        "is knackered",
        "in a bad way",
        "no longer firm",
        "wouldn't pass as sound",
    ],
)
def test_good_words_denied_clear_nothing(stage: _Stage, text: str) -> None:
    """Something is the matter; until it is said what, the words are kept, in doubt."""
    (entry,) = stage.play([f"left kick up {text}"]).entries
    assert (entry.kind, entry.doubts) == (Kind.REMARK, (NOT_GOOD,))


@pytest.mark.parametrize(
    "text", ["doesn't look right", "doesn't sound right", "doesn't sound good"]
)
def test_what_is_not_right_is_neither_firm_nor_on_the_right(stage: _Stage, text: str) -> None:
    """ "Right" is no side there."""
    kinds = {entry.kind for entry in stage.play([f"left kick up {text}"]).entries}
    assert kinds <= {Kind.REMARK}


@pytest.mark.parametrize(
    ("text", "condition"),
    [
        ("hardly any rust", "surface-rust"),
        ("doesn't look too rusty", "surface-rust"),
        ("not very pitted", "pitting"),
        ("nothing worse than surface rust", "surface-rust"),
        ("nearly through", "thinning"),
        ("more rust than metal", "thinning"),
    ],
)
def test_what_is_hardly_there_is_there(stage: _Stage, text: str, condition: str) -> None:
    """A little of a fault is one."""
    (entry,) = stage.play([f"left kick up, {text}"]).entries
    assert (entry.kind, entry.slots["condition"]) == (Kind.FINDING, condition)


@pytest.mark.parametrize(
    "text",
    [
        "doesn't look cracked", "doesn't seem to be cracked", "hasn't cracked", "doesn't leak",
        "hasn't rusted through yet",
    ],
)  # fmt: skip
def test_a_fault_that_does_not_seem_to_be_there_is_denied(stage: _Stage, text: str) -> None:
    """It would have been a finding without the words that deny it."""
    assert [e.kind for e in stage.play([f"left kick up {text}"]).entries] == [Kind.REMARK]


def test_a_good_word_ends_what_was_denied_before(stage: _Stage) -> None:
    """Ears write no commas."""
    (entry,) = stage.play(["right outrigger no holes no rust all solid"]).entries
    assert (entry.kind, entry.absent, entry.doubts) == (Kind.CLEAR, ("hole", "surface-rust"), ())


@pytest.mark.parametrize(
    ("said", "zone", "reason"),
    [
        ("not seen right kick up skid plate in the way", "kick-up", "skid plate in the way"),
        ("couldn't see right kick up carpet in the way", "kick-up", "carpet in the way"),
        ("not seen tank in the way", "sill", "tank in the way"),
        ("can't see it, fuel tank's in the way", "sill", "fuel tank's in the way"),
        ("not seen right kick up fuel tank in the way", "kick-up", "fuel tank in the way"),
    ],
)
def test_the_place_named_is_unseen_where_a_thing_of_its_own_hides_it(
    stage: _Stage, said: str, zone: str, reason: str
) -> None:
    """A place right before "in the way" hides another; with a thing between, it is the hidden one."""
    *_, entry = stage.play(["left sill, surface rust", said]).entries
    assert (entry.kind, entry.slots["zone"], entry.reason) == (Kind.NOT_SEEN, zone, reason)
    assert not entry.doubts


@pytest.mark.parametrize("text", ["didn't matter hole in it", "haven't a clue, hole in it"])
def test_a_verb_denied_reaches_no_further_than_the_next_word(stage: _Stage, text: str) -> None:
    """Ears write no commas, and no hole may vanish behind a "didn't"."""
    (entry,) = stage.play([f"left sill {text}"]).entries
    assert (entry.kind, entry.slots["condition"]) == (Kind.FINDING, "hole")


@pytest.mark.parametrize(
    ("text", "condition"), [("gives under the pick", "soft-spot"), ("scraper went through", "hole")]
)
def test_what_the_probe_did_is_found_where_only_the_end_is_missing(
    stage: _Stage, text: str, condition: str
) -> None:
    """Which hanger is asked; that it gave way is kept, as a hole named would be."""
    (entry,) = stage.play([f"left spring hanger, {text}"]).entries
    assert (entry.kind, entry.slots["condition"]) == (Kind.FINDING, condition)
    assert [question.slot for question in entry.questions] == ["zone"]
