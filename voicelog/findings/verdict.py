"""The verdict: may it be driven, how much work is it, what could change that, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import Gap, Verdict
from voicelog.domain.zone import Rails, Role, ZoneMap
from voicelog.findings.coverage import Coverage, places
from voicelog.findings.drive import DO_NOT_DRIVE, drive
from voicelog.findings.facts_of import known_zone
from voicelog.findings.work import BEYOND, SURFACE, Work, work

STRUCTURE = (Role.LOAD_PATH, Role.CRITICAL, Role.SUPPORT, Role.CRUSH)
"""Roles whose metal holds the vehicle together."""

_WHY = {
    "not-seen": "not looked at",
    "cavity-not-seen": "with an inside that nobody saw",
    "not-probed": "looked at but not probed",
    "unproven": "with metal that was not reached",
    "doubtful": "to be listened to again",
}


def judge(
    findings: Sequence[Finding],
    coverage: Coverage,
    zone_map: ZoneMap,
    rails: Rails,
    limits: Mapping[str, float],
) -> Verdict:
    """The verdict over all live entries, each by the worse of its computed and its spoken grade.

    Args:
        findings: every entry, withdrawn ones included, in order.
        coverage: what was looked at.
        zone_map: the places.
        rails: how the rails are made.
        limits: the severity table's numbers.

    Returns:
        The verdict; ``because`` holds its reasons, the weightiest first, as plain sentences that
        end with the id of the entry they rest on, in parentheses, where there is one.
    """
    live = [finding for finding in findings if not finding.withdrawn]
    answer, dangers = drive(live, coverage, zone_map, rails)
    task, repairs = work(live, zone_map, limits)
    tier, standing = _tier(live, task, coverage, zone_map)
    if tier == "sound" and answer == DO_NOT_DRIVE:
        tier = "fair"
    because = (*dangers, *repairs, *standing, *_open(coverage.gaps), *_rails(zone_map, rails))
    return Verdict(answer, task, tier, coverage.gaps, because)


def _tier(
    live: Iterable[Finding], task: Work, coverage: Coverage, zone_map: ZoneMap
) -> tuple[str, tuple[str, ...]]:
    """The overall tier, and the reason where neither drive nor work gives it."""
    if task == BEYOND:
        return "beyond-repair", ()
    if task not in ("none", SURFACE):
        return "repairable", ()
    open_structure = [g for g in coverage.gaps if _is_structural(g, zone_map)]
    if task == "none" and not open_structure and _all_critical_probed(coverage, zone_map):
        return "sound", (
            "Every critical mounting was probed on both sides and every hidden cavity was seen "
            "inside; nothing worse than marks was found",
        )
    if not any(finding.entry.kind is Kind.FINDING for finding in live):
        return "fair", ("Nothing was found, and not enough was seen and probed to say more",)
    return "fair", ("Nothing that was found needs more than its surface treated",)


def _is_structural(gap: Gap, zone_map: ZoneMap) -> bool:
    """True for a gap in structure, or in a place that nobody knows."""
    zone = known_zone({"zone": gap.zone}, zone_map)
    return zone is None or zone.role in STRUCTURE


def _all_critical_probed(coverage: Coverage, zone_map: ZoneMap) -> bool:
    critical = [place for zone, place in places(zone_map) if zone.role is Role.CRITICAL]
    return bool(critical) and all(coverage.seen[place].probed for place in critical)


def _open(gaps: Sequence[Gap]) -> Iterator[str]:
    """One sentence for everything that could still change the verdict."""
    if not gaps:
        return
    counts = {why: sum(gap.why == why for gap in gaps) for why in _WHY}
    told = [f"{count} {_WHY[why]}" for why, count in counts.items() if count]
    yield f"Provisional, because places could still change it: {', '.join(told)}"


def _rails(zone_map: ZoneMap, rails: Rails) -> Iterator[str]:
    """Whether rails hide their insides is not known until somebody says how they are made."""
    boxed = (zone.may_hide_cavity(rails) for zone in zone_map.zones.values())
    hides = (zone.hides_cavity(rails) for zone in zone_map.zones.values())
    if rails is Rails.MIXED and any(
        may and not does for may, does in zip(boxed, hides, strict=True)
    ):
        yield (
            "Are the rails or cross members boxed? If they are, their insides have to be seen too"
        )
