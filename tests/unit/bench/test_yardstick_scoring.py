"""What the yardstick counts, and how sure it is of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from yardstick import wrong
from yardstick.calibration import Bin, bins, calibration_error, doubt_bins, trusted
from yardstick.intervals import difference, poisson
from yardstick.scoring import Part, false_ones, outcomes
from yardstick.speech_set import Spoken, speech_set
from yardstick.streams import Caught
from yardstick.systems import TYPED, System, looked_up, systems, together, unanswered, when_useful
from yardstick.timing import Cost

from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.yardstick.strict import Tally

NOTHING = Heard((), "built-in")
ALONE = System("built-in", ("built-in",), together)


@pytest.mark.parametrize(
    ("count", "low", "high"), [(0, 0.0, 3.689), (1, 0.025, 5.572), (10, 4.795, 18.390)]
)
def test_the_interval_of_a_count(count: int, low: float, high: float) -> None:
    """Exact limits of a Poisson count, which the approximation meets within two hundredths."""
    assert poisson(count) == pytest.approx((low, high), abs=0.02)


def test_the_interval_of_a_gain_is_of_pairs() -> None:
    """Two systems that are right about the very same utterances differ by nothing at all."""
    same = [True, False] * 50
    assert difference(same, same) == (0.0, 0.0)
    low, high = difference([True] * 100, same)
    assert low < 0.5 < high
    assert low > 0.39
    assert high < 0.61


def _false(heard: Heard, system: System = ALONE) -> tuple[int, int]:
    caught = Caught("k", Path("k.flac"), 0.0, "pink", "talk")
    found = false_ones(system, [caught], {ear: {"k": heard} for ear in system.ears})
    return found[0].count, found[0].marked


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("kettle's on if anyone wants one", 0),
        ("right front rail, hole the size of a quarter", 1),
        ("disregard that", 1),
        ("correction, right side", 1),
    ],
)
def test_false_findings_are_entries_made_and_entries_spoilt(text: str, count: int) -> None:
    """One stands before the chatter; to take it away is as false as to add one."""
    assert _false(Heard.typed(text))[0] == count


def test_an_ear_that_hears_nothing_makes_nothing() -> None:
    """Alone, with a second one, and with keyword search."""
    for system in systems(["built-in", "second"], ["built-in"])[:-1]:
        assert _false(NOTHING, system) == (0, 0)


def test_keyword_search_falls_for_a_mention() -> None:
    """What sets it apart from a reading; it marks nothing doubtful."""
    mention = Heard.typed("that's what she said about the hole")
    assert _false(mention, System("search", ("built-in",), looked_up, marks=False)) == (1, 0)


def test_the_second_ear_is_asked_only_where_it_can_change_something() -> None:
    """What is heard then counts; else it is as if it were not there."""
    clear, other = Heard.typed("left front rail, surface rust"), Heard.typed("sill, hole")
    made = when_useful((), [clear, other])
    assert not made.asked
    assert made.answer == together((), [clear]).answer
    unsafe = Heard.typed("steering box mount, crack")
    assert when_useful((), [unsafe, unsafe]).asked
    assert together((), [clear, other]).asked


def test_afterwards_the_second_ear_only_gives_and_takes_doubts() -> None:
    """Until somebody answers, the entries are the first ear's."""
    first, second = (
        Heard.typed(f"steering box {what}") for what in ("mount, crack", "bracket, rust")
    )
    made, alone = unanswered((), [first, second]), together((), [first])
    assert made.asked
    assert [dict(got.slots) for got in made.answer.entries] == [
        dict(got.slots) for got in alone.answer.entries
    ]
    assert made.answer.entries[0].doubts
    assert not alone.answer.entries[0].doubts


def test_without_a_second_ear_there_are_no_pairs() -> None:
    """Only what can be made of the ears that listened is compared."""
    names = [system.name for system in systems(["built-in"], [])]
    assert names == ["built-in", "typed text"]


@pytest.fixture(scope="module")
def few() -> Sequence[Spoken]:
    """An utterance in each tuning voice, in a quiet place."""
    return [s for s in speech_set("tuning", each=1) if s.condition.name == "quiet"]


def test_typed_text_needs_no_ear(few: Sequence[Spoken]) -> None:
    """It is the ceiling: nothing was misheard."""
    found = outcomes(TYPED, few, {})
    assert [o.spoken for o in found] == list(few)
    assert sum(o.exact for o in found) >= len(found) - 1


def test_what_an_ear_did_not_hear_is_not_counted(few: Sequence[Spoken]) -> None:
    """The slowest ear hears some conditions only."""
    heard: Mapping[str, dict[str, Heard]] = {"built-in": {few[0].key: Heard.typed(few[0].text)}}
    assert len(outcomes(ALONE, few, heard)) == 1


def test_confidence_is_asked_of_words_as_they_are_compared(few: Sequence[Spoken]) -> None:
    """A number in digits is several words of one confidence; a word nobody said is wrong."""
    said = few[0].text.split()[0].strip(",.")
    heard = Heard((Hypothesis("", 0.0, (Word(said, 0.9), Word("25", 0.4))),), "built-in")
    told = list(trusted(few[:1], {few[0].key: heard}))
    assert told == [(0.9, True), (0.4, False), (0.4, False)]


def test_a_prediction_that_comes_true_as_often_as_it_says_has_no_error() -> None:
    """And one that is always sure and right half of the time is half wrong."""
    honest = [(0.75, True)] * 3 + [(0.75, False)]
    assert calibration_error(bins(honest)) == pytest.approx(0.0)
    assert calibration_error(bins([(1.0, True), (1.0, False)])) == pytest.approx(0.5)
    assert bins([(0.05, False), (1.0, True)]) == [Bin(0.05, 0, 1), Bin(1.0, 1, 1)]


def test_a_mark_of_doubt_promises_what_it_was_worth_in_the_tuning_part() -> None:
    """Marked ones were right in 1 of 4, the others in 9 of 10; here in 2 of 4 and in 5 of 5."""
    before = Tally(right=10, right_marked=1, wrong=4, wrong_marked=3)
    now = Tally(right=7, right_marked=2, wrong=2, wrong_marked=2)
    assert doubt_bins(now, before) == [Bin(0.25, 2, 4), Bin(0.9, 5, 5)]
    assert calibration_error(doubt_bins(now, before)) == pytest.approx((4 * 0.25 + 5 * 0.1) / 9)


def test_what_went_wrong_in_the_kept_out_part_is_never_listed() -> None:
    """Whoever looked at it would tune on it."""
    with pytest.raises(ValueError, match="tuning part only"):
        wrong.listed(Part("kept out", (), {}, {}), ALONE)


def test_times_are_told_by_their_middle_and_their_end() -> None:
    """One clip is enough for both."""
    cost = Cost((0.3, 0.1, 0.2), 1.0, 1.0, 10.0, 100.0, 0.5)
    assert cost.median_s == 0.2
    assert 0.2 < cost.p95_s <= 0.3
    assert Cost((0.3,), 1.0, 1.0, 10.0, 100.0, 0.5).p95_s == 0.3
