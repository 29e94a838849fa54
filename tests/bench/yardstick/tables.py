"""The yardstick's tables: heads and rows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from voicelog.yardstick.shares import share_text
from voicelog.yardstick.strict import Tally
from yardstick.calibration import bins, calibration_error, doubt_bins, trusted
from yardstick.scoring import FalseOne, Outcome, Part, total, words_of
from yardstick.speech_set import Spoken
from yardstick.systems import BOTH, System
from yardstick.timing import Cost

SLOTS = [
    "", "slot precision", "slot recall", "wrong findings marked doubtful",
    "right findings marked doubtful", "second ear asked",
]  # fmt: skip
FALSE = ["", "chatter", "… not marked doubtful", "noise", "second ear asked in chatter"]
COSTS = [
    "", "end of speech to text, median", "95 of 100", "real time for a second of sound",
    "processor time for it", "peak memory", "ready after",
]  # fmt: skip
CONFIDENCE = ["", "predictions", "came true", "mean prediction", "expected calibration error"]
_NONE = "–"


def exact(part: Part, systems: Sequence[System], conditions: Sequence[str]) -> Iterator[list[str]]:
    """Utterances exactly right, by condition."""
    for system in systems:
        yield [system.name, *(_percent(part.under(system.name, name)) for name in conditions)]


def slots(part: Part, systems: Sequence[System]) -> Iterator[list[str]]:
    """Precision and recall of slots, and whether doubt goes where something is wrong."""
    for system in systems:
        found = part.outcomes[system.name]
        counts = total(found)
        marks = [
            share_text(counts.wrong_marked, counts.wrong),
            share_text(counts.right_marked, counts.right),
        ]
        asked = share_text(sum(o.asked for o in found), len(found))
        yield [
            system.name,
            share_text(counts.slots_right, counts.slots_got),
            share_text(counts.slots_right, counts.slots_wanted),
            *(marks if system.marks else (_NONE, _NONE)),
            asked if len(system.ears) > 1 else _NONE,
        ]


def false(part: Part, systems: Sequence[System]) -> Iterator[list[str]]:
    """Entries that nobody meant, and entries spoilt, an hour."""
    for system in (s for s in systems if _heard_long(part, s)):
        talk, noise = part.chatter[system.name], part.noise[system.name]
        plain = sum(one.count - one.marked for one in talk) / part.chatter_h
        asked = share_text(sum(one.asked for one in talk), len(talk))
        yield [
            system.name,
            f"{_number(talk) / part.chatter_h:.1f}",
            f"{plain:.1f}" if system.marks else _NONE,
            f"{_number(noise) / part.noise_h:.1f}",
            asked if len(system.ears) > 1 else _NONE,
        ]


def _heard_long(part: Part, system: System) -> bool:
    """The slowest ear hears no long sound, and typed text is no sound at all."""
    return bool(part.chatter_h and (part.chatter[system.name] or part.noise[system.name]))


def sources_head(part: Part) -> list[str]:
    """Where clips without any finding come from."""
    return ["", *_sources(part)]


def sources(part: Part, systems: Sequence[System]) -> Iterator[list[str]]:
    """Clips of which something false came, of those that the end-pointer took for utterances."""
    for system in (s for s in systems if _heard_long(part, s)):
        found = [*part.chatter[system.name], *part.noise[system.name]]
        groups = [[f for f in found if _source(f) == name] for name in _sources(part)]
        yield [system.name, *(share_text(sum(bool(f.count) for f in g), len(g)) for g in groups)]


def _sources(part: Part) -> list[str]:
    found = [*part.chatter.values(), *part.noise.values()]
    return list(dict.fromkeys(_source(one) for ones in found for one in ones))


def _source(false_one: FalseOne) -> str:
    caught = false_one.caught
    return f"noise: {caught.kind}" if caught.source == "noise" else caught.source


def _number(found: Sequence[FalseOne]) -> int:
    return sum(one.count for one in found)


def words(part: Part, conditions: Sequence[str]) -> Iterator[list[str]]:
    """Word error rate, by condition."""
    for ear, hearings in part.heard.items():
        groups = ([s for s in part.spoken if s.condition.name == name] for name in conditions)
        counts = (words_of(spoken, hearings) for spoken in groups)
        yield [ear, *(f"{100 * count.rate:.1f} %" if count.said else _NONE for count in counts)]


def costs(found: Mapping[str, Cost]) -> Iterator[list[str]]:
    """Time and memory of each ear."""
    for ear, cost in found.items():
        times = (cost.median_s, cost.p95_s, cost.wall_s / cost.sound_s, cost.work_s / cost.sound_s)
        shown = (f"{seconds:.3f} s" for seconds in times)
        yield [ear, *shown, f"{cost.peak_mb:.0f} MB", f"{cost.open_s:.1f} s"]


Table = tuple[list[str], Iterator[list[str]]]


def by_voice(part: Part, systems: Sequence[System]) -> Table:
    """Exact in each voice."""
    return _by(part, systems, lambda spoken: spoken.voice.name)


def by_noise(part: Part, systems: Sequence[System]) -> Table:
    """Exact in each kind of noise, where there is any."""
    return _by(part, systems, lambda s: s.kind if s.condition.snr_db is not None else "")


def _by(part: Part, systems: Sequence[System], key: Callable[[Spoken], str]) -> Table:
    groups = [group for group in dict.fromkeys(map(key, part.spoken)) if group]

    def rows() -> Iterator[list[str]]:
        for system in systems if groups else ():
            found = part.outcomes[system.name]
            shares = (_percent([o for o in found if key(o.spoken) == group]) for group in groups)
            yield [system.name, *shares]

    return ["", *groups], rows()


def _percent(found: Sequence[Outcome]) -> str:
    return f"{100 * sum(o.exact for o in found) / len(found):.1f} %" if found else _NONE


def confidence(part: Part, promised: Tally | None) -> Iterator[list[str]]:
    """Words by what the ear believed of them; findings by what their mark promises."""
    for ear, hearings in part.heard.items():
        if told := list(trusted(part.spoken, hearings)):
            right, sure = sum(came for _, came in told), sum(chance for chance, _ in told)
            yield [f"words of {ear}", str(len(told)), share_text(right, len(told)),
                   f"{sure / len(told):.3f}", f"{calibration_error(bins(told)):.3f}"]  # fmt: skip
    if BOTH in part.outcomes:
        yield from _doubt(total(part.outcomes[BOTH]), promised)


def _doubt(counts: Tally, promised: Tally | None) -> Iterator[list[str]]:
    """A mark promises the share that was right among findings of the same mark in the tuning part."""
    found = doubt_bins(counts, promised or counts)
    for title, each in zip(
        ("findings marked doubtful", "findings not marked"), found, strict=False
    ):
        promise = f"{each.said:.3f}" if promised else _NONE
        yield [
            f"{BOTH}: {title}",
            str(each.count),
            share_text(each.right, each.count),
            promise,
            _NONE,
        ]
    if promised:
        whole = sum(each.count for each in found)
        error = f"{calibration_error(found):.3f}"
        yield [f"{BOTH}: doubt as a whole", str(whole), _NONE, _NONE, error]
