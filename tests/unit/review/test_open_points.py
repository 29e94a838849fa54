"""What is unresolved before signing: every point a sentence, the worst first."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.grade import Gap, Grade, Verdict
from voicelog.domain.revision import OpenPoint
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Cavity, Layout, Role, Zone, ZoneMap
from voicelog.review.open_points import open_points
from voicelog.review.pictures import NOTHING

MAP = ZoneMap(
    "small",
    "Small",
    {
        "rail": Zone("rail", "Rail", Role.LOAD_PATH, Layout.PAIR, Cavity.ALWAYS),
        "arm-mount": Zone("arm-mount", "Arm mount", Role.CRITICAL, Layout.PAIR, Cavity.ALWAYS),
    },
)
LEFT: Slots = {"zone": "rail", "side": "left"}


def _place(slots: Slots) -> str:
    return f"{slots.get('side', 'some')} {slots.get('zone', 'place')}"


def _open(
    *findings: Finding,
    gaps: tuple[Gap, ...] = (),
    listened: frozenset[str] = frozenset(),
    silent: frozenset[str] = frozenset(),
    shown: Mapping[str, int] = NOTHING,
    softened: Mapping[str, Entry] = MappingProxyType({}),
) -> tuple[OpenPoint, ...]:
    verdict = Verdict("not-enough-seen", "none", "fair", gaps)
    found = Inspection(findings, {}, gaps, verdict)
    return open_points(
        found, MAP, listened=listened, place=_place, silent=silent, shown=shown, softened=softened
    )


def _said(n: int, kind: Kind, slots: Slots = LEFT, **more: Any) -> Finding:
    graded = {
        name: more.pop(name)
        for name in ("grade", "computed_grade", "spoken_grade", "withdrawn")
        if name in more
    }
    entry = Entry(f"e{n}.1", f"u{n}", "2026-03-14T09:05:30.250Z", kind, slots, **more)
    return Finding(entry, **graded)


def _graded(n: int, grade: Grade, slots: Slots = LEFT, **more: Any) -> Finding:
    hole = {**slots, "condition": "hole"}
    return _said(n, Kind.FINDING, hole, **{"grade": grade, "computed_grade": grade, **more})


def test_a_log_with_nothing_open_has_no_points() -> None:
    """An unsafe entry with its photo, a certain clear, an idle remark."""
    photo = _said(3, Kind.PHOTO)
    assert _open(_graded(2, Grade.UNSAFE), photo, _said(4, Kind.CLEAR), _said(5, Kind.REMARK)) == ()


def test_a_doubtful_entry_nobody_listened_to_is_open() -> None:
    """The sentence names place, fault, doubt and entry."""
    [point] = _open(_graded(2, Grade.TREAT, doubts=("which side was not said",)))
    assert point == OpenPoint(
        "doubtful",
        "Left rail: hole is doubtful and nobody has listened to it: which side was not said (e2.1)",
        "e2.1",
    )


def test_listening_alone_decides_nothing() -> None:
    """It stays open until it is confirmed, corrected or withdrawn, and is told otherwise."""
    doubtful = _graded(2, Grade.TREAT, doubts=("which side was not said",))
    [point] = _open(doubtful, listened=frozenset({"u2"}))
    assert "is doubtful still, though it was listened to" in point.text
    [typed] = _open(doubtful, silent=frozenset({"u2"}))
    assert "nobody has decided; it has no sound" in typed.text
    [other] = _open(doubtful, listened=frozenset({"u3"}))
    assert "nobody has listened" in other.text


def test_an_unsafe_entry_without_a_photo_is_open() -> None:
    """One of another side does not help, nor one that was withdrawn."""
    right = _said(3, Kind.PHOTO, {"zone": "rail", "side": "right"})
    gone = _said(4, Kind.PHOTO, withdrawn=True)
    [point] = _open(_graded(2, Grade.UNSAFE), right, gone)
    assert point.what == "unsafe-without-photo"
    assert point.text == "Left rail: hole is unsafe, and there is no photo of it (e2.1)"


def test_withdrawn_entries_leave_nothing_open() -> None:
    """Whatever they were."""
    gone = _graded(2, Grade.UNSAFE, doubts=("maybe",), spoken_grade=Grade.TREAT, withdrawn=True)
    assert _open(gone) == ()


def test_a_hidden_cavity_not_seen_is_open_with_its_reason() -> None:
    """Other gaps are for the verdict to tell."""
    gaps = (
        Gap("rail", "not-probed", "left"),
        Gap("rail", "cavity-not-seen", "left", "interior", "e3.1", "splash shield"),
        Gap("arm-mount", "cavity-not-seen", "right", "interior"),
    )
    assert [(point.text, point.entry) for point in _open(gaps=gaps)] == [
        ("Right arm-mount: nobody has seen its inside", None),
        ("Left rail: nobody has seen its inside (splash shield)", "e3.1"),
    ]


def test_a_grade_spoken_milder_than_the_rules_is_open() -> None:
    """Also where the computed one counts all the same; a harsher one is not."""
    milder = _graded(2, Grade.TREAT, computed_grade=Grade.REPAIR, spoken_grade=Grade.TREAT)
    kept = _graded(3, Grade.UNSAFE, spoken_grade=Grade.REPAIR)
    harsher = _graded(4, Grade.REPAIR, computed_grade=Grade.TREAT, spoken_grade=Grade.REPAIR)
    photo = _said(5, Kind.PHOTO)
    assert [(point.what, point.text) for point in _open(milder, kept, harsher, photo)] == [
        (
            "milder-than-computed",
            "Left rail: you called the hole repair, the rules give unsafe (e3.1)",
        ),
        (
            "milder-than-computed",
            "Left rail: you called the hole treat, the rules give repair (e2.1)",
        ),
    ]


def test_the_worst_come_first() -> None:
    """Unsafe, a critical cavity, repair, any cavity, treat, ungraded, remarks."""
    doubts = ("maybe",)
    points = _open(
        _said(2, Kind.REMARK, {}, text="something about a rail", doubts=doubts),
        _said(3, Kind.CLEAR, doubts=doubts),
        _graded(4, Grade.TREAT, doubts=doubts),
        _graded(5, Grade.REPAIR, doubts=doubts),
        _graded(6, Grade.UNSAFE),
        gaps=(Gap("rail", "cavity-not-seen", "left"), Gap("arm-mount", "cavity-not-seen", "left")),
    )
    told = [point.entry or point.text.split(":")[0] for point in points]
    assert told == ["e6.1", "Left arm-mount", "e5.1", "Left rail", "e4.1", "e3.1", "e2.1"]


def test_a_remark_without_a_place_is_named_by_its_words() -> None:
    """A fault without a place by what it is, and a place nobody said."""
    remark, unplaced = _open(
        _said(2, Kind.REMARK, {}, text="rest on the seal", doubts=("not understood",)),
        _said(3, Kind.FINDING, {"condition": "hole"}, unplaced=True),
    )[::-1]
    assert remark.text.startswith("“rest on the seal”: a remark is doubtful")
    assert unplaced.text.endswith("nobody has listened to it: its place was not said (e3.1)")


def test_hostile_text_is_inert_and_short() -> None:
    """Doubts and reasons can hold anything that was typed."""
    hostile = "\x1b[2J\u202e" * 200
    points = _open(
        _said(2, Kind.REMARK, {}, text=hostile, doubts=(hostile,)),
        _said(3, Kind.FINDING, {**LEFT, "condition": hostile}, doubts=(hostile,)),
        gaps=(Gap("rail", "cavity-not-seen", "left", reason=hostile),),
    )
    assert len(points) == 3
    assert all(point.text.isprintable() and len(point.text) < 400 for point in points)


def test_the_points_promise_nothing() -> None:
    """Words that only an authority may use are in no sentence."""
    points = _open(
        _graded(2, Grade.UNSAFE, spoken_grade=Grade.TREAT, doubts=("maybe",)),
        gaps=(Gap("rail", "cavity-not-seen", "left"),),
    )
    assert len(points) == 4
    words = set(re.findall("[a-z]+", " ".join(point.text.lower() for point in points)))
    assert not words & {"safe", "passed", "roadworthy", "certified", "guarantee"}


def test_a_picture_in_the_log_counts_like_a_claim() -> None:
    """Of this very entry; one on both sides needs two, and one without a side has one."""
    one, both = _graded(2, Grade.UNSAFE), _graded(3, Grade.UNSAFE, {**LEFT, "side": "both"})
    unsure = _graded(4, Grade.UNSAFE, {"zone": "rail"})
    assert [point.entry for point in _open(one, both, unsure)] == ["e2.1", "e3.1", "e4.1"]
    assert [point.entry for point in _open(one, both, shown={"e2.1": 1, "e3.1": 1})] == ["e3.1"]
    assert _open(one, both, unsure, shown={"e2.1": 1, "e3.1": 2, "e4.1": 1}) == ()


def test_what_was_unsafe_is_open_until_its_change_is_confirmed() -> None:
    """A correction by voice asks for no reason, and the bench is where it is looked at again."""
    before = _graded(2, Grade.UNSAFE, {"zone": "arm-mount", "side": "left"}).entry
    milder, gone = _graded(2, Grade.REPAIR), _graded(2, Grade.UNSAFE, withdrawn=True)
    [point] = _open(milder, softened={"e2.1": before})
    assert point == OpenPoint(
        "was-unsafe",
        "Left rail: hole was unsafe before, as left arm-mount, hole; nobody has confirmed the change "
        "(e2.1)",
        "e2.1",
    )
    [point] = _open(gone, softened={"e2.1": before})
    assert "hole was unsafe and is withdrawn; nobody has confirmed that" in point.text


def test_what_was_unsafe_stands_among_the_unsafe() -> None:
    """It may still be: before what is only doubtful and milder."""
    before = _graded(2, Grade.UNSAFE).entry
    doubtful = _graded(3, Grade.TREAT, doubts=("faint",))
    points = _open(doubtful, _graded(2, Grade.COSMETIC), softened={"e2.1": before})
    assert [point.what for point in points] == ["was-unsafe", "doubtful"]
