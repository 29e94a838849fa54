"""The tables of the understanding bench, for the README."""

from __future__ import annotations

import os
import platform
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from importlib.metadata import distributions

from corpus import HYPOTHESES, Hearing
from pace import TIMES, WORDS, Pace, Paces
from shares import markdown
from systems import OWN, SYSTEMS, Job

from voicelog.yardstick.shares import share_text
from voicelog.yardstick.strict import Judged, Tally, tally

Found = Mapping[Job, Sequence[Judged]]

ORIGINS = ("hand", "generated")
CHATTER = ("chatter", "chatter-after")
CHATTER_RATES = (0.0, 0.1)
MARKING = (OWN, "best match")
"""The systems that mark entries doubtful."""
_TARGETS = {0.0: "≥ 97 %", 0.1: "≥ 90 %", 0.25: "≥ 75 %"}


def jobs(parts: Sequence[str], rates: Sequence[float]) -> list[Job]:
    """Everything that the tables need, what takes longest first."""
    plain = [(origin, Hearing(rate)) for origin in ORIGINS for rate in rates]
    talk = [(way, Hearing(rate)) for way in CHATTER for rate in CHATTER_RATES]
    own = [
        Job(OWN, f"{_last(parts)}/{origin}", hearing)
        for origin in ORIGINS
        for rate in rates
        if rate
        for _, hearing in several(rate)
    ]
    return own + [
        Job(name, f"{part}/{source}", hearing)
        for name in reversed(SYSTEMS)
        for part in parts
        for source, hearing in (*plain, *talk)
    ]


def _last(parts: Sequence[str]) -> str:
    """The part over which several hypotheses are read: the untouched one where it is measured."""
    return sorted(parts)[-1]


def several(rate: float) -> list[tuple[str, Hearing]]:
    """The ways to use more than one hypothesis; the first of them is also what all systems get."""
    return [
        ("the first hypothesis alone", Hearing(rate)),
        (f"{HYPOTHESES} hypotheses read together", Hearing(rate, HYPOTHESES)),
        (f"two ears, {HYPOTHESES} hypotheses each", Hearing(rate, HYPOTHESES, ears=2)),
    ]


def text(found: Found, paces: Paces, parts: Sequence[str], rates: Sequence[float]) -> str:
    """All tables with the notes that belong to them."""
    head = ["", *SYSTEMS, "target"]
    last = _last(parts)
    quality = [
        *_part(found, last, rates),
        *(row for part in parts if part != last for row in _brief(found, part, rates)),
    ]
    tables = [_notes(found, parts), markdown(head, quality)]
    misheard = [rate for rate in rates if rate]
    if misheard:
        head = [f"{last}: exact", *(_errors(rate) for rate in misheard)]
        tables.append(markdown(head, list(_several_rows(found, last, misheard))))
    tables.append(markdown(["", OWN, "target"], list(_pace_rows(paces))))
    return "\n\n".join(tables)


def _part(found: Found, part: str, rates: Sequence[float]) -> Iterator[list[str]]:
    """Everything about the part that the targets are set for."""
    for rate in rates:
        totals = _totals(found, part, ORIGINS, rate)
        yield _exact(f"**{part}: exact, {_errors(rate)}**", totals, _TARGETS.get(rate, ""))
        for origin in ORIGINS:
            yield _exact(f"… {_ORIGIN[origin]}", _totals(found, part, (origin,), rate))
        precise = [share_text(t.slots_right, t.slots_got) for t in totals]
        yield ["… slot precision", *precise, "" if rate else "≥ 99 %"]
        recalled = [share_text(t.slots_right, t.slots_wanted) for t in totals]
        yield ["… slot recall", *recalled, ""]
        if rate:
            yield from _doubt(totals)
    for rate in CHATTER_RATES:
        for way, name in _CHATTER.items():
            aim = "< 1 in 200" if way == "chatter" else ""
            yield _false(
                f"{part}: {name}, {_errors(rate)}", _totals(found, part, (way,), rate), aim
            )


def _brief(found: Found, part: str, rates: Sequence[float]) -> Iterator[list[str]]:
    """What there is to compare of the other part."""
    for rate in rates:
        yield _exact(f"{part}: exact, {_errors(rate)}", _totals(found, part, ORIGINS, rate))
    way, name = next(iter(_CHATTER.items()))
    yield _false(f"{part}: {name}, {_errors(0)}", _totals(found, part, (way,), 0.0))


def _exact(name: str, totals: Sequence[Tally], aim: str = "") -> list[str]:
    return [name, *(share_text(t.exact, t.cases) for t in totals), aim]


def _false(name: str, totals: Sequence[Tally], aim: str = "") -> list[str]:
    return [name, *(f"{t.wrong + t.missing} in {t.cases}" for t in totals), aim]


_ORIGIN = {"hand": "written by hand", "generated": "generated"}
_CHATTER = {
    "chatter": "false entries in chatter",
    "chatter-after": "false or spoilt entries in chatter right after a finding",
}


def _doubt(totals: Sequence[Tally]) -> Iterator[list[str]]:
    named = dict(zip(SYSTEMS, totals, strict=True))
    wrong = [_marked(name, t.wrong_marked, t.wrong) for name, t in named.items()]
    right = [_marked(name, t.right_marked, t.right) for name, t in named.items()]
    yield ["… wrong entries marked doubtful", *wrong, "≥ 90 %"]
    yield ["… right entries marked doubtful", *right, "< 10 %"]


def _marked(name: str, part: int, whole: int) -> str:
    return share_text(part, whole) if name in MARKING else "–"


def _several_rows(found: Found, part: str, rates: Sequence[float]) -> Iterator[list[str]]:
    for number, (way, _) in enumerate(several(1.0)):
        hearings = [several(rate)[number][1] for rate in rates]
        totals = [_total(found, OWN, part, ORIGINS, hearing) for hearing in hearings]
        yield [way, *(share_text(t.exact, t.cases) for t in totals)]


def _pace_rows(paces: Paces) -> Iterator[list[str]]:
    ratio = paces.larger.median_s / paces.warm.median_s
    yield [f"reading {WORDS} words: median", _ms(paces.warm.median_s), ""]
    yield ["… 99 of 100", _ms(paces.warm.p99_s), "< 5 ms"]
    yield ["… 99 of 100, processor time", _ms(paces.warm.cpu_p99_s), ""]
    yield ["… longest", _ms(paces.warm.max_s), ""]
    yield ["with cold caches: median · 99 of 100 · longest", _times(paces.cold), ""]
    name = f"with {TIMES} times the {paces.phrases} phrases: median · 99 of 100 · longest"
    yield [name, _times(paces.larger), ""]
    yield [f"median at {TIMES} times the phrases to median now", f"{ratio:.2f}", f"≤ {TIMES}"]
    yield ["first utterance of all, indexes built on the way", _ms(paces.first_s), ""]


def _times(pace: Pace) -> str:
    return " · ".join(map(_ms, (pace.median_s, pace.p99_s, pace.max_s)))


def _ms(seconds: float) -> str:
    return f"{1e3 * seconds:.1f} ms"


def _notes(found: Found, parts: Sequence[str]) -> str:
    sizes = {job.source: len(judged) for job, judged in found.items()}
    corpus = "; ".join(
        f"{part}: {sizes[f'{part}/hand']} cases written by hand, {sizes[f'{part}/generated']} "
        f"generated, {sizes[f'{part}/chatter']} lines of chatter"
        for part in sorted(parts, reverse=True)
    )
    return (
        f"Measured {date.today():%Y-%m-%d} by `python tests/bench/understanding.py`: "
        f"{os.cpu_count()} cores ({platform.machine()}), Python {platform.python_version()}, "
        f"{_versions('rapidfuzz', 'hassil')}; load average, other work included, "
        f"{os.getloadavg()[0]:.1f}. {corpus}. A case is exact when all its entries and "
        f"all their slots are right and nothing is extra; word errors are made by a model of "
        f"mishearing, not by an ear. Keyword search, best match and intent library have the same "
        f"vocabulary, carried places and number reading."
    )


def _versions(*names: str) -> str:
    installed = {found.name.lower(): found.version for found in distributions()}
    return ", ".join(f"{name} {installed.get(name, '')}".strip() for name in names)


def _totals(found: Found, part: str, origins: Sequence[str], rate: float) -> list[Tally]:
    """One for each system."""
    return [_total(found, name, part, origins, Hearing(rate)) for name in SYSTEMS]


def _total(found: Found, system: str, part: str, origins: Sequence[str], hearing: Hearing) -> Tally:
    judged = (j for origin in origins for j in found[Job(system, f"{part}/{origin}", hearing)])
    return sum(map(tally, judged), Tally())


def _errors(rate: float) -> str:
    return f"{100 * rate:g} % word errors" if rate else "as typed"
