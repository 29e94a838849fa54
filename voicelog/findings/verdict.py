"""The verdict: may it be driven, how much work is it, what could change that, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import Gap, Verdict
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.coverage import Coverage, places
from voicelog.findings.drive import drive
from voicelog.findings.facts_of import DEFAULT_LIMITS, known_zone
from voicelog.findings.tasks import STRUCTURE, tasks_of
from voicelog.findings.work import BEYOND, NONE, SURFACE, Work, work
from voicelog.tongue import joined, to_word, worded

SOUND = "sound"
FAIR = "fair"
REPAIRABLE = "repairable"
BEYOND_REPAIR = "beyond-repair"
UNKNOWN = "unknown"

_WHY = {
    "not-seen": to_word("{count} not looked at"),
    "cavity-not-seen": to_word("{count} with an inside that nobody saw"),
    "not-probed": to_word("{count} looked at but not probed"),
    "unproven": to_word("{count} with metal that was not reached"),
    "doubtful": to_word("{count} to be listened to again"),
}


def judge(
    findings: Sequence[Finding],
    coverage: Coverage,
    zone_map: ZoneMap,
    rails: Rails,
    limits: Mapping[str, float],
    lost: Sequence[int] = (),
) -> Verdict:
    """The verdict over all live entries, each by the worse of its computed and its spoken grade.

    Args:
        findings: every entry, withdrawn ones included, in order.
        coverage: what was looked at.
        zone_map: the places.
        rails: how the rails are made.
        limits: the severity table's numbers.
        lost: numbers of the lines of the log that could not be recovered.

    Returns:
        The verdict; ``because`` holds its reasons, the weightiest first, as plain sentences that
        end with the id of the entry they rest on, in parentheses, where there is one.
    """
    live = [finding for finding in findings if not finding.withdrawn]
    tasks = tuple(tasks_of(live, zone_map, limits))
    answer, dangers = drive(live, tasks, coverage, zone_map, rails, lost)
    task, repairs = work(live, tasks, zone_map, limits)
    tier = tier_of(task, coverage, zone_map, limits, lost)
    because = (
        *dangers,
        *repairs,
        *_standing(tier, live, coverage, zone_map, lost),
        *_open(coverage.gaps),
        *_rails(coverage, zone_map, rails),
    )
    return Verdict(answer, task, tier, coverage.gaps, because)


def tier_of(
    task: Work,
    coverage: Coverage,
    zone_map: ZoneMap,
    limits: Mapping[str, float],
    lost: Sequence[int],
) -> str:
    """The overall tier.

    While nothing needs repair and less of the structural places has been looked at than the limit
    ``tier_places_percent`` says (50 as shipped: ours), it is *unknown*: nothing found is not much where
    nobody looked. Nor is it where lines of the log are lost.

    Args:
        task: the amount of work.
        coverage: what was looked at, and what is open.
        zone_map: the places.
        limits: the severity table's numbers.
        lost: numbers of the lines of the log that could not be recovered.
    """
    if by_work := tier_of_work(task):
        return by_work
    if lost:
        return UNKNOWN
    looked, places_there = structure_looked_at(coverage, zone_map)
    if looked * 100 < {**DEFAULT_LIMITS, **limits}["tier_places_percent"] * places_there:
        return UNKNOWN
    if task == NONE and not any(is_weighty(gap, zone_map) for gap in coverage.gaps):
        return SOUND
    return FAIR


def tier_of_work(task: Work) -> str:
    """The tier where the amount of work alone decides it; empty where it depends on what was seen."""
    if task == BEYOND:
        return BEYOND_REPAIR
    return "" if task in (NONE, SURFACE) else REPAIRABLE


def structure_looked_at(coverage: Coverage, zone_map: ZoneMap) -> tuple[int, int]:
    """How many structural places were looked at, and how many there are."""
    structural = [place for zone, place in places(zone_map) if zone.role in STRUCTURE]
    return sum(coverage.seen[place].looked for place in structural), len(structural)


def _standing(
    tier: str,
    live: Iterable[Finding],
    coverage: Coverage,
    zone_map: ZoneMap,
    lost: Sequence[int],
) -> tuple[str, ...]:
    """The reason for the tier where neither drive nor work gives it."""
    if tier == UNKNOWN and lost:
        return (worded("Too much is lost to call the frame: the log was damaged"),)
    if tier == UNKNOWN:
        looked, there = structure_looked_at(coverage, zone_map)
        return (
            worded(
                "Too little seen to call the frame: {looked} of {there} structural places looked at",
                looked=looked,
                there=there,
            ),
        )
    if tier == SOUND:
        return (
            worded(
                "Every critical mounting was probed on both sides and every hidden cavity was seen "
                "inside; nothing worse than marks was found"
            ),
        )
    if tier != FAIR:
        return ()
    if not any(finding.entry.kind is Kind.FINDING for finding in live):
        return (worded("Nothing was found, and not enough was seen and probed to say more"),)
    return (worded("Nothing that was found needs more than its surface treated"),)


def is_weighty(gap: Gap, zone_map: ZoneMap) -> bool:
    """True for a gap that keeps a frame from being called sound.

    That is any gap in structure, a cavity anywhere, and a place that nobody knows. A critical
    mounting that was not probed is such a gap.
    """
    zone = known_zone({"zone": gap.zone}, zone_map)
    return zone is None or zone.role in STRUCTURE or gap.why == "cavity-not-seen"


def _open(gaps: Sequence[Gap]) -> Iterator[str]:
    """One sentence for everything that could still change the verdict."""
    if not gaps:
        return
    counts = {why: sum(gap.why == why for gap in gaps) for why in _WHY}
    told = [worded(_WHY[why], count=count) for why, count in counts.items() if count]
    yield worded(
        "Provisional, because places could still change it: {places}", places=joined(", ", told)
    )


def _rails(coverage: Coverage, zone_map: ZoneMap, rails: Rails) -> Iterator[str]:
    """Whether a rail hides its inside is not known until somebody says how it is made."""
    if any(
        zone.may_hide_cavity(rails) and coverage.seen[place].inside is None
        for zone, place in places(zone_map)
    ):
        yield worded(
            "Are the rails or cross members boxed? If they are, their insides have to be seen too"
        )
