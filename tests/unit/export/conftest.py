"""One inspection of our own, folded by hand: the ladder frame of a utility pickup, then reviewed.

So each test knows what goes in; the published examples come out of a real run (``shared/examples/make.py``).
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Finding,
    Inspection,
    Kind,
    Question,
    Replace,
    Restore,
    Seen,
    Withdraw,
)
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Gap, Grade, Verdict
from voicelog.domain.heard import Heard, Hypothesis, Word, heard_to_json
from voicelog.journal.lines import encode
from voicelog.runtime.utterance_fact import grades_told

sys.path.insert(0, str(Path(__file__).parent))

VALID = Path(__file__).parents[3] / "shared" / "examples" / "valid"

HEARD = {
    2: "left front rail, surface rust, scraped it, metal is firm",
    3: "right control arm mount, inside the pocket, hole ten to fifteen mil, goes through",
    4: "left mid rail thickness one point nine, new is two point five",
    5: "left kick up, surface rust",
    6: "scraper went through it",
    7: "gearbox cross member clean, no holes, no cracks, tapped it, rings true",
    8: "not seen, left control arm mount, inside, splash shield in the way",
    9: "photo, right control arm mount, inside",
    10: "owner says it stood on grass for ten years",
    11: "the rail on the right is pitted",
    12: "tow hitch, crack",
    13: "disregard",
    14: "right bed mount, surface rust, call it a repair",
    15: "i spell vin one m eight g d m five a x k p zero four two seven eight eight",
}
"""What was said, by the number of its fact."""


def _at(seq: int) -> str:
    return f"2026-03-14T09:{5 + seq // 4:02d}:{seq % 4 * 15:02d}.250Z"


def _entry(seq: int, kind: Kind, slots: Mapping[str, Any], **more: Any) -> Entry:
    return Entry(f"e{seq}.1", f"u{seq}", _at(seq), kind, dict(slots), HEARD[seq], **more)


def _found(seq: int, zone: str, side: str, condition: str, **slots: Any) -> Entry:
    place = {"zone": zone, "side": side}
    return _entry(seq, Kind.FINDING, {**place, "condition": condition, **slots})


RAIL = _found(
    2, "front-rail", "left", "surface-rust", layer="metal", probe="firm", method="scraped"
)
POCKET = replace(
    _found(3, "control-arm-mount", "right", "hole", face="interior", probe="through", size_mm=15),
    ranges={"size_mm": (10.0, 15.0)},
)
THIN = _found(4, "mid-rail", "left", "thinning", method="gauged", thickness_mm=1.9, nominal_mm=2.5)
HUMP = _found(5, "kick-up", "left", "surface-rust")
HUMP_PROBED = _found(5, "kick-up", "left", "hole", probe="through", method="scraped")
CLEAR = _entry(
    7,
    Kind.CLEAR,
    {"zone": "gearbox-cross-member", "probe": "firm", "method": "tapped"},
    absent=("hole", "crack"),
)
NOT_SEEN = _entry(
    8,
    Kind.NOT_SEEN,
    {"zone": "control-arm-mount", "side": "left", "face": "interior"},
    reason="splash shield in the way",
)
PHOTO = _entry(9, Kind.PHOTO, {"zone": "control-arm-mount", "side": "right", "face": "interior"})
REMARK = _entry(10, Kind.REMARK, {}, tags=("stored-damp",))
WHICH_RAIL = _entry(
    11,
    Kind.FINDING,
    {"side": "right", "condition": "pitting"},
    doubts=("which rail was not said",),
    questions=(Question("zone", ("front-rail", "mid-rail", "rear-rail")),),
    runner_up={"side": "right", "condition": "pitting", "probe": "dents"},
)
HITCH = _entry(12, Kind.FINDING, {"zone": "tow-hitch", "condition": "crack"})
DENTED = replace(
    WHICH_RAIL, slots={"side": "right", "condition": "pitting", "probe": "dents"}, runner_up={}
)
VIN = _entry(
    15,
    Kind.REMARK,
    {"vin": "1M8GDM5AXKP042788"},
    tags=("spelt", "vin"),
    doubts=("position 9 is X, the other characters ask for 2",),
    questions=(Question("vin", ("1M8GDM9AXKP042788", "1MBGDM5AXKP042788", "1M8GDM5AXKP042788")),),
)
BED = _found(14, "bed-mount", "right", "surface-rust", spoken_grade="repair")

CHANGES: dict[int, Change] = {
    int(entry.utterance[1:]): Add(entry)
    for entry in (
        RAIL,
        POCKET,
        THIN,
        HUMP,
        CLEAR,
        NOT_SEEN,
        PHOTO,
        REMARK,
        WHICH_RAIL,
        HITCH,
        BED,
        VIN,
    )
}
CHANGES[6] = Amend("e5.1", {"condition": "hole", "probe": "through", "method": "scraped"}, "probe")
CHANGES[13] = Withdraw("e12.1")
RUNNERS_UP: dict[int, Change] = {11: Add(DENTED)}

GAPS = (
    Gap("control-arm-mount", "cavity-not-seen", "left", "interior", "e8.1", NOT_SEEN.reason),
    Gap("steering-box-mount", "not-seen"),
    Gap("bed-mount", "not-probed", side="right", entry="e14.1"),
)


AT_MOUNTING = ("hole", "probe-failed", "probe-failed-at-mounting", "rot-at-mounting")


def _graded(entry: Entry, grade: Grade, *rules: str, **more: Any) -> Finding:
    return Finding(entry, grade=grade, computed_grade=grade, rules=rules, **more)


def make_inspection() -> Inspection:
    """The scenario, folded."""
    findings = (
        _graded(RAIL, Grade.COSMETIC, "marks-on-structure"),
        _graded(POCKET, Grade.UNSAFE, *AT_MOUNTING, cautions=("Do not drive or tow the vehicle.",)),
        _graded(THIN, Grade.TREAT, "thinning-measured", "wall-loss-watch"),
        _graded(
            HUMP_PROBED, Grade.REPAIR, "hole", "probe-failed", "rail-distance-open", history=(HUMP,)
        ),
        Finding(CLEAR),
        Finding(NOT_SEEN),
        Finding(PHOTO),
        Finding(REMARK),
        _graded(WHICH_RAIL, Grade.REPAIR, "scale", unproven=True),
        _graded(HITCH, Grade.UNSAFE, "crack-at-mounting", withdrawn=True),
        Finding(
            BED,
            grade=Grade.REPAIR,
            computed_grade=Grade.COSMETIC,
            spoken_grade=Grade.REPAIR,
            rules=("marks-on-structure",),
            unproven=True,
        ),
        Finding(VIN),
    )
    coverage = {
        ("front-rail", "left"): Seen(looked=True, probed=True, inside=None, photo=False),
        ("gearbox-cross-member", None): Seen(True, True, None, False),
        ("control-arm-mount", "left"): Seen(False, False, False, False),
        ("control-arm-mount", "right"): Seen(True, True, True, True),
    }
    because = (
        "A hole in the right control arm mount, a critical mounting, is unsafe.",
        "The hole in the left kick up is local and can be repaired if the metal round it is solid.",
    )
    verdict = Verdict("do-not-drive", "local", "repairable", GAPS, because)
    return Inspection(findings, coverage, GAPS, verdict)


def _next(before: tuple[Fact, ...], type_: str, body: Mapping[str, Any]) -> tuple[Fact, ...]:
    """The facts with one more, chained to the line before it."""
    seq = len(before) + 1
    prev = hashlib.sha256(encode(before[-1])).hexdigest() if before else "0" * 64
    return (*before, Fact(seq, _at(seq), round((seq - 1) * 15.25, 3), prev, type_, body))


def make_facts() -> tuple[Fact, ...]:
    """The scenario's journal: opened, fourteen utterances, a gap, closed."""
    opened = {
        "log_id": "3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11",
        "program": "voicelog 0.1.0",
        "format": 1,
        "subject": "utility pickup, tray removed",
        "map": "ladder-frame",
        "rails": "mixed",
        "ear": "typed",
        "created": "2026-03-14T10:05:15.250+01:00",
        "utc_offset_min": 60,
        "grammar": {"rules/frame.toml": hashlib.sha256(b"rules").hexdigest()},
        "settings": {"nearside": "left", "mil": "millimetre", "overlays": []},
        "vehicle": {"stood": "lift", "refusals": [{"what": "covers"}]},
    }
    facts = _next((), "opened", opened)
    for seq, text in HEARD.items():
        facts = _next(facts, "utterance", _utterance(seq, text))
    facts = _next(facts, "gap", {"why": "the microphone headset gave nothing", "lost_s": 2.5})
    return _next(facts, "closed", {})


BENCH = {
    21: "right cab mount, surface rust, call it a repair",
}
"""What was said again at the bench, by the number of its fact."""

CERTAIN = replace(
    WHICH_RAIL, slots={**WHICH_RAIL.slots, "zone": "mid-rail"}, doubts=(), questions=()
)
CAB = replace(BED, slots={**BED.slots, "zone": "cab-mount"}, text=BENCH[21])
HUMP_MEASURED = replace(HUMP_PROBED, slots={**HUMP_PROBED.slots, "size_mm": 20.0})


def make_reviewed() -> Inspection:
    """The scenario as it stands after the bench, folded."""
    before = make_inspection()
    now = {
        "e5.1": (HUMP_MEASURED, {}),
        "e11.1": (CERTAIN, {"grade": Grade.REPAIR, "rules": ("scale",)}),
        "e14.1": (CAB, {}),
    }
    findings = [
        replace(found, entry=now[name][0], history=(*found.history, found.entry), **now[name][1])
        if (name := found.entry.id) in now
        else found
        for found in before.findings
    ]
    gaps = (*GAPS[:2], replace(GAPS[2], zone="cab-mount"))
    verdict = replace(before.verdict, could_change=gaps)
    return replace(before, findings=tuple(findings), gaps=gaps, verdict=verdict)


def make_reviewed_facts() -> tuple[Fact, ...]:
    """The scenario's journal, reviewed: listened to, corrected, signed, and changed after that."""
    facts = make_facts()
    by = {"by": "inspector"}
    place = Amend("e11.1", {"zone": "mid-rail"}, "correction", doubts=(), questions=())
    size = Amend("e5.1", {"size_mm": 20.0}, "correction")
    facts = _next(facts, "listened", {"utterance": "u11", **by})
    facts = _next(facts, "revised", {"did": "correct", **by, **_changed("e11.1", place)})
    facts = _next(facts, "listened", {"utterance": "u14", **by})
    facts = _next(facts, "revised", {**by, **_said_again(21), **_changed("e14.1", Replace(CAB))})
    facts = _next(facts, "learned", {**_LEARNED, **by})
    gone = {"did": "withdraw", **by, "why": "told of another vehicle"}
    facts = _next(facts, "revised", {**gone, "changes": [change_to_json(Withdraw("e10.1"))]})
    back = {"did": "undo", "of": 23, **by, "changes": [change_to_json(Restore("e10.1"))]}
    facts = _next(facts, "revised", back)
    facts = _next(facts, "signed", {**by, **_signed(facts)})
    why = {"why": "measured again with a gauge"}
    return _next(facts, "revised", {"did": "correct", **by, **why, **_changed("e5.1", size)})


_LEARNED = {
    "heard": "bed mount",
    "slot": "zone",
    "value": "cab-mount",
    "say": "cab mount",
    "for": "person",
    "entry": "e14.1",
}


def _changed(entry: str, change: Change) -> dict[str, Any]:
    """A change and the grade it gave."""
    graded = grades_told(f for f in make_reviewed().findings if f.entry.id == entry)
    return {"changes": [change_to_json(change)], "graded": graded}


def _said_again(seq: int) -> dict[str, Any]:
    """A sentence spoken anew at the bench."""
    said = _sound(seq, BENCH[seq])
    return {"did": "reread", "why": "misheard", **said, "heard": heard_to_json(_heard(BENCH[seq]))}


def _heard(text: str) -> Heard:
    return Heard((Hypothesis(text, -0.5, tuple(Word(word) for word in text.split())),), "built-in")


def _signed(before: tuple[Fact, ...]) -> dict[str, Any]:
    """What a signature says of the lines before it."""
    whole = b"".join(encode(fact) + b"\n" for fact in before)
    return {
        "lines": len(before),
        "sha256": hashlib.sha256(whole).hexdigest(),
        "open": ["Left control arm mount: nobody has seen its inside (splash shield in the way)"],
        "why": "the splash shield stays on until the buyer agrees",
    }


def _sound(seq: int, text: str) -> dict[str, Any]:
    """The utterance's id and its clip."""
    clip = {
        "file": f"clips/u{seq}.flac",
        "sha256": hashlib.sha256(text.encode()).hexdigest(),
        "start_s": seq * 15.0,
        "duration_s": 4.5,
        "samples": 72000,
    }
    return {"utterance": f"u{seq}", "clip": clip}


def _reading(seq: int, text: str) -> dict[str, Any]:
    reading: dict[str, Any] = {"text": text, "score": 0.97, "margin": 0.4}
    if seq in RUNNERS_UP:
        reading |= {"margin": 0.02, "runner_up": [change_to_json(RUNNERS_UP[seq])]}
    return reading


def _utterance(seq: int, text: str) -> dict[str, Any]:
    return {
        **_sound(seq, text),
        "heard": heard_to_json(Heard.typed(text)),
        "reading": _reading(seq, text),
        "changes": [change_to_json(CHANGES[seq])],
        **({"graded": graded} if (graded := _told(seq)) else {}),
    }


def _told(seq: int) -> dict[str, Any]:
    """The grade of the entry that the utterance made, as it was told."""
    made = [f for f in make_inspection().findings if f.entry.utterance == f"u{seq}"]
    return grades_told(made)


@pytest.fixture
def inspection() -> Inspection:
    """The scenario, folded."""
    return make_inspection()


@pytest.fixture
def facts() -> tuple[Fact, ...]:
    """The scenario's journal."""
    return make_facts()


@pytest.fixture
def reviewed() -> Inspection:
    """The scenario after the bench, folded."""
    return make_reviewed()


@pytest.fixture
def reviewed_facts() -> tuple[Fact, ...]:
    """The scenario's journal after the bench."""
    return make_reviewed_facts()


@pytest.fixture
def journal_bytes() -> bytes:
    """The published ``journal.jsonl``."""
    return (VALID / "journal.jsonl").read_bytes()


@pytest.fixture
def examples() -> dict[str, dict[str, Any]]:
    """File name to document, as they are published."""
    return {path.name: json.loads(path.read_text("utf-8")) for path in VALID.glob("*.json")}
