"""What is still unseen, in words and by weight: what could change the verdict most comes first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import islice

from voicelog.domain.grade import Gap
from voicelog.domain.inert import inert
from voicelog.domain.zone import Role, ZoneMap
from voicelog.findings.places import place_in_words
from voicelog.tongue import both, joined, to_word, worded, worded_many

_WHYS = {
    "cavity-not-seen": to_word("inside not seen"),
    "not-seen": to_word("not looked at"),
    "not-probed": to_word("not probed"),
    "unproven": to_word("metal not reached"),
    "doubtful": to_word("listen again"),
}
_ROLES = (
    Role.CRITICAL, Role.LOAD_PATH, Role.CRUSH, Role.FLUID_LINE, Role.SUPPORT, Role.PANEL,
    Role.ATTACHED,
)  # fmt: skip
"""By what hangs on the metal. The order is ours."""


def by_weight(gaps: Iterable[Gap], zone_map: ZoneMap) -> list[Gap]:
    """The gaps, the weightiest first: critical mountings, cavities, then the rest."""
    return sorted(gaps, key=lambda gap: _weight(gap, zone_map))


def _weight(gap: Gap, zone_map: ZoneMap) -> tuple[int, int, int]:
    role = zone_map[gap.zone].role if gap.zone in zone_map else Role.ATTACHED
    first = 0 if role is Role.CRITICAL else 1 if gap.why == "cavity-not-seen" else 2
    whys = list(_WHYS)
    return first, _ROLES.index(role), whys.index(gap.why) if gap.why in whys else len(whys)


def counted(gaps: Iterable[Gap], zone_map: ZoneMap) -> str:
    """How much is open, for example ``12 critical mounts · 5 cavities · 20 others``."""
    return " · ".join(counted_each(gaps, zone_map)) or worded("nothing")


def counted_each(gaps: Iterable[Gap], zone_map: ZoneMap) -> list[str]:
    """The same in its parts; none where nothing is open."""
    sorts = Counter(_weight(gap, zone_map)[0] for gap in gaps)
    told = (
        worded_many("{count} critical mount", "{count} critical mounts", sorts[0]),
        worded_many("{count} cavity", "{count} cavities", sorts[1]),
        worded_many("{count} other", "{count} others", sorts[2]),
    )
    return [text for n, text in enumerate(told) if sorts[n]]


def open_aloud(gaps: Iterable[Gap], zone_map: ZoneMap, most: int = 3) -> str:
    """What is open, to be heard: how much, then the places that weigh most.

    Of a place that nobody looked at it need not be said that nobody looked inside.

    Args:
        gaps: as a verdict or an inspection has them.
        zone_map: titles and roles of the zones.
        most: places to say.
    """
    listed = tuple(gaps)
    unseen = {(gap.zone, gap.side) for gap in listed if gap.why == "not-seen" and not gap.face}
    told = (g for g in listed if g.why != "cavity-not-seen" or (g.zone, g.side) not in unseen)
    ordered = by_weight(told, zone_map)
    if not ordered:
        return worded("nothing is open")
    much = joined(", ", counted_each(ordered, zone_map))
    first = joined("; ", [*islice(in_words(ordered, zone_map), most)])
    return worded("open: {much}. First: {first}", much=much, first=first)


def in_words(gaps: Iterable[Gap], zone_map: ZoneMap) -> Iterator[str]:
    """The gaps, one line for each zone and reason, both sides together, in the order given."""
    sides: dict[tuple[str, str], list[str]] = {}
    for gap in gaps:
        sides.setdefault((gap.zone, gap.why), []).append(gap.side or "")
    for (zone, why), found in sides.items():
        told = both([side for side in dict.fromkeys(found) if side])
        reason = worded(_WHYS[why]) if why in _WHYS else inert(why, 40)
        yield f"{_name(zone, told, zone_map)}: {reason}"


def _name(zone: str, sides: str, zone_map: ZoneMap) -> str:
    if zone in zone_map:
        return f"{sides} {zone_map[zone].title}".strip().lower()
    return inert(f"{sides} {place_in_words({'zone': zone}, zone_map)}".strip(), 80)
