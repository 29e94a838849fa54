"""What a person reads: entries with ranges and questions, the past, what was spelled."""

from __future__ import annotations

import io
from typing import Any

import pytest
from click.testing import CliRunner
from rich.console import Console

from voicelog.cli.ending import past_lines, spelt_lines
from voicelog.cli.main import cli
from voicelog.cli.show import show_end
from voicelog.cli.wording import finding_lines
from voicelog.domain.entry import Entry, Finding, Inspection, Kind, Question
from voicelog.domain.grade import Grade, Verdict
from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.domain.zone import ZoneMap
from voicelog.runtime.actions import resume_phrase

VIN = "1M8GDM5AXKP042788"
NO_MAP = ZoneMap("none", "No places", {})


def _entry(kind: Kind, text: str = "", **more: Any) -> Entry:
    return Entry("e2.1", "u2", "2026-03-14T08:05:30.000Z", kind, text=text, **more)


def _inspection(*entries: Entry) -> Inspection:
    verdict = Verdict("not-enough-seen", "none", "fair")
    return Inspection(tuple(Finding(entry) for entry in entries), {}, (), verdict)


def _lines(finding: Finding) -> str:
    return "\n".join(line.plain for line in finding_lines(finding, NO_MAP))


def _ending(inspection: Inspection) -> str:
    out = Console(file=io.StringIO(), width=100, highlight=False)
    show_end(out, inspection, NO_MAP, log=None, export=None)
    assert isinstance(out.file, io.StringIO)
    return out.file.getvalue()


SALT = _entry(Kind.REMARK, "driven on salt every winter", tags=("winter-salt",))
SPELT = _entry(
    Kind.REMARK, "i spell vin", slots={"vin": VIN}, tags=("spelt", "vin"),
    doubts=("position 9 is X",), questions=(Question("vin", ("1M8GDM9AXKP042788", VIN)),),
)  # fmt: skip


def test_a_range_is_shown_with_both_its_ends() -> None:
    """The slot holds the larger; a person sees what was said."""
    slots = {"condition": "hole", "size_mm": 15.0, "depth_mm": 2.0}
    entry = _entry(Kind.FINDING, slots=slots, ranges={"size_mm": (10.0, 15.0)})
    told = _lines(Finding(entry, grade=Grade.REPAIR))
    assert "10 to 15 mm, 2 mm deep" in told


def test_a_spelled_number_in_doubt_shows_what_could_be_meant() -> None:
    """As heard, the doubt, the choices, and how to answer."""
    told = _lines(Finding(SPELT))
    assert f"e2.1: VIN {VIN}  ?doubtful" in told
    assert f"which VIN: 1M8GDM9AXKP042788 or {VIN}?" in told
    assert '"affirm" keeps it as heard' in told


def test_the_past_and_what_was_spelled_are_blocks_of_their_own() -> None:
    """Both before the places that nobody looked at and the verdict."""
    told = _ending(_inspection(SALT, SPELT))
    past, spelled = told.index("What was said of its past"), told.index("Spelled")
    assert max(past, spelled) < told.index("Verdict on what was said")
    assert "winter salt: “driven on salt every winter”" in told
    assert f"VIN {VIN}, in doubt" in told


def test_a_block_with_nothing_in_it_is_left_out() -> None:
    """Talk is neither past nor spelled."""
    told = _ending(_inspection(_entry(Kind.REMARK, "kettle is on")))
    assert "What was said of its past" not in told
    assert "Spelled" not in told


def test_withdrawn_and_untagged_remarks_say_nothing_of_the_past() -> None:
    """Only what still holds."""
    inspection = _inspection(SALT)
    gone = Inspection((Finding(SALT, withdrawn=True),), {}, (), inspection.verdict)
    assert list(past_lines(inspection)) == ["winter salt: “driven on salt every winter”"]
    assert list(past_lines(gone)) == []
    assert list(spelt_lines(inspection)) == []


@pytest.mark.parametrize("text", ["salt\x1b[2J", "salt\u202e"])
def test_nothing_said_can_steer_a_terminal(text: str) -> None:
    """Control and direction marks become question marks."""
    entry = _entry(Kind.REMARK, text, tags=("winter-salt",))
    (line,) = past_lines(_inspection(entry))
    assert line.isprintable()


def test_what_ends_standing_by_is_told_in_the_grammar_s_own_words() -> None:
    """A shop may have renamed both."""
    phrases = (Phrase("notebook", "attention", "attention"), Phrase("carry on", "act", "go-ahead"))
    assert resume_phrase(Vocabulary(phrases)) == "notebook, carry on"


def test_what_was_put_right_shows_what_it_was_called_before() -> None:
    """With its place where that is another one; a measure more is no other name."""
    hole = _entry(Kind.FINDING, slots={"zone": "sill", "condition": "hole"})
    moved = _entry(Kind.FINDING, slots={"zone": "floor", "condition": "scale"})
    wider = _entry(Kind.FINDING, slots={**hole.slots, "size_mm": 20.0})
    assert "before: sill, side not said: hole" in _lines(Finding(moved, (hole,)))
    assert "before" not in _lines(Finding(wider, (hole,)))


def test_a_withdrawn_entry_warns_of_nothing() -> None:
    """What no longer holds is no reason to leave the vehicle where it is."""
    crack = _entry(Kind.FINDING, slots={"zone": "sill", "condition": "crack"})
    assert "Do not drive" in _lines(Finding(crack, cautions=("Do not drive.",)))
    gone = Finding(crack, cautions=("Do not drive.",), withdrawn=True)
    assert "Do not drive" not in _lines(gone)


def test_words_that_made_no_entry_are_answered_all_the_same() -> None:
    """A place alone sets where you are; whoever said more sees that it was not taken."""
    told = CliRunner().invoke(cli, ["read", "left mid rail", "left mid rail, surface rust"]).output
    assert "no entry; you are at: left mid rail" in told
    assert told.count("no entry") == 1
