"""From a part of the speech set to everything that is measured on it."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from pathlib import Path

from yardstick.ears import EARS
from yardstick.listening import CLIPS, Hearings, Listening, fixed_subset
from yardstick.making import Sound, sound_of
from yardstick.noises import CONDITIONS, Condition
from yardstick.scoring import FalseOne, HeardBy, Outcome, Part, false_ones, outcomes
from yardstick.speech_set import EACH, Spoken, speech_set
from yardstick.streams import CHATTER_MINUTES, NOISE_MINUTES, Caught
from yardstick.systems import System
from yardstick.timing import Cost, cost

TIMED = 40
"""Clips of the quiet pass for time and memory."""

Bar = Callable[[str, int], AbstractContextManager[Callable[[], None]]]
"""Shows how far a task of so many steps is; gives what is to be called for each."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What is to be measured.

    Args:
        cache: folder of everything that is made or heard.
        ears: names of those that listen.
        compared: what is made of what they hear.
        conditions: in which the utterances are said.
        each: utterances a voice; None for all, fewer also shorten chatter and noise.
        model: folder of a Vosk model.
        long: chatter and noise as well.
        fresh: hear everything anew.
        processes: how many work side by side.
        named: the ears were asked for by name, so that all of them hear everything.
    """

    cache: Path
    ears: Sequence[str]
    compared: Sequence[System]
    conditions: Sequence[Condition] = CONDITIONS
    each: int | None = None
    model: Path | None = None
    long: bool = True
    fresh: bool = False
    processes: int = 2
    named: bool = False

    def hears(self, ear: str, part: str) -> bool:
        """Does this ear listen to that part?"""
        return self.named or not EARS[ear].plain or part != "tuning"


def measured(name: str, plan: Plan, bar: Bar) -> Part:
    """Speak, listen and score one part."""
    spoken = speech_set(name, conditions=plan.conditions, each=plan.each)
    chatter_minutes, noise_minutes = _minutes(name, plan)
    with bar(f"{name}: sound", len(spoken)) as step:
        sound = sound_of(
            name, spoken, plan.cache, step, chatter_minutes=chatter_minutes,
            noise_minutes=noise_minutes, processes=plan.processes,
        )  # fmt: skip
    heard = _heard(name, plan, spoken, sound, bar)
    job = _Job(spoken, sound.chatter, sound.noise)
    compared = [system for system in plan.compared if all(ear in heard for ear in system.ears)]
    made: dict[str, list[Outcome]] = {}
    talk: dict[str, list[FalseOne]] = {}
    quiet: dict[str, list[FalseOne]] = {}
    with bar(f"{name}: reading", len(compared)) as step:
        work = [(system, {ear: heard[ear] for ear in system.ears}) for system in compared]
        for system, *found in _side_by_side(job, work, plan.processes):
            made[system], talk[system], quiet[system] = found
            step()
    return Part(
        name, spoken, heard, {system.name: made[system.name] for system in compared},
        talk, quiet, chatter_minutes / 60, noise_minutes / 60,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Job:
    """What every system of a part is to make something of."""

    spoken: Sequence[Spoken]
    chatter: Sequence[Caught]
    noise: Sequence[Caught]


Made = tuple[str, list[Outcome], list[FalseOne], list[FalseOne]]


def _side_by_side(
    job: _Job, work: Sequence[tuple[System, HeardBy]], processes: int
) -> Iterator[Made]:
    spawn = multiprocessing.get_context("spawn")
    with spawn.Pool(processes, _begin, (job,)) as pool:
        yield from pool.imap_unordered(_read, work)


_job: _Job | None = None


def _begin(job: _Job) -> None:
    global _job
    _job = job


def _read(work: tuple[System, HeardBy]) -> Made:
    """All that a system makes of a part."""
    assert _job is not None
    system, heard = work
    return (
        system.name,
        outcomes(system, _job.spoken, heard),
        false_ones(system, _job.chatter, heard),
        false_ones(system, _job.noise, heard),
    )


def _minutes(name: str, plan: Plan) -> tuple[int, int]:
    """Of chatter and of noise: whole ones, fewer for a quick look."""
    if not plan.long:
        return 0, 0
    share = min(1.0, (plan.each or EACH[name]) / EACH[name])
    return max(1, round(share * CHATTER_MINUTES)), max(1, round(share * NOISE_MINUTES))


def _heard(
    name: str, plan: Plan, spoken: Sequence[Spoken], sound: Sound, bar: Bar
) -> dict[str, Hearings]:
    listening = Listening(
        plan.cache / "heard", model=plan.model, fresh=plan.fresh, processes=plan.processes
    )
    heard = {}
    for ear in (ear for ear in plan.ears if plan.hears(ear, name)):
        files, only = sound.all_files(), _limits(plan, ear)
        if only:
            files = {s.key: sound.files[s.key] for s in spoken if s.condition.name in only}
        with bar(f"{name}: {ear}", len(files)) as step:
            heard[ear] = listening.hear(ear, files, step)
    return heard


def _limits(plan: Plan, ear: str) -> tuple[str, ...]:
    return () if plan.named else EARS[ear].only


def costs(part: Part, plan: Plan, bar: Bar) -> dict[str, Cost]:
    """Every ear alone on the machine, over the same clips."""
    keys = fixed_subset([spoken.key for spoken in part.spoken], TIMED)
    clips = [plan.cache / CLIPS / f"{key}.flac" for key in keys]
    found = {}
    with bar("time and memory", len(plan.ears)) as step:
        for ear in plan.ears:
            found[ear] = cost(ear, plan.model, clips)
            step()
    return found
