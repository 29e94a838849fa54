"""The lists behind page one: work and its cautions, what is open, coatings, what was unsafe before."""

from __future__ import annotations

from inspected import entry, log_of, material

from voicelog.config.grammar import Grammar
from voicelog.domain.comparison import Comparison, Difference
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.report import Report
from voicelog.report import compose
from voicelog.report.unseen import NOT_ALONE

HOLE = {"condition": "hole", "side": "left"}


def _report(grammar: Grammar, *entries: Entry, **more: object) -> Report:
    return compose(material(grammar, *log_of(*entries), **more))


def test_what_holds_for_all_work_is_told_once_above_the_list(grammar: Grammar) -> None:
    """Who reads the same four sentences at twenty findings reads none of them."""
    report = _report(
        grammar,
        entry(2, zone="control-arm-mount", **HOLE),
        entry(3, zone="shock-mount", **HOLE),
        entry(4, zone="sill", **HOLE),
    )
    (weld,) = (one for one in report.work_cautions if one.startswith("Structural welding"))
    assert weld.endswith("(Findings 1, 2, 3)")
    assert report.work_cautions[: len(grammar.rules.work_cautions)] == grammar.rules.work_cautions
    assert not any(
        "Structural welding" in caution for work in report.work for caution in work.cautions
    )


def test_a_findings_own_caution_stays_beside_it(grammar: Grammar) -> None:
    """Not to drive is not lost among goggles and batteries."""
    report = _report(
        grammar,
        entry(2, zone="control-arm-mount", **HOLE),
        entry(3, zone="shock-mount", **HOLE),
    )
    stop = "Do not drive or tow this vehicle."
    assert [item.cautions for item in report.findings] == [(stop,), (stop,)]
    assert all(stop in work.cautions for work in report.work if work.number)
    assert stop not in report.work_cautions


def test_work_and_finding_say_the_same_of_it(grammar: Grammar) -> None:
    """In the same words and with the same figures."""
    report = _report(grammar, entry(2, zone="sill", **HOLE, size_mm=24.26, doubts=("faint",)))
    work = next(work for work in report.work if work.number == 1)
    assert work.what == "; ".join((report.findings[0].what, *report.findings[0].limits))


def test_places_open_alike_are_one_row(grammar: Grammar) -> None:
    """Fifty lines of "nobody looked" hide the one that matters; sides are told together."""
    report = _report(grammar, entry(2, zone="mid-rail", side="left", condition="deformation"))
    rows = [row for row in report.unseen if row.open == "nobody looked"]
    (row,) = rows
    assert "cab mount, both sides" in row.place
    assert row.matters == NOT_ALONE


def test_how_it_matters_does_not_repeat_where_and_what(grammar: Grammar) -> None:
    """Both stand in the columns before it."""
    report = _report(grammar, entry(2, zone="front-rail", side="left", condition="surface-rust"))
    told = [row.matters for row in report.unseen if row.matters != NOT_ALONE]
    assert told
    assert all(matters.startswith("if ") and "nobody looked" not in matters for matters in told)


def test_a_reason_keeps_its_place_apart(grammar: Grammar) -> None:
    """What the inspector gave as reason holds for the place he gave it for."""
    barred = entry(2, Kind.NOT_SEEN, zone="sill", side="left", reason="cover in the way")
    report = _report(grammar, barred)
    (row,) = (row for row in report.unseen if row.reason)
    assert (row.place, row.reason) == ("Left sill", "cover in the way")


def test_the_share_of_a_coating_is_the_one_that_was_rated(grammar: Grammar) -> None:
    """Blisters are no rust: forty percent of them beside ten of rust rates ten."""
    at = {"zone": "front-rail", "side": "right"}
    report = _report(
        grammar,
        entry(2, **at, condition="surface-rust", area_percent=10),
        entry(3, **at, condition="blistering", area_percent=40),
    )
    (row,) = report.coating
    assert (row.rusted, row.d610) == ("10 %, told by eye", "about grade 4")


def test_shares_that_lie_beside_each_other_are_told_as_they_were_rated(grammar: Grammar) -> None:
    """Ten percent of rust and five of scale on one face make fifteen."""
    at = {"zone": "front-rail", "side": "right"}
    report = _report(
        grammar,
        entry(2, **at, condition="surface-rust", area_percent=10),
        entry(3, **at, condition="scale", area_percent=5),
    )
    assert report.coating[0].rusted == "15 %, told by eye"


def test_what_was_unsafe_before_and_not_looked_at_again_is_on_page_one(grammar: Grammar) -> None:
    """A short second look must not read milder than the first."""
    comparison = Comparison(
        "old", "new", "2025-03-14T08:05:00Z", "2026-03-14T08:05:00Z",
        tuple(
            Difference(change, "tow-hitch", None, "Tow hitch: then crack.", then=grade)
            for change, grade in (
                ("not-looked-at-again", Grade.UNSAFE), ("gone", Grade.UNSAFE),
                ("repaired", Grade.UNSAFE), ("not-looked-at-again", Grade.TREAT),
            )
        ),
    )  # fmt: skip
    counted = _report(grammar, comparison=comparison).counted
    assert counted[-1].startswith("2 unsafe findings of 14 March 2025")
    assert not any("unsafe" in line for line in _report(grammar).counted)


def test_a_drawing_in_words_names_what_it_cannot_show(grammar: Grammar) -> None:
    """As the note below the drawing does."""
    report = _report(grammar, entry(2, zone="sill", condition="hole"))
    assert "Not on the drawing, since place or side is not known: finding 1." in report.plan_alt
