"""Page one: the answer, what it rests on, and what to do next, for somebody who never saw a frame."""

from __future__ import annotations

import pytest
from inspected import at_the_bench, entry, log_of, material, said, texts

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Amend, Entry, Kind, Withdraw
from voicelog.domain.report import Report
from voicelog.domain.zone import Rails
from voicelog.report import compose

CRACK = {"zone": "steering-box-mount", "condition": "crack"}
MARKS = {"zone": "front-rail", "side": "left", "condition": "surface-rust", "probe": "firm"}


def _thorough(grammar: Grammar) -> list[Entry]:
    """Every place probed and found clear, and every hidden inside looked into."""
    made: list[Entry] = []
    for zone in grammar.zone_map.zones.values():
        side = {"side": "both"} if len(zone.sides()) == 2 else {}
        slots = {"zone": zone.id, **side, "probe": "firm", "method": "probed"}
        made.append(entry(len(made) + 2, Kind.CLEAR, **slots))
        if zone.hides_cavity(Rails.OPEN):
            made.append(entry(len(made) + 2, Kind.CLEAR, **slots, face="interior"))
    return made


def _report(grammar: Grammar, *entries: Entry, **more: object) -> Report:
    return compose(material(grammar, *log_of(*entries), **more))


def test_anything_unsafe_says_do_not_drive_or_tow(grammar: Grammar) -> None:
    """The headline is the worst that was found, however little else was seen."""
    report = _report(grammar, entry(2, **CRACK))
    assert (report.drive, report.headline) == ("do-not-drive", "Do not drive or tow")
    assert report.under == "1 finding speaks against moving it."
    assert report.answers[0].answer == "No: do not drive or tow it"
    assert report.answers[0].because == ("Steering box mount, crack (finding 1)",)
    assert report.next_step[0].startswith("Leave it where it stands.")


def test_too_little_seen_is_no_good_news(grammar: Grammar) -> None:
    """A few marks and nothing else: the page says that it cannot say."""
    report = _report(grammar, entry(2, **MARKS))
    assert report.headline == "Not enough seen to say"
    assert report.under == "Only 1 of 51 places was looked at, and important ones are open."


def test_a_thorough_look_says_where_examined(grammar: Grammar) -> None:
    """Even then the headline keeps to what was examined."""
    report = _report(grammar, *_thorough(grammar))
    assert report.headline == "No danger found where examined"
    assert report.under == "All 51 places were examined."
    assert report.counted[-1] == "Somebody saw all 6 hidden insides."
    assert report.answers[0].because == ()
    assert report.answers[2].answer == "Nothing that is known of"
    assert not report.worst


def test_counts_touched_places_and_hidden_insides(grammar: Grammar) -> None:
    """Important are critical mountings and what carries the load; probed counts as touched."""
    report = _report(
        grammar,
        entry(2, **MARKS),
        entry(3, zone="front-rail", side="right", condition="surface-rust"),
        entry(4, zone="sill", side="left", condition="surface-rust", probe="firm"),
    )
    assert report.counted == (
        "1 of 31 important places was touched with a tool, 1 only looked at, 29 not looked at.",
        "Nobody saw 6 of 6 hidden insides.",
    )


def test_says_when_nobody_told_whether_rails_are_boxes(grammar: Grammar) -> None:
    """Mixed rails may hide more insides than are counted."""
    report = _report(grammar, entry(2, **MARKS), rails=Rails.MIXED)
    assert "not said" in report.counted[-1]


def test_asks_the_three_questions_in_order(grammar: Grammar) -> None:
    """Move it, repair it, and what could change either: three answers, never one mark."""
    report = _report(grammar, entry(2, **CRACK))
    assert [answer.question for answer in report.answers] == [
        "Move it today?", "Repairable?", "What could change that?",
    ]  # fmt: skip


def test_an_empty_log_answers_that_nothing_is_known(grammar: Grammar) -> None:
    """No finding, no clear place: neither repairable nor not."""
    report = _report(grammar)
    assert report.headline == "Not enough seen to say"
    assert report.answers[1].answer == "Not known: nothing was looked at"
    assert report.worst == report.findings == ()


def test_the_last_question_names_what_would_matter(grammar: Grammar) -> None:
    """Open points are counted by kind, then those that could change an answer are told."""
    report = _report(grammar, entry(2, zone="mid-rail", side="left", condition="hole"))
    answer = report.answers[2]
    assert answer.answer.endswith("open points, by itself")
    assert "not looked at" in answer.because[0]
    assert all("if there is" in reason for reason in answer.because[1:3])
    assert "do not drive or tow it" in answer.because[1]
    assert answer.more > 0


def test_shows_three_reasons_and_counts_the_rest(grammar: Grammar) -> None:
    """Page one has no room for twenty reasons; it never hides that there are more."""
    zones = ("steering-box-mount", "tow-hitch", "control-arm-mount", "shock-mount", "axle-bracket")
    cracks = [entry(n, zone=zone, condition="crack") for n, zone in enumerate(zones, 2)]
    report = _report(grammar, *cracks)
    assert len(report.answers[0].because) == 3
    assert report.answers[0].more == 2


def test_nothing_found_where_hardly_anybody_looked_is_no_good_news(grammar: Grammar) -> None:
    """A frame of which four places were seen is neither repairable nor in no need of it."""
    answer = _report(grammar, entry(2, **MARKS)).answers[1]
    assert answer.answer == "Not known: too little was seen"
    assert answer.because == (
        "Only 1 of 40 structural places was looked at.",
        "Nothing was found that needs work.",
    )


def test_a_repair_is_told_of_what_was_found_and_of_nothing_else(grammar: Grammar) -> None:
    """One hole in one place seen: the other places may need any work at all."""
    hole = entry(2, zone="sill", side="left", condition="hole")
    answer = _report(grammar, hole).answers[1]
    assert answer.answer == "What was found: yes, with local repairs"
    assert answer.because[0].startswith("Only 0 of 40 structural places")


def test_where_no_single_point_would_change_it_the_page_says_so(grammar: Grammar) -> None:
    """A frame beyond repair stays so, whatever one more look finds; several open points may not."""
    kinked = entry(2, zone="mid-rail", side="left", condition="deformation")
    answer = _report(grammar, kinked).answers[2]
    assert answer.answer == "No open point by itself; several together might"
    assert "points are still open" in answer.because[0]


def test_page_one_speaks_to_a_buyer(grammar: Grammar) -> None:
    """No name that only the trade knows stays unexplained, no figure pretends to be measured finer
    than it was.
    """
    report = _report(
        grammar,
        entry(2, zone="tow-hitch", condition="pack-rust", certainty="tentative"),
        entry(
            3, zone="shock-mount", side="left", condition="hole", size_mm=24.26, doubts=("faint",)
        ),
    )
    page = " ".join(texts((*report.answers, *report.worst)))
    assert "hedge" not in " ".join(texts(report.answers))
    assert "listen again" not in page
    assert "rust between two sheets forces them apart" in page
    assert "Hole, 24 mm" in page
    assert "24.26" not in " ".join(texts(report, but=("said",)))


@pytest.mark.parametrize("number", [1, 5, 6, 12])
def test_shows_the_five_worst_and_counts_the_others(grammar: Grammar, number: int) -> None:
    """No more than five, however many there are."""
    found = [entry(n + 2, **MARKS) for n in range(number)]
    report = _report(grammar, *found)
    assert len(report.worst) == min(number, 5)
    assert report.more == max(number - 5, 0)
    assert report.worst == report.findings[:5]


def test_worst_are_ordered_by_grade_then_danger_then_what_the_metal_carries(
    grammar: Grammar,
) -> None:
    """A line that must not be driven with comes before a repair that only keeps from selling, and a
    structural member rusted through before a bolt rusted fast; sheet is no structure.
    """
    report = _report(
        grammar,
        entry(2, zone="sill", side="left", condition="hole"),
        entry(3, zone="shock-mount", side="left", condition="seized-fixing"),
        entry(4, zone="brake-line", condition="pitting"),
        entry(5, zone="rear-cross-member", condition="hole"),
        entry(6, zone="tow-hitch", condition="crack"),
        entry(7, zone="front-rail", side="left", condition="staining", probe="firm"),
        entry(8, zone="cab-mount", side="left", condition="scale", probe="through"),
    )
    assert [item.place for item in report.findings] == [
        "Tow hitch", "Brake line", "Rear cross member", "Left cab mount", "Left shock mount",
        "Left sill", "Left front rail",
    ]  # fmt: skip
    assert [item.number for item in report.findings] == [1, 2, 3, 4, 5, 6, 7]


def test_the_inspectors_worse_word_ranks_a_finding(grammar: Grammar) -> None:
    """What the inspector calls unsafe is shown among the worst, whatever the rule says."""
    report = _report(
        grammar,
        entry(2, zone="sill", side="left", condition="hole"),
        entry(3, **{**MARKS, "spoken_grade": "unsafe"}),
    )
    assert (report.worst[0].place, report.worst[0].grade) == ("Left front rail", "unsafe")


def test_next_step_names_what_is_urgent_and_where_to_look(grammar: Grammar) -> None:
    """In the order in which somebody would do it."""
    report = _report(grammar, entry(2, **CRACK), entry(3, zone="brake-line", condition="pitting"))
    assert "findings 1, 2" in report.next_step[1]
    assert "first at" in report.next_step[2]
    assert "licensed" in report.next_step[3]


def test_what_the_metal_carries_is_told_by_the_map_or_by_its_role(grammar: Grammar) -> None:
    """Nobody who buys a vehicle has to know what a kick-up is."""
    report = _report(grammar, entry(2, zone="kick-up", side="left", condition="hole"))
    assert report.worst[0].carries == (
        grammar.zone_map["kick-up"].carries or "the load of the whole vehicle runs through it"
    )


def test_what_was_unsafe_when_first_said_is_told_until_somebody_confirms_it(
    grammar: Grammar,
) -> None:
    """On page one and at the finding, what was withdrawn as well: a buyer reads no history."""
    hole = {"zone": "radius-arm-mount", "side": "left", "condition": "hole"}
    rust = Amend("e2.1", {"condition": "surface-rust"}, "correction")
    facts = (*log_of(entry(2, **hole), entry(3, **CRACK)), said(4, rust), said(5, Withdraw("e3.1")))
    report = compose(material(grammar, *facts))
    assert report.counted[-1] == (
        "2 findings were unsafe when first said, changed since, and nobody confirmed that: "
        "left radius arm mount, hole (now finding 1); steering box mount, crack (withdrawn)."
    )
    assert "unsafe when first said: hole" in report.findings[0].limits
    sure = at_the_bench(6, "confirm", rust), at_the_bench(7, "confirm", Withdraw("e3.1"))
    settled = compose(material(grammar, *facts, *sure))
    assert not any("when first said" in line for line in texts(settled))


def test_the_repairs_of_the_second_answer_begin_with_the_worst(grammar: Grammar) -> None:
    """Not with what was said first: a buyer reads one or two of them."""
    scale = entry(2, zone="front-cross-member", condition="scale")
    hole = entry(3, zone="rear-cross-member", condition="hole")
    shown = " ".join(_report(grammar, scale, hole).answers[1].because)
    assert "rear cross member, hole (finding 1)" in shown
