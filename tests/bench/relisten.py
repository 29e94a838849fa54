"""Measure listening again; run ``python tests/bench/relisten.py`` with the extra ``second-ear``.

The bundled recordings are put into more shop noise than they have, heard by the built-in ear into a
log, and heard again from that log's own clips by another ear, alone and together with what the log
kept. An entry counts as right where it has every slot that the manifest wants. All speech is
synthetic.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import tempfile
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
import page
import soundfile
from measure import table
from score import as_entry, same
from yardstick.voices import studio

from voicelog.config.data import samples_dir
from voicelog.config.settings import Settings
from voicelog.domain.entry import Add, Finding
from voicelog.runtime.listening import hear_files
from voicelog.runtime.opening import open_listening, open_the_ear
from voicelog.runtime.proposals import Proposal
from voicelog.runtime.relisten import relisten
from voicelog.runtime.replay import counts

NAME = "relisten"
SEED = 7
HEAD = (
    "log", "heard again", "wrong entries", "missing", "put right", "still wrong", "right entries",
    "spoiled", "added falsely", "s a clip",
)  # fmt: skip
_MARKS = ("from", "reason", "doubtful", "withdrawn")

Want = Mapping[str, Any]


@dataclass
class Kept:
    """A log, and which recording each of its utterances is of."""

    folder: Path
    names: dict[str, str]
    standing: list[Finding]


def noisy(manifest: Mapping[str, Any], snr_db: float, into: Path) -> list[Path]:
    """The recordings in shop noise so many decibels below the speech."""
    make, rng = studio(), np.random.default_rng(SEED)
    into.mkdir(parents=True, exist_ok=True)
    paths = []
    for utterance in manifest["utterances"]:
        sound, rate = soundfile.read(samples_dir() / utterance["file"])
        noise = make.shop(len(sound), rng)
        level = make.rms(sound) * 1.2 * make.amplitude(-snr_db)
        mixed = sound + noise / make.rms(noise) * level
        paths.append(into / utterance["file"])
        soundfile.write(paths[-1], mixed * min(1.0, 0.9 / np.abs(mixed).max()), rate)
    return paths


def listen(paths: Sequence[Path], into: Path, bias: float) -> Kept:
    """Hear the recordings into a log with the built-in ear."""
    current: list[str] = []
    names: dict[str, str] = {}
    with open_listening(Settings(into=into, ear="built-in", bias=bias)) as session:
        events = hear_files(
            session, paths, Settings(), progress=lambda path: current.append(path.stem)
        )
        for event in events:
            names[event.utterance] = current[-1]
        session.close("end of sound")
        folder = session.folder
        standing = [f for f in session.inspection().live if counts(f.entry)]
    assert folder is not None
    return Kept(folder, names, standing)


def fits(want: Want, finding: Finding) -> bool:
    """The entry has every slot that is wanted."""
    got = as_entry(finding)
    return all(same(v, got.get(n)) for n, v in want.items() if n not in _MARKS)


def matched(kept: Kept, wanted: Iterable[Want]) -> tuple[set[str], list[Want]]:
    """Ids of the right entries, and what nobody has."""
    left, right = list(wanted), set()
    for finding in kept.standing:
        name = kept.names[finding.entry.utterance]
        fit = next((w for w in left if w["from"] == name and fits(w, finding)), None)
        if fit is not None:
            left.remove(fit)
            right.add(finding.entry.id)
    return right, left


def judged(kept: Kept, wanted: Iterable[Want], proposals: Sequence[Proposal]) -> Iterator[str]:
    """What each proposal would do: put right, still wrong, spoiled, added falsely, or nothing."""
    right, left = matched(kept, wanted)
    for proposal in proposals:
        name = kept.names[proposal.utterance]
        now = proposal.now
        mine = [w for w in left if w["from"] == name]
        fit = next((w for w in mine if now is not None and fits(w, now)), None)
        if proposal.entry in right:
            kept_right = now is not None and any(w["from"] == name and fits(w, now) for w in wanted)
            yield "nothing" if kept_right else "spoiled"
        elif fit is not None or (now is None and not mine):
            if fit is not None:
                left.remove(fit)
            yield "put right"
        else:
            yield "added falsely" if isinstance(proposal.changes[0], Add) else "still wrong"


def rows(
    kept: Kept, title: str, wanted: Sequence[Want], how: Sequence[str], *, tell: bool
) -> Iterator[list[str]]:
    """One row for each way to hear the log again."""
    right, left = matched(kept, wanted)
    wrong = len(kept.standing) - len(right)
    for way in how:
        name, _, joint = way.partition(" ")
        begun = time.perf_counter()
        told = relisten(
            kept.folder, Settings(), joint=joint == "joint",
            ear=partial(open_the_ear, replace(Settings(), ear=name)),
        )  # fmt: skip
        spent = (time.perf_counter() - begun) / max(1, told.looked_at)
        found = list(judged(kept, wanted, told.proposals))
        if tell:
            for proposal, what in zip(told.proposals, found, strict=True):
                print(f"{way}: {kept.names[proposal.utterance]} {proposal.entry} {what}: "
                      f"{proposal.heard_before!r} -> {proposal.heard_now!r} {proposal.differs}")  # fmt: skip
        count = partial(lambda what, found: str(found.count(what)), found=found)
        yield [
            title, way, str(wrong), str(len(left)), count("put right"), count("still wrong"),
            str(len(right)), count("spoiled"), count("added falsely"), f"{spent:.2f}",
        ]  # fmt: skip


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--snr", type=float, nargs="*", default=[16.0, 12.0, 8.0])
    parser.add_argument("--ears", nargs="*", default=["second"])
    parser.add_argument("--tell", action="store_true", help="list every proposal")
    parser.add_argument("--write", action="store_true", help="put the table into the README")
    given = parser.parse_args()
    if given.write:
        page.around(NAME)  # rather now than after minutes of work
    manifest = json.loads((samples_dir() / "manifest.json").read_text("utf-8"))
    how = [f"{ear} {way}" for ear in given.ears for way in ("joint", "alone")]
    lines: list[list[str]] = []
    with tempfile.TemporaryDirectory() as folder:
        for snr_db in given.snr:
            here = Path(folder) / f"{snr_db:g}"
            kept = listen(noisy(manifest, snr_db, here), here / "logs", 0.4)
            lines += rows(
                kept, f"shop noise, {snr_db:g} dB", manifest["final"], how, tell=given.tell
            )
        plain = [samples_dir() / u["file"] for u in manifest["utterances"]]
        kept = listen(plain, Path(folder) / "plain", 0.0)
        lines += rows(kept, "as bundled, no bias", manifest["final"], how, tell=given.tell)
    text = f"{_notes()}\n\n{table(HEAD, lines)}"
    print(text)
    if given.write:
        page.write(NAME, text)


def _notes() -> str:
    return (
        f"Measured {date.today():%Y-%m-%d} by `python tests/bench/relisten.py`: the bundled recordings "
        f"in more shop noise than they have, heard by the built-in ear ({os.cpu_count()} cores, "
        f"{platform.machine()}). Right is every slot as the manifest wants it. Missing are entries that "
        f"the log does not have at all, among them those of utterances of which it kept no sound."
    )


if __name__ == "__main__":
    main()
