"""Scoring: what became of each utterance against what the manifest wants.

An utterance is exact when it made the wanted entries and no others (remarks aside), each with every
slot that the manifest names (numbers within 1 %), when it changed the earlier entries that it should
and no others, and when a command ("stand by", "finish inspection") was taken as the command that
its typed text is. Chatter is counted apart, by the entries it should not have made.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from voicelog.domain.entry import Finding, Kind

Slots = Mapping[str, Any]
Entries = dict[str, dict[str, Any]]
"""Entry id to its slots, with ``kind``, ``grade``, ``doubtful`` and ``withdrawn`` among them."""

TOLERANCE = 0.01
_MARKS = ("doubtful", "withdrawn", "from", "reason")
_INCIDENTAL = {"certainty": "stated", "method": "seen"}


@dataclass(frozen=True)
class Outcome:
    """What became of one utterance.

    Args:
        name: its name in the manifest.
        heard: the text heard.
        made: entries it made, as they stood when it ended.
        changed: earlier entries it changed, as they stood when it ended.
        acts: what its statements did, as far as they are commands.
    """

    name: str
    heard: str
    made: Entries
    changed: Entries
    acts: tuple[str, ...]


@dataclass
class Score:
    """Counts over one run; shares are made from them."""

    exact: dict[str, bool] = field(default_factory=dict)
    place_and_condition: dict[str, bool] = field(default_factory=dict)
    slots_right: int = 0
    slots_got: int = 0
    slots_wanted: int = 0
    wrong: int = 0
    wrong_marked: int = 0
    right: int = 0
    right_marked: int = 0
    false_listening: int = 0
    false_standing_by: int = 0
    notes: dict[str, str] = field(default_factory=dict)


def as_entry(finding: Finding) -> dict[str, Any]:
    """A finding as flat slots."""
    entry = finding.entry
    grade = {"grade": str(finding.grade)} if finding.grade is not None else {}
    return {
        "kind": str(entry.kind), **entry.slots, **grade,
        "doubtful": entry.doubtful, "withdrawn": finding.withdrawn,
    }  # fmt: skip


def score(
    utterances: Sequence[Mapping[str, Any]],
    outcomes: Iterable[Outcome],
    acts: Mapping[str, tuple[str, ...]],
    standing_by: frozenset[str],
) -> Score:
    """Score a whole run.

    Args:
        utterances: the manifest's.
        outcomes: one for each utterance.
        acts: utterance name to the commands its typed text gives.
        standing_by: names of the utterances said while standing by.
    """
    result, by_name = Score(), {outcome.name: outcome for outcome in outcomes}
    for wanted in utterances:
        outcome = by_name[wanted["id"]]
        if wanted["chatter"]:
            _count_chatter(result, outcome, outcome.name in standing_by)
            continue
        made = list(_counted(outcome.made))
        pairs, extra = _paired(wanted["want"], made)
        _count_slots(result, pairs, extra)
        told = _changes_right(wanted, outcome, by_name) and outcome.acts == acts[outcome.name]
        right = told and not extra and all(_fits(want, got) for want, got in pairs)
        result.exact[outcome.name] = right
        result.place_and_condition[outcome.name] = not extra and all(
            _fits(_place_and_condition(want), got) for want, got in pairs
        )
        if not right:
            result.notes[outcome.name] = _note(wanted, outcome)
    return result


def final_right(final: Sequence[Slots], standing: Iterable[tuple[str, Slots]]) -> tuple[int, int]:
    """How many wanted entries stand at the end as they should, and how many others stand there."""
    left = [(name, slots) for name, slots in standing if slots["kind"] != Kind.REMARK]
    right = 0
    for want in final:
        fit = next(
            (n for n, s in enumerate(left) if s[0] == want["from"] and _fits(want, s[1])), -1
        )
        if fit >= 0:
            right, left = right + 1, left[:fit] + left[fit + 1 :]
    return right, len(left)


def same(want: Any, got: Any) -> bool:
    """Equal; numbers within 1 %."""
    if isinstance(want, int | float) and isinstance(got, int | float):
        return abs(want - got) <= TOLERANCE * abs(want)
    return bool(want == got)


def _counted(entries: Entries) -> Iterable[dict[str, Any]]:
    return (e for e in entries.values() if e["kind"] != Kind.REMARK and not e["withdrawn"])


def _named(slots: Slots) -> dict[str, Any]:
    return {name: value for name, value in slots.items() if name not in _MARKS}


def _place_and_condition(want: Slots) -> Slots:
    return {n: v for n, v in want.items() if n in ("zone", "side", "condition", "kind")}


def _fits(want: Slots, got: Slots | None) -> bool:
    return got is not None and all(same(v, got.get(n)) for n, v in _named(want).items())


def _paired(
    wants: Sequence[Slots], made: Sequence[Slots]
) -> tuple[list[tuple[Slots, Slots | None]], list[Slots]]:
    """Each wanted entry with the one that has most of its slots; what is left over."""
    left, pairs = list(made), []
    for want in wants:
        best = max(
            left, default=None,
            key=lambda got: sum(same(v, got.get(n)) for n, v in _named(want).items()),
        )  # fmt: skip
        if best is not None:
            left.remove(best)
        pairs.append((want, best))
    return pairs, left


def _count_slots(
    result: Score, pairs: list[tuple[Slots, Slots | None]], extra: list[Slots]
) -> None:
    for want, got in [*pairs, *(({}, slots) for slots in extra)]:
        result.slots_wanted += len(_named(want))
        if got is None:
            continue
        said = {n: v for n, v in _named(got).items() if _told(n, v, want)}
        result.slots_got += len(said)
        result.slots_right += sum(n in want and same(want[n], v) for n, v in said.items())
        right = bool(want) and _fits(want, got)
        result.right += right
        result.wrong += not right
        result.right_marked += right and got["doubtful"]
        result.wrong_marked += not right and got["doubtful"]


def _told(name: str, value: Any, want: Slots) -> bool:
    """Whether a slot counts: defaults, and where a landmark was mentioned, do not."""
    return name in want or (name != "landmark" and _INCIDENTAL.get(name) != value)


def _count_chatter(result: Score, outcome: Outcome, standing_by: bool) -> None:
    false = len(list(_counted(outcome.made))) + len(outcome.changed)
    if standing_by:
        result.false_standing_by += false
    else:
        result.false_listening += false
    if false:
        result.notes[outcome.name] = f"heard {outcome.heard!r}\n    chatter made {outcome.made}"


def _changes_right(
    wanted: Mapping[str, Any], outcome: Outcome, by_name: Mapping[str, Outcome]
) -> bool:
    sets = {(c["of"], c["nth"]): c["set"] for c in wanted.get("amends", ())}
    sets |= {(c["of"], c["nth"]): {} for c in wanted.get("withdraws", ())}
    if len(sets) != len(outcome.changed):
        return False
    for (of, nth), slots in sets.items():
        entry = list(by_name[of].made)[nth : nth + 1]
        got = outcome.changed.get(entry[0]) if entry else None
        if not _fits(slots, got) or got is None or got["withdrawn"] is not (not slots):
            return False
    return True


def _note(wanted: Mapping[str, Any], outcome: Outcome) -> str:
    asked = {n: wanted[n] for n in ("want", "amends", "withdraws") if wanted.get(n)}
    return "\n".join(
        (
            f"noise {wanted['noise']}",
            f"    said  {wanted['text']!r}",
            f"    heard {outcome.heard!r}",
            f"    wanted {asked}",
            f"    made {list(outcome.made.values())}",
            f"    changed {outcome.changed}, commands {outcome.acts}",
        )
    )
