"""Which single open place or entry could change the verdict, and to what."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from voicelog.domain.advice import Swing
from voicelog.domain.entry import Inspection
from voicelog.domain.grade import Gap, RuleSet
from voicelog.domain.inert import inert
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.drive import DO_NOT_DRIVE, NO_DANGER_FOUND, NOT_ENOUGH_SEEN
from voicelog.findings.places import place_in_words
from voicelog.findings.verdict import BEYOND_REPAIR, FAIR, REPAIRABLE, SOUND, UNKNOWN
from voicelog.findings.what_if.rejudging import Answers, Rejudging
from voicelog.findings.what_if.suppositions import Open, Outcome, Suppositions
from voicelog.findings.wording import OPEN_IN_WORDS
from voicelog.findings.work import BEYOND, LOCAL, MAJOR, NONE, SURFACE
from voicelog.tongue import begun, joined, to_word, worded

_WORSE: tuple[tuple[str, ...], ...] = (
    (NO_DANGER_FOUND, NOT_ENOUGH_SEEN, DO_NOT_DRIVE),
    (NONE, SURFACE, LOCAL, MAJOR, BEYOND),
    (SOUND, FAIR, UNKNOWN, REPAIRABLE, BEYOND_REPAIR),
)
"""The answers, each from the best to the worst."""

_TOLD: tuple[Mapping[str, str], ...] = (
    {
        DO_NOT_DRIVE: to_word("do not drive or tow it"),
        NO_DANGER_FOUND: to_word("no danger is found where examined"),
        NOT_ENOUGH_SEEN: to_word("not enough is seen to say whether it may be moved"),
    },
    {
        NONE: to_word("nothing needs work"),
        SURFACE: to_word("only surfaces need treating"),
        LOCAL: to_word("it needs local repairs"),
        MAJOR: to_word("the repairs are major work"),
        BEYOND: to_word("it takes a structural specialist or replacement"),
    },
    {
        SOUND: to_word("the frame is called sound"),
        FAIR: to_word("the frame is called fair"),
        UNKNOWN: to_word("too little is seen to call the frame anything"),
    },
)
"""The same for a buyer; that a frame is repairable or beyond repair follows from the work."""


def swings(
    inspection: Inspection, zone_map: ZoneMap, rules: RuleSet, rails: Rails
) -> tuple[Swing, ...]:
    """What could change the verdict by itself, the gravest first.

    Every gap is judged again with the worst that may plausibly be there (a hole, cracked where that is
    worse; a leak at lines and
    tanks; a probe that goes through; another reading) and with the best (clear and firm; proven; not
    said). So are entries said with a hedge, and those with another reading close behind. Kept is what
    would change drive, work or tier in one of the two.

    Args:
        inspection: a folded log.
        zone_map: the log's own map.
        rules: the log's own severity table.
        rails: how the vehicle's rails are made.

    Raises:
        GrammarFault: the table cannot be used.
    """
    judged = Rejudging(inspection, zone_map, rules, rails)
    now = judged.after(())
    found = (
        _swing(one, judged, now, zone_map)
        for one in Suppositions(inspection, zone_map, rules).all()
    )
    kept = [swing for swing in found if {swing.if_bad, swing.if_good} != {now}]
    return tuple(sorted(kept, key=lambda one: _gravity(one.if_bad), reverse=True))


def _swing(one: Open, judged: Rejudging, now: Answers, zone_map: ZoneMap) -> Swing:
    tried = [(judged.after(outcome.changes), outcome) for outcome in one.outcomes]
    bad, worst = max(tried, key=lambda pair: _gravity(pair[0]))
    good, best = min(reversed(tried), key=lambda pair: _gravity(pair[0]))
    then = joined("; ", (_told(worst, now, bad), _told(best, now, good)))
    named = f" ({inert(one.gap.entry)})" if one.gap.entry else ""
    text = joined("", (place_of(one.gap, zone_map), " (", _open(one.gap), "): ", then, named))
    return Swing(one.gap, worst.said, bad, good, text, then)


def _gravity(answers: Answers) -> tuple[int, ...]:
    return tuple(order.index(one) for order, one in zip(_WORSE, answers, strict=True))


def _told(outcome: Outcome, now: Answers, then: Answers) -> str:
    changed = joined(worded(", and "), _changed(now, then)) or worded("nothing changes")
    return worded("if {supposed}, {changed}", supposed=outcome.said, changed=changed)


def _changed(now: Answers, then: Answers) -> Iterator[str]:
    for words, before, after in zip(_TOLD, now, then, strict=True):
        if before != after and after in words:
            yield worded(words[after])


def alike(found: Iterable[Swing]) -> tuple[tuple[Swing, ...], ...]:
    """Swings that differ in nothing but their place, together; those of entries alone.

    Args:
        found: as :func:`swings` gives them.
    """
    groups: dict[tuple[object, ...], list[Swing]] = {}
    for one in found:
        key = (one.gap.why, one.gap.entry, one.gap.reason, one.supposed, one.if_bad, one.if_good)
        groups.setdefault(key, []).append(one)
    return tuple(map(tuple, groups.values()))


def place_of(gap: Gap, zone_map: ZoneMap) -> str:
    """The place of a gap as a swing's text begins with it.

    Args:
        gap: of a swing.
        zone_map: the places.
    """
    named = {"zone": gap.zone, "side": gap.side, "face": gap.face}
    slots: Slots = {name: value for name, value in named.items() if value is not None}
    return begun(inert(place_in_words(slots, zone_map)))


def _open(gap: Gap) -> str:
    if gap.why == "doubtful":
        return inert(gap.reason or worded(OPEN_IN_WORDS["doubtful"]), 120)
    known = OPEN_IN_WORDS.get(gap.why, gap.why)
    why = worded(known)
    return joined(": ", (why, inert(gap.reason, 120))) if gap.reason else why
