"""The documents a program reads: what is in them, what is left out."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.entry import Amend, Entry, Finding, Inspection, Kind, amended
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Gap, Grade, Verdict
from voicelog.domain.slot import Slots
from voicelog.errors import LogFault
from voicelog.export.answer import answer
from voicelog.export.document import log_document

POCKET = "right control arm mount, inside the pocket, hole ten to fifteen mil, goes through"


def _only(entry: Entry, **graded: Any) -> dict[str, Any]:
    """The one entry of an answer."""
    verdict = Verdict("not-enough-seen", "none", "fair")
    found = Inspection((Finding(entry, **graded),), {}, (), verdict)
    [printed] = answer(found)["entries"]
    return dict(printed)


def _said(kind: Kind, slots: Slots, **more: Any) -> Entry:
    return Entry("e2.1", "u2", "2026-03-14T09:05:30Z", kind, slots, **more)


def _by_id(document: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {entry["id"]: entry for entry in document["entries"]}


def test_the_answer_holds_entries_and_verdict_and_nothing_else(inspection: Inspection) -> None:
    """DESIGN of the command line: one object, two keys; the verdict has four."""
    document = answer(inspection)
    assert list(document) == ["entries", "verdict"]
    assert list(document["verdict"]) == ["drive", "work", "tier", "could_change"]


def test_withdrawn_entries_are_left_out_of_the_answer(inspection: Inspection) -> None:
    """A disregarded crack is not a crack."""
    printed = _by_id(answer(inspection))
    assert "e12.1" not in printed
    assert len(printed) == len(inspection.findings) - 1


def test_a_finding_prints_its_slots_and_grades_at_the_top_level(inspection: Inspection) -> None:
    """Nothing that is unknown, nothing nested."""
    assert _by_id(answer(inspection))["e3.1"] == {
        "id": "e3.1",
        "at": "2026-03-14T09:05:45.250Z",
        "utterance": "u3",
        "kind": "finding",
        "doubtful": False,
        "zone": "control-arm-mount",
        "side": "right",
        "face": "interior",
        "condition": "hole",
        "probe": "through",
        "size_mm": 15.0,
        "certainty": "stated",
        "grade": "unsafe",
        "computed_grade": "unsafe",
        "rules": ["hole", "probe-failed", "probe-failed-at-mounting", "rot-at-mounting"],
        "unproven": False,
        "ranges": {"size_mm": [10.0, 15.0]},
        "text": POCKET,
    }


def test_a_spoken_grade_stands_beside_the_computed_one(inspection: Inspection) -> None:
    """Both are kept; ``grade`` is the one that counts."""
    bed = _by_id(answer(inspection))["e14.1"]
    grades = (bed["grade"], bed["computed_grade"], bed["spoken_grade"])
    assert grades == ("repair", "cosmetic", "repair")
    assert "spoken_grade" not in _by_id(answer(inspection))["e3.1"]


def test_a_reading_of_both_thicknesses_prints_the_loss(inspection: Inspection) -> None:
    """1.9 left of 2.5 is 24 percent gone."""
    assert _by_id(answer(inspection))["e4.1"]["loss_percent"] == 24.0


def test_a_hedge_is_printed_and_everything_else_is_stated() -> None:
    """Findings always say how certain they are; other entries only when hedged."""
    slots = {"zone": "kick-up", "condition": "hole"}
    graded = {"grade": Grade.REPAIR, "computed_grade": Grade.REPAIR}
    hedged = _only(_said(Kind.FINDING, {**slots, "certainty": "tentative"}), **graded)
    assert hedged["certainty"] == "tentative"
    assert _only(_said(Kind.FINDING, slots), **graded)["certainty"] == "stated"
    assert "certainty" not in _only(_said(Kind.CLEAR, {"zone": "kick-up"}))


def test_only_findings_are_graded() -> None:
    """A grade left over from before a correction is not printed with a clear place."""
    printed = _only(_said(Kind.CLEAR, {"zone": "kick-up"}), grade=Grade.REPAIR, rules=("hole",))
    assert set(printed) == {"id", "at", "utterance", "kind", "doubtful", "zone"}


def test_doubts_questions_and_the_runner_up_are_printed(inspection: Inspection) -> None:
    """Nothing is asked in batch; it is written down to be asked."""
    rail = _by_id(answer(inspection))["e11.1"]
    assert rail["doubtful"] is True
    assert rail["doubts"] == ["which rail was not said"]
    assert rail["questions"] == [
        {"slot": "zone", "options": ["front-rail", "mid-rail", "rear-rail"]}
    ]
    assert rail["runner_up"] == {"side": "right", "condition": "pitting", "probe": "dents"}
    assert "zone" not in rail


def test_circumstances_are_printed_where_they_apply(inspection: Inspection) -> None:
    """Reason, absent conditions, tags; flags only when true."""
    printed = _by_id(answer(inspection))
    assert printed["e8.1"]["reason"] == "splash shield in the way"
    assert printed["e7.1"]["absent"] == ["hole", "crack"]
    assert printed["e10.1"]["tags"] == ["stored-damp"]
    remark = _only(_said(Kind.REMARK, {"condition": "hole"}, unplaced=True, place_assumed=True))
    assert (remark["unplaced"], remark["place_assumed"]) == (True, True)
    assert not {"unplaced", "place_assumed"} & set(printed["e10.1"])


def test_a_value_the_contract_has_no_room_for_makes_the_entry_doubtful() -> None:
    """It is never dropped in silence."""
    printed = _only(_said(Kind.PHOTO, {"zone": "kick-up", "size_mm": float("nan")}))
    assert printed["doubtful"] is True
    assert printed["doubts"] == ["size_mm: no usable value"]
    assert "size_mm" not in printed


def test_a_slot_cannot_take_the_place_of_another_key() -> None:
    """A log edited by hand cannot overrule the id, kind or grade that is printed."""
    slots = {"id": "e9.9", "kind": "clear", "grade": "cosmetic", "zone": "kick-up"}
    printed = _only(_said(Kind.REMARK, slots))
    assert (printed["id"], printed["kind"]) == ("e2.1", "remark")
    assert "grade" not in printed


def test_gaps_print_what_is_known_of_them(inspection: Inspection) -> None:
    """No nulls."""
    changes = answer(inspection)["verdict"]["could_change"]
    assert changes[1] == {"zone": "steering-box-mount", "why": "not-seen"}
    assert changes[0]["reason"] == "splash shield in the way"


def test_the_log_document_holds_all_the_answer_holds(
    facts: tuple[Fact, ...], inspection: Inspection
) -> None:
    """A reader of the answer can read the log."""
    short, long = answer(inspection), log_document(facts, inspection)
    for brief, full in zip(short["entries"], long["entries"], strict=True):
        assert brief.items() <= full.items()
    assert short["verdict"].items() <= long["verdict"].items()


def test_the_log_document_tells_of_the_log(facts: tuple[Fact, ...], inspection: Inspection) -> None:
    """Who, what, when, by which words and rules."""
    header = log_document(facts, inspection)["log"]
    assert header["id"] == "3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11"
    assert header["subject"] == "utility pickup, tray removed"
    assert (header["map"], header["rails"], header["ear"]) == ("ladder-frame", "mixed", "typed")
    assert header["created"] == "2026-03-14T10:05:15.250+01:00"
    assert set(header["grammar"]) == {"rules/frame.toml"}
    assert (header["utterances"], header["closed"]) == (14, True)


def test_a_log_spoken_to_after_its_end_is_open_again(
    facts: tuple[Fact, ...], inspection: Inspection
) -> None:
    """Closed means finished, with nothing said since; other facts do not matter."""
    later = replace(facts[2], seq=16)
    erased = replace(facts[-1], type="clip-erased")
    assert log_document((*facts, later), inspection)["log"]["closed"] is False
    assert log_document((*facts, erased), inspection)["log"]["closed"] is True
    assert log_document(facts[:-1], inspection)["log"]["closed"] is False
    assert log_document(facts[:1], inspection)["log"]["closed"] is False


def test_a_bare_opening_fact_is_enough(facts: tuple[Fact, ...], inspection: Inspection) -> None:
    """What it does not say is left out; its own time stands for the missing one."""
    opened = replace(facts[0], body={"log_id": "3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11"})
    header = log_document((opened,), inspection)["log"]
    assert set(header) == {"id", "created", "utterances", "closed"}
    assert header["created"] == opened.at


def test_facts_that_were_never_opened_are_refused(inspection: Inspection) -> None:
    """Without an id nobody could say which log this is."""
    with pytest.raises(LogFault, match="opened"):
        log_document((), inspection)


def test_history_is_there_for_every_entry_newest_last(
    facts: tuple[Fact, ...], inspection: Inspection
) -> None:
    """The surface rust that became a hole shows both."""
    printed = _by_id(log_document(facts, inspection))
    assert [state["condition"] for state in printed["e5.1"]["history"]] == ["surface-rust"]
    assert "grade" not in printed["e5.1"]["history"][0]
    assert printed["e3.1"]["history"] == []
    assert printed["e3.1"]["cautions"] == ["Do not drive or tow the vehicle."]


def test_withdrawn_entries_are_kept_apart_in_the_log_document(
    facts: tuple[Fact, ...], inspection: Inspection
) -> None:
    """What was taken back stays readable."""
    document = log_document(facts, inspection)
    assert [entry["id"] for entry in document["withdrawn"]] == ["e12.1"]


def test_coverage_says_what_was_seen_where(facts: tuple[Fact, ...], inspection: Inspection) -> None:
    """No side where a zone comes once, no inside where it hides nothing."""
    rows = log_document(facts, inspection)["coverage"]
    assert rows[1] == {
        "zone": "gearbox-cross-member",
        "looked": True,
        "probed": True,
        "photo": False,
    }
    assert (rows[2]["side"], rows[2]["inside"]) == ("left", False)


def test_cautions_are_ours_unless_the_shop_has_its_own(
    facts: tuple[Fact, ...], inspection: Inspection
) -> None:
    """The rules file may carry others."""
    assert len(log_document(facts, inspection)["cautions"]) >= 4
    own = log_document(facts, inspection, cautions=("Mind the pit.",))
    assert own["cautions"] == ["Mind the pit."]


def test_the_tool_promises_nothing(facts: tuple[Fact, ...], inspection: Inspection) -> None:
    """Words that only an authority may use are not in its own sentences."""
    document = log_document(facts, inspection)
    own = " ".join([document["notice"], *document["cautions"]]).lower()
    forbidden = ("safe", "passed", "roadworthy", "certified", "price", "guarantee")
    assert not set(re.findall(r"[a-z]+", own)) & set(forbidden)
    assert "vouches for nothing" in document["notice"]


def test_lone_surrogates_are_replaced_everywhere(facts: tuple[Fact, ...]) -> None:
    """Typed text can bring half a character; strict readers would refuse the whole document."""
    half = "half \ud800"
    entry = _said(
        Kind.NOT_SEEN,
        {"landmark": half},
        text=half,
        reason=half,
        doubts=(half,),
        tags=(half,),
    )
    gap = Gap("kick-up", "not-seen", reason=half)
    verdict = Verdict("not-enough-seen", "none", "fair", (gap,), (half,))
    found = Inspection((Finding(entry, history=(entry,), cautions=(half,)),), {}, (gap,), verdict)
    opened = replace(facts[0], body={**facts[0].body, "subject": half, "settings": {half: half}})
    text = json.dumps(log_document((opened,), found, cautions=(half,)), ensure_ascii=False)
    text.encode()
    assert text.count("half \ufffd") == 18


def test_the_answer_is_made_without_loading_pydantic() -> None:
    """Reading one sentence must start fast."""
    code = "import sys, voicelog.export.document; print('pydantic' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_what_was_spelled_is_handed_over_as_heard(inspection: Inspection) -> None:
    """A number whose check fails is in doubt, with likely readings; it is never repaired."""
    vin = _by_id(answer(inspection))["e15.1"]
    assert (vin["vin"], vin["tags"], vin["doubtful"]) == (
        "1M8GDM5AXKP042788", ["spelt", "vin"], True,
    )  # fmt: skip
    assert vin["questions"][0]["slot"] == "vin"
    assert vin["questions"][0]["options"][-1] == vin["vin"]


def test_an_earlier_state_keeps_its_own_range(inspection: Inspection) -> None:
    """A correction drops the range; the state before it still shows what was said."""
    pocket = next(f for f in inspection.findings if f.entry.id == "e3.1")
    after = amended(pocket.entry, Amend("e3.1", {"size_mm": 20.0}, "correction"))
    printed = _only(after, grade=Grade.UNSAFE, computed_grade=Grade.UNSAFE)
    assert "ranges" not in printed
    assert printed["size_mm"] == 20.0
    assert pocket.entry.ranges == {"size_mm": (10.0, 15.0)}
