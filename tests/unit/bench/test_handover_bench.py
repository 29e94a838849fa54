"""The bench of the hand-over: walks are the same in every run, and each picture is judged as it is."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import handover
import photo_table
import pytest
import walks
from own import shipped
from walks import CLAIM, NO_CLAIM, OTHER_DAY, RIGHT, UNMATCHED, WRONG, Picture, Walk

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.slot import Slots
from voicelog.review.photo_clock import Shot
from voicelog.runtime.logs import open_log

SAID = (
    "left front rail, surface rust", "right cab mount, hole", "left sill, scale",
    "steering box mount, clean", "right shock mount, crack", "brake line on the left, leaking",
) * 3  # fmt: skip
LEFT: Slots = {"zone": "front-rail", "side": "left"}
RIGHT_RAIL: Slots = {"zone": "front-rail", "side": "right"}


@pytest.fixture(scope="module")
def walked() -> Walk:
    """One with pictures of every kind."""
    return walks.walk(1, SAID, shipped())


def entry(at_s: float, slots: Slots, kind: Kind = Kind.FINDING) -> Entry:
    """Said so many seconds into the walk."""
    at = walks.BEGUN + timedelta(seconds=at_s)
    return Entry(f"e{at_s:g}.1", f"u{at_s:g}", at.isoformat(), kind, slots)


def picture(at_s: float, shows: Entry | None, kind: str = CLAIM) -> Picture:
    """Taken so many seconds into the walk."""
    return Picture(Shot(f"{at_s:g}.jpg", walks.BEGUN + timedelta(seconds=at_s)), kind, shows)


def only(way: str, one: Walk) -> Counter[tuple[str, str]]:
    """What one way made of a walk."""
    return walks.scored(one, walks.WAYS[way], shipped().zone_map)


def test_a_walk_is_the_same_in_every_run(walked: Walk) -> None:
    """And another one for another seed."""
    assert walks.walk(1, SAID, shipped()) == walked
    assert walks.walk(2, SAID, shipped()).pictures != walked.pictures


def test_a_walk_has_pictures_of_every_kind(walked: Walk) -> None:
    """Each with a name of its own, and with what it shows unless it is of another day."""
    assert {p.kind for p in walked.pictures} == {CLAIM, NO_CLAIM, OTHER_DAY}
    assert len({p.shot.name for p in walked.pictures}) == len(walked.pictures)
    known = {f.entry.id for f in walked.findings}
    for one in walked.pictures:
        assert (one.shows is None) is (one.kind == OTHER_DAY)
        assert one.shows is None or one.shows.id in known
        assert one.shows is None or (one.shows.kind is Kind.PHOTO) is (one.kind == CLAIM)


def test_no_two_things_are_shot_at_once(walked: Walk) -> None:
    """One camera: what was announced first is done before the next thing is taken."""
    by_time = sorted(
        (p for p in walked.pictures if p.shows), key=lambda p: (p.shot.taken, p.shot.name)
    )
    order = [p.shows.id for p in by_time if p.shows]
    groups = [name for n, name in enumerate(order) if n == 0 or order[n - 1] != name]
    assert len(groups) == len(set(groups))


def test_only_places_are_said_of_the_demo() -> None:
    """No chatter, commands, corrections or claims."""
    said = [("left rail, rust", False), ("turn it down", True), ("take a photo of that", False),
            ("logbook, stand by", False), ("disregard that", False)]  # fmt: skip
    manifest = {"utterances": [{"text": text, "chatter": chatter} for text, chatter in said]}
    assert walks.sentences(manifest) == ["left rail, rust"]


@pytest.mark.parametrize(
    ("shown", "what"),
    [
        ((), UNMATCHED),
        ((entry(0, LEFT),), RIGHT),
        ((entry(9, LEFT, Kind.PHOTO),), RIGHT),
        ((entry(9, {**LEFT, "side": "both"}),), RIGHT),
        ((entry(9, RIGHT_RAIL),), WRONG),
        ((entry(9, RIGHT_RAIL), entry(0, LEFT)), WRONG),
    ],
)
def test_right_is_the_entry_or_its_place(shown: tuple[Entry, ...], what: str) -> None:
    """The likeliest counts, not what else is told."""
    assert walks.judged(picture(3, entry(0, LEFT)), shown, shipped().zone_map) == what


def test_an_entry_without_a_side_is_only_itself() -> None:
    """Nobody knows which of two places it is."""
    unsided = entry(0, {"zone": "front-rail"})
    zone_map = shipped().zone_map
    assert walks.judged(picture(3, unsided), (unsided,), zone_map) == RIGHT
    assert walks.judged(picture(3, unsided), (entry(9, LEFT),), zone_map) == WRONG


def test_a_picture_of_another_day_is_right_where_it_is_left_alone() -> None:
    """Whatever it is taken to show is wrong."""
    far = picture(90_000, None, OTHER_DAY)
    assert walks.judged(far, (), shipped().zone_map) == RIGHT
    assert walks.judged(far, (entry(0, LEFT),), shipped().zone_map) == WRONG


def test_the_ways_differ_where_another_place_is_spoken_of_before_the_shot() -> None:
    """What was announced is known to voicelog alone; what was withdrawn is nobody's."""
    claim, other = entry(0, LEFT, Kind.PHOTO), entry(10, RIGHT_RAIL)
    gone = Finding(entry(12, {"zone": "sill", "side": "left"}), withdrawn=True)
    one = Walk((Finding(claim), Finding(other), gone), (picture(13, claim),))
    assert only("voicelog", one) == {(CLAIM, RIGHT): 1}
    assert only("entry nearest in time", one) == {(CLAIM, WRONG): 1}
    assert only("entry spoken last", one) == {(CLAIM, WRONG): 1}


def test_the_plain_ways_differ_before_the_next_entry() -> None:
    """Nearest looks ahead, last does not; neither looks further than the matching."""
    first, second = entry(0, LEFT), entry(10, RIGHT_RAIL)
    one = Walk((Finding(first), Finding(second)), (picture(8, first, NO_CLAIM),))
    assert only("entry nearest in time", one) == {(NO_CLAIM, WRONG): 1}
    assert only("entry spoken last", one) == {(NO_CLAIM, RIGHT): 1}
    late = replace(one, pictures=(picture(walks.REACH_S + 11, second),))
    assert only("entry nearest in time", late) == only("entry spoken last", late)
    assert only("entry spoken last", late) == {(CLAIM, UNMATCHED): 1}


def test_one_picture_puts_the_clock_right_but_for_its_own_delay() -> None:
    """The first one after a claim was taken four seconds after it, one less than usual."""
    claim = entry(20, LEFT, Kind.PHOTO)
    one = Walk((Finding(claim),), (picture(40, claim), picture(24, claim), picture(35, claim)))
    read = walks.calibrated(walks.off(one, 150))
    assert [p.shot.taken for p in read.pictures] == [
        p.shot.taken + timedelta(seconds=1) for p in one.pictures if p.shot.taken
    ]


def test_without_a_claim_nothing_puts_the_clock_right() -> None:
    """Neither a picture nor a proposal."""
    one = walks.off(Walk((), (picture(5, entry(0, LEFT), NO_CLAIM),)), 150)
    assert walks.calibrated(one) == walks.as_proposed(one) == one


def test_a_proposed_difference_is_taken() -> None:
    """Four claims, each with its shot five seconds later."""
    claims = [entry(at, LEFT, Kind.PHOTO) for at in (0, 70, 190, 333)]
    shots = tuple(picture(at + 5, c) for at, c in zip((0, 70, 190, 333), claims, strict=True))
    one = Walk(tuple(map(Finding, claims)), shots)
    assert walks.as_proposed(walks.off(one, 150)) == one


def test_the_share_right_is_of_all_pictures() -> None:
    """Those of other days among them; nothing at all is no fault."""
    found = Counter({(CLAIM, RIGHT): 2, (NO_CLAIM, WRONG): 1, (OTHER_DAY, RIGHT): 1})
    assert photo_table.right_share(found) == 0.75
    assert photo_table.right_share(Counter()) == 0


def test_the_table_has_a_column_for_each_way(walked: Walk) -> None:
    """Three kinds and the median for each clock."""
    rows: list[list[str]] = list(photo_table.photo_rows([walked, walked], shipped().zone_map))
    assert len(rows) == 4 * len(photo_table.CLOCKS)
    assert {len(row) for row in rows} == {1 + len(walks.WAYS)}


def test_both_ways_to_find_what_could_change_the_verdict_agree(
    tmp_path: Path, monkeypatch: Any
) -> None:
    """There is something to find, and the row tells how much."""
    monkeypatch.setattr(handover, "TIMES", 1)
    said = handover.many_findings(shipped(), 6, handover.MILD)
    opened = open_log(handover.write_log(tmp_path, said))
    count, *_ = handover.what_if_row(opened)
    assert int(count) == sum(handover.folded_again(opened)) > 10


def test_every_sentence_is_a_finding_on_another_place(tmp_path: Path) -> None:
    """As the reader reads it."""
    opened = open_log(handover.write_log(tmp_path, handover.many_findings(shipped(), 40)))
    found = [f.entry for f in opened.inspection.live if f.entry.kind is Kind.FINDING]
    assert len({(e.slots["zone"], e.slots.get("side")) for e in found}) == 40
