"""Filters at the bench: what each lets through, what it hides, and that they stack."""

from __future__ import annotations

import time
from typing import Any

import pytest

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.zone import Cavity, Layout, Rails, Role, Zone, ZoneMap
from voicelog.review.sieve import Sieve, sift, words

MAP = ZoneMap(
    "small",
    "Small",
    {
        "front-rail": Zone(
            "front-rail", "Front rail", Role.LOAD_PATH, Layout.PAIR, Cavity.IF_BOXED
        ),
        "arm-mount": Zone("arm-mount", "Arm mount", Role.CRITICAL, Layout.PAIR, Cavity.ALWAYS),
        "rear-member": Zone("rear-member", "Rear cross member", Role.SUPPORT, Layout.ONE),
    },
)
ALL = Sieve(remarks=True)


def _found(n: int, grade: Grade | None = Grade.TREAT, **slots: Any) -> Finding:
    return _said(n, Kind.FINDING, grade=grade, slots={"condition": "surface-rust", **slots})


def _said(n: int, kind: Kind, *, slots: Any = None, grade: Any = None, **more: Any) -> Finding:
    withdrawn = more.pop("withdrawn", False)
    at = f"2026-03-14T09:05:{n % 60:02d}.250Z"
    entry = Entry(f"e{n}.1", f"u{n}", at, kind, dict(slots or {}), **more)
    return Finding(entry, grade=grade, computed_grade=grade, withdrawn=withdrawn)


def _shown(findings: list[Finding], sieve: Sieve, **more: Any) -> list[str]:
    return [finding.entry.id for finding in sift(findings, sieve, MAP, **more).shown]


def test_nothing_is_hidden_without_a_filter() -> None:
    """Withdrawn entries stay in sight, so that they can be restored."""
    findings = [_found(2), _said(3, Kind.REMARK), _said(4, Kind.CLEAR, withdrawn=True)]
    sifted = sift(findings, ALL, MAP)
    assert (sifted.shown, sifted.hidden, sifted.by) == (tuple(findings), 0, {})
    assert words(ALL, MAP) == ()


def test_idle_remarks_are_hidden_and_counted_unless_asked_for() -> None:
    """What is doubtful, unplaced or tagged is not idle: it asks for something."""
    findings = [
        _said(2, Kind.REMARK, text="mind the cable"),
        _said(3, Kind.REMARK, tags=("stored-damp",)),
        _said(4, Kind.REMARK, unplaced=True),
        _said(5, Kind.REMARK, doubts=("not understood",)),
        _said(6, Kind.CLEAR),
    ]
    sifted = sift(findings, Sieve(), MAP)
    assert [finding.entry.id for finding in sifted.shown] == ["e3.1", "e4.1", "e5.1", "e6.1"]
    assert (sifted.hidden, dict(sifted.by)) == (1, {"idle remarks left out": 1})


def test_filters_stack_and_each_tells_what_it_would_hide_alone() -> None:
    """Together they hide more than either, and no entry is counted twice in the whole."""
    findings = [
        _found(2, side="left"),
        _found(3, Grade.UNSAFE, side="left"),
        _found(4, Grade.UNSAFE, side="right"),
        _found(5, Grade.REPAIR, side="right"),
    ]
    sifted = sift(findings, Sieve(unsafe=True, side="left", remarks=True), MAP)
    assert [finding.entry.id for finding in sifted.shown] == ["e3.1"]
    assert sifted.hidden == 3
    assert dict(sifted.by) == {"only unsafe": 2, "only the left side": 2}


def test_doubtful_and_unsafe_ask_for_entries_that_hold() -> None:
    """What was withdrawn needs nobody; a fault without a place does."""
    findings = [
        _said(2, Kind.CLEAR, doubts=("which side",)),
        _said(3, Kind.CLEAR, doubts=("which side",), withdrawn=True),
        _said(4, Kind.FINDING, unplaced=True, grade=Grade.UNSAFE),
        _said(5, Kind.FINDING, grade=Grade.UNSAFE, withdrawn=True),
    ]
    assert _shown(findings, Sieve(doubtful=True)) == ["e2.1", "e4.1"]
    assert _shown(findings, Sieve(unsafe=True)) == ["e4.1"]
    assert _shown(findings, Sieve(withdrawn=False)) == ["e2.1", "e4.1"]


def test_both_sides_are_on_the_left_and_on_the_right() -> None:
    """A side that was not said is on none of them."""
    findings = [_found(2, side="left"), _found(3, side="both"), _found(4), _found(5, side="centre")]
    assert _shown(findings, Sieve(side="left")) == ["e2.1", "e3.1"]
    assert _shown(findings, Sieve(side="right")) == ["e3.1"]
    assert _shown(findings, Sieve(side="both")) == ["e3.1"]
    assert _shown(findings, Sieve(side="centre")) == ["e5.1"]


def test_a_zone_or_none_at_all_can_be_asked_for() -> None:
    """A zone that is on no map counts as no place, as it does in the gaps."""
    findings = [_found(2, zone="front-rail"), _found(3), _found(4, zone="roof-rack")]
    assert _shown(findings, Sieve(zone="front-rail")) == ["e2.1"]
    assert _shown(findings, Sieve(zone="unplaced")) == ["e3.1", "e4.1"]


def test_one_grade_can_be_asked_for() -> None:
    """The one that counts; entries without a grade have none."""
    findings = [_found(2, Grade.REPAIR), _found(3, Grade.UNSAFE), _said(4, Kind.CLEAR)]
    assert _shown(findings, Sieve(grade=Grade.REPAIR)) == ["e2.1"]


def test_what_was_touched_after_signing_can_be_asked_for() -> None:
    """The caller knows which entries these are."""
    findings = [_found(2), _found(3)]
    assert _shown(findings, Sieve(changed_after_signing=True), after={"e3.1"}) == ["e3.1"]
    assert _shown(findings, Sieve(changed_after_signing=True)) == []


@pytest.mark.parametrize(
    ("photo", "lacking"),
    [
        ({}, True),
        ({"zone": "arm-mount", "side": "right"}, False),
        ({"zone": "arm-mount", "side": "both"}, False),
        ({"zone": "arm-mount", "side": "left"}, True),
        ({"zone": "arm-mount"}, True),
        ({"zone": "rear-member"}, True),
    ],
)
def test_unsafe_entries_need_a_photo_of_their_place(photo: dict[str, str], lacking: bool) -> None:
    """Of the same zone and side; a photo whose side was not said shows neither."""
    unsafe = _found(2, Grade.UNSAFE, zone="arm-mount", side="right")
    findings = [
        unsafe,
        _found(3, zone="arm-mount", side="right"),
        _said(4, Kind.PHOTO, slots=photo),
    ]
    assert _shown(findings, Sieve(no_photo=True)) == (["e2.1"] if lacking else [])


def test_a_withdrawn_photo_is_none() -> None:
    """And a zone that comes once needs no side."""
    unsafe = _found(2, Grade.UNSAFE, zone="rear-member")
    photo = {"zone": "rear-member"}
    gone = _said(3, Kind.PHOTO, slots=photo, withdrawn=True)
    assert _shown([unsafe, gone], Sieve(no_photo=True)) == ["e2.1"]
    assert _shown([unsafe, _said(3, Kind.PHOTO, slots=photo)], Sieve(no_photo=True)) == []


def test_what_is_on_both_sides_needs_a_photo_of_each() -> None:
    """One of the left shows nothing of the right; a place not said can have none at all."""
    both = _found(2, Grade.UNSAFE, zone="front-rail", side="both")
    left = _said(3, Kind.PHOTO, slots={"zone": "front-rail", "side": "left"})
    right = _said(4, Kind.PHOTO, slots={"zone": "front-rail", "side": "right"})
    nowhere = _found(5, Grade.UNSAFE)
    assert _shown([both, left, nowhere], Sieve(no_photo=True)) == ["e2.1", "e5.1"]
    assert _shown([both, left, right, nowhere], Sieve(no_photo=True)) == ["e5.1"]


def test_what_was_found_inside_a_cavity_needs_a_photo() -> None:
    """Only where there is an inside: an open rail has none."""
    findings = [
        _found(2, zone="front-rail", side="left", face="interior"),
        _found(3, zone="rear-member", face="interior"),
        _found(4, zone="arm-mount", side="left", method="scoped"),
        _said(5, Kind.CLEAR, slots={"zone": "arm-mount", "side": "left", "face": "interior"}),
    ]
    assert _shown(findings, Sieve(no_photo=True)) == ["e2.1", "e4.1"]
    assert _shown(findings, Sieve(no_photo=True), rails=Rails.OPEN) == ["e4.1"]


@pytest.mark.parametrize(
    "text",
    ["SURFACE rust", "rust front", "left rail", "front-rail", "e2.1", "inside", "scrap", "  "],
)
def test_every_word_sought_must_occur_somewhere(text: str) -> None:
    """In words heard, place, condition, landmark or id, whatever the letters and the order."""
    entry = _said(
        2,
        Kind.FINDING,
        slots={"zone": "front-rail", "side": "left", "condition": "surface-rust"}
        | {"face": "interior"},
        text="front wail, scraped it",
    )
    assert _shown([entry], Sieve(text=text)) == ["e2.1"]
    assert _shown([entry], Sieve(text=f"{text} bolt")) == []


def test_reasons_doubts_and_tags_are_searched() -> None:
    """And what was said not to be there; letters beyond ASCII are folded too."""
    findings = [
        _said(2, Kind.NOT_SEEN, reason="Straße splash shield"),
        _said(3, Kind.REMARK, tags=("stored-damp",), doubts=("which rail",)),
        _said(4, Kind.CLEAR, absent=("crack",)),
    ]
    assert _shown(findings, Sieve(text="STRASSE")) == ["e2.1"]
    assert _shown(findings, Sieve(text="stored damp which")) == ["e3.1"]
    assert _shown(findings, Sieve(text="crack")) == ["e4.1"]


def test_filters_are_told_in_words() -> None:
    """Zones by their titles, hostile text inert and short, in the order of ``by``."""
    sieve = Sieve(
        True, True, True, True, False, False, "arm-mount", "both", Grade.REPAIR, "a\x1b b"
    )
    told = words(sieve, MAP)
    assert told == tuple(sift([_found(2)], sieve, MAP).by)
    assert "only arm mount" in told
    assert "only what is on both sides" in told
    assert "only with “a? b”" in told
    assert all(len(text) < 60 and text.isprintable() for text in words(Sieve(text="x" * 999), MAP))


def test_two_thousand_entries_are_sifted_between_two_keys() -> None:
    """All filters at once; the bound is ten times what it takes, for slow machines."""
    findings = [
        _found(n, Grade.UNSAFE, zone="arm-mount", side="left", face="interior")
        for n in range(2, 2002)
    ]
    sieve = Sieve(
        True, True, True, True, False, False, "arm-mount", "left", Grade.UNSAFE, "arm rust"
    )
    begun_s = time.perf_counter()
    sift(findings, sieve, MAP)
    assert time.perf_counter() - begun_s < 0.1
