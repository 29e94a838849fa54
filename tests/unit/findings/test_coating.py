"""The coating of each place, from the rusted shares that were said."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.entry import Add, Entry, Inspection, Kind, Withdraw
from voicelog.domain.grade import RuleSet
from voicelog.domain.rating import CoatingRating
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.coating import coatings
from voicelog.findings.ledger import Ledger

LEFT = ("mid-rail", "left")
Rate = Callable[..., CoatingRating | None]


@pytest.fixture
def rate(inspect: Callable[..., Inspection], zone_map: ZoneMap, make: Any) -> Rate:
    """The rating of the left mid rail after these remarks, each as slots."""

    def rate_remarks(*remarks: dict[str, Any]) -> CoatingRating | None:
        made = [make(**{"zone": "mid-rail", "side": "left", **slots}) for slots in remarks]
        return coatings(inspect(*made), zone_map).get(LEFT)

    return rate_remarks


def of(condition: str, percent: float, **more: Any) -> dict[str, Any]:
    """Slots of a remark."""
    return {"condition": condition, "area_percent": percent, **more}


@pytest.mark.parametrize(
    "condition", ["surface-rust", "rust-weep", "scale", "pitting", "delamination", "pack-rust"]
)
def test_rust_is_rated(condition: str, rate: Rate) -> None:
    """A twentieth of the surface: grade 4, nearest picture Ri 4."""
    rating = rate(of(condition, 5.0))
    assert rating is not None
    assert (rating.d610, rating.ri, rating.imo, rating.approximate) == (4, 4, "FAIR", True)


@pytest.mark.parametrize(
    "condition",
    ["blistering", "peeling-coating", "staining", "chipped-coating", "hole", "thinning"],
)
def test_what_is_no_rust_is_not(condition: str, rate: Rate) -> None:
    """Never of blistering or peeling."""
    assert rate(of(condition, 30.0)) is None


def test_the_same_rust_told_again_counts_once(rate: Rate) -> None:
    """The largest share, whichever came first."""
    for shares in ((2.0, 5.0), (5.0, 2.0)):
        assert rate(*(of("surface-rust", share) for share in shares)) == rate(
            of("surface-rust", 5.0)
        )


def test_rust_and_pits_of_one_face_add_up(rate: Rate) -> None:
    """To the whole surface at most."""
    both = rate(of("surface-rust", 12.0), of("pitting", 9.0))
    assert both == rate(of("surface-rust", 21.0))
    assert both is not None
    assert both.imo == "POOR"
    assert rate(of("surface-rust", 80.0), of("pitting", 70.0)) == rate(of("surface-rust", 100.0))


def test_of_several_faces_the_worst_counts(rate: Rate) -> None:
    """A share is one of its own face."""
    rating = rate(of("surface-rust", 2.0, face="top"), of("pitting", 15.0, face="bottom"))
    assert rating == rate(of("pitting", 15.0))


def test_hard_scale_and_edges_weigh_more_by_the_imo_table(rate: Rate) -> None:
    """A tenth of scale, or more than half of the edges, is POOR; the other scales know only area."""
    scaled, plain = rate(of("scale", 10.0)), rate(of("surface-rust", 10.0))
    assert scaled is not None
    assert plain is not None
    assert (scaled.imo, plain.imo) == ("POOR", "FAIR")
    assert (scaled.d610, scaled.ri) == (plain.d610, plain.ri)
    edges = rate(of("surface-rust", 1.0), of("surface-rust", 51.0, part="weld"))
    assert edges is not None
    assert (edges.d610, edges.imo) == (6, "POOR")


def test_edges_alone_rate_no_surface(rate: Rate) -> None:
    """Nobody said how much of the face is rusted."""
    assert rate(of("surface-rust", 40.0, part="seam")) is None


@pytest.mark.parametrize("share", [-1.0, 101.0, float("nan"), "half"])
def test_a_share_that_cannot_be_is_passed_over(share: object, rate: Rate) -> None:
    """A log of another program may hold it."""
    assert rate({"condition": "surface-rust", "area_percent": share}) is None


def test_both_sides_and_withdrawn(zone_map: ZoneMap, rules: RuleSet, make: Any) -> None:
    """One remark on both sides rates both; once withdrawn it rates none. A clear rates nothing."""
    ledger = Ledger(zone_map, rules, Rails.OPEN)
    entry: Entry = make(zone="mid-rail", side="both", condition="surface-rust", area_percent=0.5)
    clear: Entry = make(Kind.CLEAR, zone="sill", side="left", area_percent=3.0)
    ledger.apply([Add(entry), Add(clear)])
    rated = coatings(ledger.inspection(), zone_map)
    assert set(rated) == {LEFT, ("mid-rail", "right")}
    assert rated[LEFT] == CoatingRating(6, 2, rated[LEFT].imo)
    ledger.apply([Withdraw(entry.id)])
    assert coatings(ledger.inspection(), zone_map) == {}


def test_no_remark_on_edges_counts_for_edges_and_none_of_scale_for_scale(rate: Rate) -> None:
    """A little plain rust is in good condition; any hard scale at all is not."""
    for condition, imo in (("surface-rust", "GOOD"), ("scale", "FAIR")):
        rating = rate(of(condition, 0.5))
        assert rating is not None
        assert rating.imo == imo


def test_shares_of_one_face_add_up_to_all_of_it_and_no_further(rate: Rate) -> None:
    """More than the whole surface cannot be rusted."""
    rating = rate(of("surface-rust", 60.0), of("pitting", 70.0))
    assert rating is not None
    assert rating.rusted_percent == 100.0


def test_a_share_of_nothing_is_nothing(rate: Rate) -> None:
    """Somebody looked, and said so; on an edge as well."""
    rating = rate(of("surface-rust", 0.0), of("surface-rust", 0.0, part="edge"))
    assert rating is not None
    assert (rating.rusted_percent, rating.d610, rating.imo) == (0.0, 10, "GOOD")
