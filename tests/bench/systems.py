"""Everything that is measured, by name, and the runs over the corpus on two processes."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from time import perf_counter

from corpus import Case, Hearing, Said, load, utter

from voicelog.yardstick.strict import Answer, Judged, judge

System = Callable[[list[Said], Mapping[str, str]], Answer]
"""Utterances and the speaker's settings to what stands at the end."""

OWN = "voicelog"
SYSTEMS = {
    OWN: "own",
    "keyword search": "keyword_search",
    "best match": "best_match",
    "intent library": "intent_library",
}
"""Name to the module whose ``understand`` does it; loaded where it runs."""

PROCESSES = 2


@dataclass(frozen=True)
class Job:
    """One system over one part of the corpus.

    Args:
        system: its name.
        source: what :func:`corpus.load` loads.
        hearing: how the words reach it.
    """

    system: str
    source: str
    hearing: Hearing


Outcome = tuple[Case, list[Said], Answer, Judged]


def outcomes(job: Job) -> Iterator[Outcome]:
    """Every case with what was heard, what was made of it and whether that is right."""
    understand = _system(job.system)
    for case in _cases(job.source):
        said = utter(case, job.hearing)
        answer = understand(said, case.settings)
        yield case, said, answer, judge(case.want, answer, case.tags)


def judged(job: Job) -> list[Judged]:
    """The judgements alone."""
    return [outcome[-1] for outcome in outcomes(job)]


def run(jobs: Iterable[Job]) -> dict[Job, list[Judged]]:
    """All jobs, on as many processes as the target machine has cores; progress on stderr."""
    asked, begun = list(dict.fromkeys(jobs)), perf_counter()
    found: dict[Job, list[Judged]] = {}
    with ProcessPoolExecutor(PROCESSES) as pool:
        for job, result in zip(asked, pool.map(judged, asked), strict=True):
            found[job] = result
            _say(f"{len(found)}/{len(asked)} {perf_counter() - begun:.0f} s {job.system}")
    if sys.stderr.isatty():
        print(file=sys.stderr)
    return found


@cache
def _system(name: str) -> System:
    try:
        understand: System = import_module(SYSTEMS[name]).understand
    except ModuleNotFoundError as missing:
        raise SystemExit(
            f"{name} needs {missing.name}: pip install --editable '.[bench]'"
        ) from missing
    return understand


@cache
def _cases(source: str) -> list[Case]:
    return load(source)


def _say(text: str) -> None:
    """Progress: one line that changes on a terminal, one line after another elsewhere."""
    here = sys.stderr.isatty()
    print(f"\r{text:60}" if here else text, end="" if here else "\n", file=sys.stderr, flush=True)
