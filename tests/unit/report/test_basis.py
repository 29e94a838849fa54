"""What was measured, what was judged, what only the program inferred, and who overruled whom."""

from __future__ import annotations

from inspected import at_the_bench, entry, log_of, material, said

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Add, Amend
from voicelog.domain.fact import Fact
from voicelog.domain.report import Item, Report
from voicelog.report import compose

HOLE = {"zone": "kick-up", "side": "left", "condition": "hole", "size_mm": 25, "probe": "through"}


def _report(grammar: Grammar, *facts: Fact) -> Report:
    return compose(material(grammar, *facts))


def _only(grammar: Grammar, **given: object) -> Item:
    return _report(grammar, *log_of(entry(2, **given))).findings[0]


def test_a_size_is_measured_and_a_probe_judged(grammar: Grammar) -> None:
    """They stand apart, so that one sees what another inspector would find the same."""
    item = _only(grammar, **HOLE)
    assert item.measured == ("25 mm across",)
    assert item.judged == ("the probe went through",)
    assert item.inferred == ("the grade repair, by rule alone",)


def test_a_wall_loss_is_told_with_the_gauges_uncertainty(grammar: Grammar) -> None:
    """A thickness without its uncertainty looks surer than it is."""
    item = _only(
        grammar,
        zone="mid-rail",
        side="left",
        condition="thinning",
        thickness_mm=1.9,
        nominal_mm=2.5,
    )
    assert item.measured[:2] == ("wall 1.9 mm thick", "wall 2.5 mm when new, as it was told")
    assert "24.0 % of the wall lost" in item.measured[2]
    assert "±" in item.measured[2]


def test_a_share_told_by_eye_is_a_judgement(grammar: Grammar) -> None:
    """Nobody measured it."""
    item = _only(grammar, zone="sill", side="left", condition="surface-rust", area_percent=15)
    assert item.measured == ()
    assert "15 % of the surface, told by eye" in item.judged


def test_doubt_place_and_rival_reading_are_inferred(grammar: Grammar) -> None:
    """Everything that a person should still listen to."""
    item = _only(
        grammar, **HOLE, doubts=("kick was heard faintly",), place_assumed=True,
        runner_up={"zone": "sill", "side": "left", "condition": "hole"},
    )  # fmt: skip
    assert item.inferred[0] == "maybe misheard: kick was heard faintly"
    assert "carried over" in item.inferred[1]
    assert item.inferred[2] == "the next best reading: Left sill"
    assert {"maybe misheard", "place carried over"} <= set(item.limits)


def test_a_confirmed_entry_infers_nothing(grammar: Grammar) -> None:
    """Somebody looked into it at the bench: it stands by their word."""
    facts = log_of(entry(2, **HOLE))
    sure = at_the_bench(3, "confirm", Amend("e2.1", {}, "correction", doubts=()))
    item = _report(grammar, *facts, sure).findings[0]
    assert item.inferred == ()


def test_an_undone_confirmation_confirms_nothing(grammar: Grammar) -> None:
    """What was taken back is as it was."""
    sure = Amend("e2.1", {}, "correction", doubts=())
    facts = (
        *log_of(entry(2, **HOLE)),
        at_the_bench(3, "confirm", sure),
        at_the_bench(4, "undo", sure),
    )
    assert _report(grammar, *facts).findings[0].inferred


def test_an_affirmed_answer_confirms(grammar: Grammar) -> None:
    """The inspector's own affirm counts as much as the bench's."""
    facts = (*log_of(entry(2, **HOLE)), said(3, Amend("e2.1", {"side": "left"}, "affirm")))
    assert _report(grammar, *facts).findings[0].inferred == ()


def test_where_rule_and_inspector_disagree_both_show(grammar: Grammar) -> None:
    """On page one and at the finding, with what counts; milder or worse alike."""
    report = _report(
        grammar,
        *log_of(
            entry(2, zone="sill", side="left", condition="hole", spoken_grade="cosmetic"),
            entry(3, zone="bed-mount", side="right", condition="staining", spoken_grade="repair"),
            entry(4, zone="tow-hitch", condition="crack", spoken_grade="unsafe"),
        ),
    )
    by_place = {item.place: item.overruled for item in report.findings}
    milder = "the rules give repair, the inspector called it cosmetic; this report counts repair"
    assert by_place["Left sill"] == milder
    assert "rules give cosmetic, the inspector called it repair" in by_place["Right bed mount"]
    assert by_place["Tow hitch"] == ""
    assert len(report.overruled) == 2
    assert any(milder in line and "(finding" in line for line in report.overruled)


def test_page_one_counts_what_findings_rest_on(grammar: Grammar) -> None:
    """Three rows, each with its numbers."""
    report = _report(
        grammar,
        *log_of(
            entry(2, **HOLE),
            entry(3, zone="tow-hitch", condition="crack", doubts=("hitch was heard faintly",)),
        ),
    )
    measured, judged, inferred = report.basis
    assert measured.value.startswith("1 of 2 findings")
    assert judged.value.startswith("1 of 2 findings")
    assert inferred.value == "1 may be misheard, 2 graded by rule alone, of 2 findings"


def test_nothing_said_rests_on_nothing(grammar: Grammar) -> None:
    """Rows stay, so that their absence is told."""
    report = _report(grammar, *log_of())
    assert [row.value for row in report.basis] == ["nothing", "nothing", "nothing"]


def test_a_range_shows_both_ends(grammar: Grammar) -> None:
    """Ten to fifteen is no fifteen."""
    hole = entry(2, **HOLE)
    ranged = type(hole)(
        hole.id, hole.utterance, hole.at, hole.kind, hole.slots, ranges={"size_mm": (10.0, 15.0)}
    )
    item = _report(grammar, *log_of(), said(2, Add(ranged))).findings[0]
    assert item.measured == ("10 to 15 mm across",)
