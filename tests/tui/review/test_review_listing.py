"""Which entries are shown and which one is looked at, without any widget."""

from __future__ import annotations

from dataclasses import replace

import pytest

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Hypothesis, Word
from voicelog.domain.zone import Layout, Role, Zone, ZoneMap
from voicelog.review.order import Order
from voicelog.review.sieve import Sieve
from voicelog.tui.review.listing import Listing
from voicelog.tui.review.marks import Known, mark_words, signs
from voicelog.tui.review.row_words import Widths, grade_cell, heading, row, size_cell, what_cell
from voicelog.tui.review.spoken import Spoken, sureness

MAP = ZoneMap(
    "m", "M",
    {
        "rail": Zone("rail", "Rail", Role.LOAD_PATH, Layout.PAIR),
        "sill": Zone("sill", "Sill", Role.SUPPORT, Layout.PAIR),
    },
)  # fmt: skip
AT = "2026-03-14T09:00:0{}.000Z"


def finding(
    number: int, zone: str = "rail", grade: Grade = Grade.REPAIR, **more: object
) -> Finding:
    """An entry as it stands."""
    slots = {"zone": zone, "side": "left", "condition": "hole", **more}
    entry = Entry(f"e{number}.1", f"u{number}", AT.format(number), Kind.FINDING, slots)
    return Finding(entry, grade=grade)


def doubtful(one: Finding) -> Finding:
    """The same, in doubt."""
    return replace(one, entry=replace(one.entry, doubts=("faint",)))


def listing() -> Listing:
    """Four entries, the third of them looked at."""
    made = Listing(
        [
            finding(1, "sill", Grade.TREAT), doubtful(finding(2)), finding(3, "sill", Grade.UNSAFE),
            doubtful(finding(4, grade=Grade.COSMETIC)),
        ],
        MAP,
    )  # fmt: skip
    made.look_at(2)
    return made


def ids(made: Listing) -> list[str]:
    """What is shown, in order."""
    return [one.entry.id for one in made.shown]


def test_the_entry_stays_while_the_order_changes() -> None:
    """Time, place, worst first."""
    made = listing()
    for order, wanted in (
        (Order.ZONE, ["e2.1", "e4.1", "e1.1", "e3.1"]),
        (Order.GRADE, ["e3.1", "e2.1", "e1.1", "e4.1"]),
        (Order.TIME, ["e1.1", "e2.1", "e3.1", "e4.1"]),
    ):
        made.sort_by(order)
        assert ids(made) == wanted
        assert made.current == "e3.1"
        assert made.shown[made.at].entry.id == "e3.1"


def test_when_it_is_hidden_the_next_one_takes_its_place() -> None:
    """The last one before it, where none follows; none at all, where none is shown."""
    made = listing()
    made.filter_by(Sieve(doubtful=True))
    assert made.current == "e4.1"
    made.take([finding(4)])
    assert made.current == "e2.1"
    made.take([finding(2)])
    assert made.current == ""
    assert made.at == -1
    assert made.finding is None
    made.filter_by(Sieve())
    assert made.current == "e1.1"


def test_new_entries_come_in_and_changed_ones_stay_in_their_place() -> None:
    """Without a look at the whole log."""
    made = listing()
    made.take([finding(5), replace(finding(1), withdrawn=True)])
    assert ids(made) == ["e1.1", "e2.1", "e3.1", "e4.1", "e5.1"]
    assert made.by_id["e1.1"].withdrawn
    assert made.current == "e3.1"


def test_next_doubt_goes_round_and_skips_what_was_withdrawn() -> None:
    """From the entry in hand downwards, then from the top."""
    made = listing()
    assert made.next_doubtful() == "e4.1"
    made.take([replace(doubtful(finding(4)), withdrawn=True)])
    assert made.next_doubtful() == "e2.1"
    made.take([finding(2)])
    assert made.next_doubtful() == ""


def test_a_row_keeps_its_columns_whatever_stands_in_it() -> None:
    """Long and wide characters are cut; the heading has the same width."""
    known = Known(MAP)
    for width in (79, 120, 200):
        widths = Widths.of(width)
        lines = [
            row(finding(1), known, widths), heading(widths),
            row(finding(2, landmark="漢字" * 60, size_mm=1234.5678), known, widths, picked=True),
            row(replace(finding(3), withdrawn=True), known, widths, looked_at=True),
        ]  # fmt: skip
        assert {line.cell_length for line in lines} == {width}, width


def test_what_is_withdrawn_says_so_in_a_word() -> None:
    """Not by a line through it alone."""
    gone = replace(finding(1, grade=Grade.UNSAFE), withdrawn=True)
    assert "WITHDRAWN" in str(grade_cell(gone))
    assert "UNSAFE" not in str(grade_cell(gone))


@pytest.mark.parametrize(
    ("slots", "told"),
    [
        ({"size_mm": 25.4}, "25 mm"), ({"size_mm": 9.525}, "9.5 mm"),
        ({"depth_mm": 2.0}, "2 mm deep"), ({"area_percent": 15.0}, "15 %"), ({}, ""),
    ],
)  # fmt: skip
def test_sizes_are_short(slots: dict[str, float], told: str) -> None:
    """Told as everywhere else: no tenths from ten millimetres on."""
    assert size_cell(finding(1, **slots)) == told


def test_a_range_shows_both_ends() -> None:
    """As it was said."""
    one = finding(1, size_mm=30.0)
    one = replace(one, entry=replace(one.entry, ranges={"size_mm": (20.0, 30.0)}))
    assert size_cell(one) == "20–30 mm"


def test_what_was_not_there_is_told() -> None:
    """A clear place names what was looked for."""
    entry = Entry("e1.1", "u1", AT.format(1), Kind.CLEAR, {"zone": "rail"}, absent=("hole",))
    assert what_cell(Finding(entry)) == "clear, no hole"


def test_every_mark_has_its_own_column() -> None:
    """And the same in words; only once where it was corrected once."""
    known = Known(
        MAP, frozenset({("rail", "left")}), frozenset({"u2"}), lambda _: 2, frozenset({"e2.1"})
    )
    full = doubtful(finding(2, probe="firm", face="interior"))
    assert signs(full, known) == "?♪▤●■cΔ"
    assert signs(finding(2), Known(MAP)) == " " * 7
    assert dict(mark_words(full, known))["c"] == "corrected 2 times"


def spoken(text: str, at: int) -> Spoken:
    """Words, one of them looked at."""
    return Spoken(tuple(map(Word, text.split())), at)


def test_the_word_in_hand_is_found_in_the_entry_that_says_it() -> None:
    """An utterance of two findings is two texts; another text holds none of its words."""
    said = "Hole on the left sill, crack on the right."
    second = Entry("e1.2", "u1", "", Kind.FINDING, text="crack on the right")
    assert spoken(said, 6).word_of(second) == 1
    assert spoken(said, 2).word_of(second) is None
    assert spoken(said, 5).word_of(replace(second, text="typed anew")) is None
    assert spoken("", 0).word_of(second) is None


def test_words_know_how_sure_they_are() -> None:
    """An ear that tells nothing is taken at its word."""
    told = [sureness(Word("a", sure)) for sure in (0.2, 0.6, 0.9, None)]
    assert told == ["faint", "shaky", "sure", "sure"]


def test_the_word_being_played_is_found_by_its_time() -> None:
    """None in the silence between."""
    words = (Word("a", None, 0.0, 0.4), Word("b", None, 0.6, 1.0), Word("c"))
    found = [Spoken(words).word_at(at_s) for at_s in (0.1, 0.5, 0.6, 2.0)]
    assert found == [0, None, 1, None]


def test_times_that_were_worked_out_are_called_so() -> None:
    """The word in hand stays in hand."""
    from voicelog.domain.heard import Heard

    timed = Heard(
        (Hypothesis("a b", 0.0, (Word("a", 0.9, 0.0, 0.4), Word("b", 0.9, 0.4, 0.8))),), "x"
    )
    worked_out = spoken("a b", 1).timed(timed, "a b")
    assert worked_out.estimated
    assert worked_out.at == 1
    assert worked_out.start_s == 0.4
    assert worked_out.timed(timed, "a b").estimated
    assert not Spoken(timed.hypotheses[0].words).timed(timed, "a b").estimated
