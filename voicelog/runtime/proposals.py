"""What another hearing would change about a log's entries, told slot by slot; changes nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from voicelog.dialogue.at_bench import change_to, put_right
from voicelog.domain.entry import Add, Change, Entry, Finding, Withdraw
from voicelog.domain.grade import Grade
from voicelog.domain.zone import ZoneMap
from voicelog.errors import UsageFault
from voicelog.runtime.replay import Replay
from voicelog.runtime.standing import Standing, told_of
from voicelog.tongue import worded


@dataclass(frozen=True, slots=True)
class Proposal:
    """One entry that another hearing has differently.

    Args:
        utterance: what it was said in.
        entry: its id; None for one that the log does not have.
        heard_before: the words that the log was made of.
        heard_now: the words that this is made of.
        was: as it stands; None for a new one.
        now: as it would stand; None where it would be withdrawn.
        differs: the slots that would change; ``kind`` too.
        changes: what would take it over, were it applied.
        settled: a person has put one of these slots right at the bench, or confirmed the entry.
        cannot: why it cannot be taken over as it is, in a sentence; empty where it can.
        beside: for a new entry, one of the same utterance that stands; None where there is none.
        behind: for a new entry, the one that stands and was said last before it.
    """

    utterance: str
    entry: str | None
    heard_before: str
    heard_now: str
    was: Finding | None
    now: Finding | None
    differs: tuple[str, ...]
    changes: tuple[Change, ...]
    settled: bool = False
    cannot: str = ""
    beside: str | None = None
    behind: str | None = None

    @property
    def grade_before(self) -> Grade | None:
        """The grade as it stands."""
        return None if self.was is None else self.was.grade

    @property
    def grade_now(self) -> Grade | None:
        """The grade as it would be."""
        return None if self.now is None else self.now.grade

    @property
    def softens(self) -> bool:
        """An entry that is unsafe no longer would be."""
        return self.grade_before is Grade.UNSAFE and self.grade_now is not Grade.UNSAFE


def proposed(
    before: Replay, after: Replay, standing: Standing, texts: Mapping[str, tuple[str, str]]
) -> Iterator[Proposal]:
    """The entries that come out differently, in the order in which they were said.

    Two replays are compared, so that only what was heard or read differently counts, not what this
    version of the program does differently, nor what was answered to a question.

    Args:
        before: what the log heard.
        after: what is heard now.
        standing: the entries now.
        texts: utterance to the words read before and now.
    """
    for name in sorted({*before.names(), *after.names()}, key=_order):
        had, has = before.entry(name), after.entry(name)
        if told_of(had) != told_of(has):
            yield from _for_entry(name, had, has, standing, texts)


def _for_entry(
    name: str,
    had: Entry | None,
    has: Entry | None,
    standing: Standing,
    texts: Mapping[str, tuple[str, str]],
) -> Iterator[Proposal]:
    was, base = standing.entry(name), has or had
    if base is None or (was is None and (has is None or name in standing)):
        return  # neither there nor wanted, or taken out by somebody since
    wanted, cannot = _wanted(was, had, has, standing.zone_map)
    differs = _differing(was, wanted)
    if not differs:
        return
    changes = _changes(was, wanted)
    heard_before, heard_now = texts.get(base.utterance, ("", ""))
    yield Proposal(
        base.utterance, None if was is None else name, heard_before, heard_now,
        None if was is None else standing.finding(name),
        None if wanted is None else standing.preview(changes), differs, changes,
        settled=was is not None and standing.settled(name, differs), cannot=cannot,
        beside=None if was else standing.last(lambda e: e.utterance == base.utterance),
        behind=None if was else standing.last(lambda e: _order(e.id) < _order(name)),
    )  # fmt: skip


def _wanted(
    was: Entry | None, had: Entry | None, has: Entry | None, zone_map: ZoneMap
) -> tuple[Entry | None, str]:
    """The entry as it would be, and why a person could not make it so.

    What stands in it and was not heard differently stays.
    """
    zone = "" if has is None else str(has.slots.get("zone", ""))
    if zone and zone not in zone_map:
        return has, worded("The log's own map has no zone {zone}", zone=repr(zone))
    if was is None or has is None:
        return has, ""
    said, before = told_of(has), told_of(had)
    slots = {name: value for name, value in has.slots.items() if before.get(name) != value}
    drop = [name for name in before if name not in said and name in was.slots]
    changed = before.get("kind") != said["kind"] and has.kind is not was.kind
    try:
        return put_right(was, slots, zone_map, drop=drop, kind=has.kind if changed else None), ""
    except UsageFault as fault:
        return replace(has, id=was.id), fault.message


def _changes(was: Entry | None, wanted: Entry | None) -> tuple[Change, ...]:
    if was is None:
        return (Add(wanted),) if wanted is not None else ()
    return (Withdraw(was.id),) if wanted is None else (change_to(was, wanted),)


def _differing(was: Entry | None, wanted: Entry | None) -> tuple[str, ...]:
    now, then = told_of(was), told_of(wanted)
    return tuple(name for name in {**now, **then} if now.get(name) != then.get(name))


def _order(name: str) -> tuple[int, ...]:
    """``e12.2`` after ``e9.1``."""
    numbers = name.removeprefix("e").split(".")
    return tuple(int(number) if number.isdigit() else 0 for number in numbers)
