"""What the yardstick says of a part: the targets first, then everything else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from shares import markdown

from voicelog.yardstick.shares import interval_text, share_text
from voicelog.yardstick.strict import Tally
from yardstick import tables
from yardstick.intervals import difference, poisson
from yardstick.noises import CONDITIONS
from yardstick.scoring import Outcome, Part, total
from yardstick.systems import ALONE, BOTH, System
from yardstick.timing import Cost

TARGETS = {"quiet": 0.92, "10 dB": 0.85, "0 dB": 0.60}
"""Exact findings of the built-in ear with the second, on the kept-out part."""
ALONE_WITHIN, BEST_PLUS = 0.06, 0.15
MARKED = 0.85
CHATTER_HOUR, NOISE_HOUR = "≤ 0.5", "0"
COMPARED_AT = "10 dB"
FOLDED = "<details><summary>Slots and doubt, false findings, words, time and memory, voices, noises, confidence</summary>"
"""What most readers pass over is shown when somebody asks for it."""


def text(
    part: Part, systems: Sequence[System], costs: Mapping[str, Cost], promised: Tally | None = None
) -> str:
    """All tables of a part.

    Args:
        part: what was measured.
        systems: in the order of the rows; those that the part lacks are left out.
        costs: time and memory by ear, for the tables of one part.
        promised: what the two ears together made of the tuning part, for what a mark of doubt promises.
    """
    shown = [system for system in systems if system.name in part.outcomes]
    conditions = [c.name for c in CONDITIONS if any(s.condition == c for s in part.spoken)]
    listed = (
        ("Against the targets", ["", "measured", "95 % interval", "target"],
         _headline(part, shown, conditions)),
        ("Utterances exactly right", ["", *conditions], tables.exact(part, shown, conditions)),
        ("Slots and doubt, all conditions", tables.SLOTS, tables.slots(part, shown)),
        ("False findings an hour", tables.FALSE, tables.false(part, shown)),
        ("False findings by source", tables.sources_head(part), tables.sources(part, shown)),
        ("Words wrong", ["", *conditions], tables.words(part, conditions)),
        ("Time and memory", tables.COSTS, tables.costs(costs)),
        ("Exact by voice, all conditions", *tables.by_voice(part, shown)),
        ("Exact by noise, 20 to 0 dB", *tables.by_noise(part, shown)),
        ("Confidence", tables.CONFIDENCE, tables.confidence(part, promised)),
    )  # fmt: skip
    first, *others = filter(None, (_titled(*table) for table in listed))
    return "\n\n".join((first, others[0], FOLDED, *others[1:], "</details>"))


def _titled(title: str, head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    listed = list(rows)
    return f"**{title}**\n\n{markdown(head, listed)}" if listed else ""


def best_search(part: Part, systems: Sequence[System], condition: str) -> str:
    """The keyword search that did best in a condition, taken after the fact; empty without any."""
    searched = [system.name for system in systems if not system.marks]
    return max(searched, key=lambda name: total(part.under(name, condition)).exact, default="")


def _headline(
    part: Part, systems: Sequence[System], conditions: Sequence[str]
) -> Iterator[list[str]]:
    if BOTH not in part.outcomes or ALONE not in part.outcomes:
        return
    for condition in (c for c in TARGETS if c in conditions):
        aim = TARGETS[condition]
        yield _rate(f"{BOTH}: exact, {condition}", part.under(BOTH, condition), aim)
        alone = part.under(ALONE, condition)
        yield _rate(f"{ALONE} alone: exact, {condition}", alone, aim - ALONE_WITHIN)
    best = best_search(part, systems, COMPARED_AT)
    if COMPARED_AT in conditions and best:
        yield _gain(part, best)
    counts = total(part.outcomes[BOTH])
    yield [f"{BOTH}: wrong findings marked doubtful", share_text(counts.wrong_marked, counts.wrong),
           interval_text(counts.wrong_marked, counts.wrong), f"≥ {100 * MARKED:.0f} %"]  # fmt: skip
    yield from _false(part)


def _gain(part: Part, best: str) -> list[str]:
    first, second = ([o.exact for o in part.under(n, COMPARED_AT)] for n in (BOTH, best))
    low, high = difference(first, second)
    gain = (sum(first) - sum(second)) / len(first)
    return [
        f"{BOTH}: more exact at {COMPARED_AT} than the best plain recogniser ({best})",
        f"{100 * gain:+.1f} points",
        f"{100 * low:+.0f} to {100 * high:+.0f}",
        f"≥ {100 * BEST_PLUS:.0f} points",
    ]


def _false(part: Part) -> Iterator[list[str]]:
    for title, found, hours, aim in (
        ("an hour of chatter", part.chatter, part.chatter_h, CHATTER_HOUR),
        ("an hour of noise", part.noise, part.noise_h, NOISE_HOUR),
    ):
        if hours and BOTH in found:
            number = sum(one.count for one in found[BOTH])
            low, high = poisson(number)
            yield [f"{BOTH}: false findings {title}", f"{number / hours:.1f}",
                   f"{low / hours:.1f} to {high / hours:.1f}", aim]  # fmt: skip


def _rate(title: str, found: Sequence[Outcome], aim: float) -> list[str]:
    exact = sum(outcome.exact for outcome in found)
    return [
        title,
        share_text(exact, len(found)),
        interval_text(exact, len(found)),
        f"≥ {100 * aim:.0f} %",
    ]
