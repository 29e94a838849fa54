"""Measure voicelog over the bundled recordings; run ``python tests/bench/measure.py``.

``--wrong`` also lists every utterance that the whole pipeline got wrong; ``--write`` puts the table
between the markers of the README. Four pipelines in the same run: the recogniser with and without
the vocabulary's bias, each with the reading and with plain keyword search; beside them the
typed text, which is what the reading could reach if nothing were misheard. All speech is synthetic.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import Any

import page
from keyword_search import search
from score import Outcome, Score, as_entry, final_right, score

from voicelog.config.data import samples_dir
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Add
from voicelog.runtime.event import Event
from voicelog.runtime.listening import hear_files
from voicelog.runtime.opening import open_listening, open_reading
from voicelog.runtime.session import Session

COMMANDS = ("stand-by", "go-ahead", "finish", "say-again", "read-back")
SENTENCE = "left rear rail, hole the size of a quarter, six inches from the spring hanger"
OPENING = (
    "import time; from voicelog.config.settings import Settings; from pathlib import Path; import sys;"
    "from voicelog.runtime.opening import open_listening;"
    "open_listening(Settings(into=Path(sys.argv[1]), ear='built-in')); print(time.time())"
)


@dataclass(frozen=True)
class Run:
    """One pipeline over all recordings.

    Args:
        outcomes: one for each utterance.
        standing: entries that stand at the end, with the name of the utterance that made each.
        events: what the session said, empty for keyword search.
        wall_s: how long it took, reading and endpointing included.
        cpu_s: processor time of the same, which other work on the machine hardly changes.
    """

    outcomes: list[Outcome]
    standing: list[tuple[str, dict[str, Any]]]
    events: tuple[Event, ...] = ()
    wall_s: float = 0.0
    cpu_s: float = 0.0


def listen(manifest: dict[str, Any], bias: float) -> Run:
    """Hear every recording in one inspection, with so much bias."""
    names: list[str] = []
    told: dict[str, list[Event]] = {u["id"]: [] for u in manifest["utterances"]}
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(into=Path(folder), ear="built-in", bias=bias, second_ear="off")
        paths = [samples_dir() / u["file"] for u in manifest["utterances"]]
        with open_listening(settings) as session:
            begun, cpu = time.perf_counter(), time.process_time()
            marked = hear_files(
                session, paths, settings, progress=lambda path: names.append(path.stem)
            )
            for event in marked:
                told[names[-1]].append(event)
            spent = time.perf_counter() - begun, time.process_time() - cpu
            return run_of(session, told, *spent)


def type_in(manifest: dict[str, Any]) -> Run:
    """Read every utterance's text, at the moment at which its recording ends."""
    told: dict[str, list[Event]] = {}
    at_s = 0.0
    with open_reading(Settings(), keep=False) as session:
        for utterance in manifest["utterances"]:
            at_s += utterance["duration_s"]
            told[utterance["id"]] = [session.read(utterance["text"], at_s=at_s)]
        return run_of(session, told)


def run_of(
    session: Session, told: dict[str, list[Event]], wall_s: float = 0, cpu_s: float = 0
) -> Run:
    """What a session made of all recordings, from its events by the recordings' names."""
    outcomes = [_outcome(name, events) for name, events in told.items()]
    maker = {entry: outcome.name for outcome in outcomes for entry in outcome.made}
    standing = [(maker[f.entry.id], as_entry(f)) for f in session.inspection().live]
    events = tuple(event for events in told.values() for event in events)
    return Run(outcomes, standing, events, wall_s, cpu_s)


def _outcome(name: str, events: Sequence[Event]) -> Outcome:
    own = {c.entry.id for e in events for c in e.turn.changes if isinstance(c, Add)}
    touched = {f.entry.id: as_entry(f) for event in events for f in event.findings}
    acts = tuple(
        str(s.act) for event in events for s in event.reading.statements if s.act in COMMANDS
    )
    return Outcome(
        name,
        " ".join(event.heard.text for event in events),
        {n: e for n, e in touched.items() if n in own},
        {n: e for n, e in touched.items() if n not in own},
        acts,
    )


def look_up(grammar: Grammar, heard: Run) -> Run:
    """Keyword search over what another run heard."""
    texts = {outcome.name: outcome.heard for outcome in heard.outcomes}
    outcomes = list(search(grammar, texts))
    return Run(outcomes, [(o.name, e) for o in outcomes for e in o.made.values()])


def standing_by(typed: Run) -> frozenset[str]:
    """Names of the utterances said between "stand by" and "go ahead"."""
    inside, names = False, set()
    for outcome in typed.outcomes:
        if inside and "go-ahead" not in outcome.acts:
            names.add(outcome.name)
        inside = ("stand-by" in outcome.acts or inside) and "go-ahead" not in outcome.acts
    return frozenset(names)


def quality_rows(manifest: dict[str, Any], runs: Sequence[Run]) -> Iterator[list[str]]:
    """The rows that compare pipelines, in the order of ``runs`` (the typed text comes last)."""
    acts = {outcome.name: outcome.acts for outcome in runs[-1].outcomes}
    names = standing_by(runs[-1])
    scores = [score(manifest["utterances"], run.outcomes, acts, names) for run in runs]
    noisy = {u["id"] for u in manifest["utterances"] if u["noise"]}
    quiet = {u["id"] for u in manifest["utterances"]} - noisy
    finals = [final_right(manifest["final"], run.standing) for run in runs]
    wanted = len(manifest["final"])
    yield ["utterances exactly right, quiet", *(_share(s.exact, quiet) for s in scores), "≥ 85 %"]
    yield ["utterances exactly right, noisy", *(_share(s.exact, noisy) for s in scores), "≥ 70 %"]
    yield ["utterances exactly right, all", *(_share(s.exact, quiet | noisy) for s in scores), ""]
    yield ["… kind, place and condition alone",
           *(_share(s.place_and_condition, quiet | noisy) for s in scores), ""]  # fmt: skip
    yield ["entries right at the end", *(f"{right}/{wanted}" for right, _ in finals), ""]
    yield ["other entries at the end", *(str(others) for _, others in finals), ""]
    yield ["slot precision", *(_ratio(s.slots_right, s.slots_got) for s in scores), ""]
    yield ["slot recall", *(_ratio(s.slots_right, s.slots_wanted) for s in scores), ""]
    yield ["false entries from chatter, listening", *(str(s.false_listening) for s in scores), "0"]
    yield ["false entries from chatter, standing by",
           *(str(s.false_standing_by) for s in scores), "0"]  # fmt: skip
    yield ["wrong entries marked doubtful", *(f"{s.wrong_marked}/{s.wrong}" for s in scores), ""]
    yield ["right entries marked doubtful", *(f"{s.right_marked}/{s.right}" for s in scores), ""]


def wrong_list(manifest: dict[str, Any], run: Run, typed: Run) -> str:
    """Every utterance of a run that is not exact: what was heard, wanted and made."""
    acts = {outcome.name: outcome.acts for outcome in typed.outcomes}
    found: Score = score(manifest["utterances"], run.outcomes, acts, standing_by(typed))
    return "\n".join(f"{name}: {note}" for name, note in found.notes.items()) or "none"


def cost_rows(manifest: dict[str, Any], run: Run) -> Iterator[list[str]]:
    """The rows on time and memory of the whole pipeline."""
    decode = [event.timing.decode_s for event in run.events]
    total = [event.timing.total_s for event in run.events]
    length_s = sum(u["duration_s"] for u in manifest["utterances"])
    yield ["end of speech to text, median", f"{statistics.median(decode):.3f} s", "≤ 0.25 s"]
    yield ["end of speech to text, 95 of 100", f"{_p95(decode):.3f} s", ""]
    yield ["end of speech to entry on disk, median", f"{statistics.median(total):.3f} s", ""]
    yield ["end of speech to entry on disk, 95 of 100", f"{_p95(total):.3f} s", ""]
    yield ["processing time per second of sound", f"{run.wall_s / length_s:.3f} s", ""]
    yield ["processor time per second of sound", f"{run.cpu_s / length_s:.3f} s", ""]
    yield ["peak memory of `voicelog demo`", f"{demo_peak_mb():.0f} MB", "≤ 350 MB"]
    yield ["start to listening", f"{start_to_listening_s():.2f} s", ""]
    yield ['`voicelog read "…"`, median of 7', f"{read_s():.2f} s", "≤ 0.6 s"]


def demo_peak_mb() -> float:
    """Peak resident memory of the demo in a fresh process, in MB (POSIX only)."""
    with tempfile.TemporaryDirectory() as folder:
        child = subprocess.Popen(
            [sys.executable, "-m", "voicelog", "demo"], stdout=subprocess.DEVNULL, cwd=folder,
            env={**os.environ, "VOICELOG_INTO": folder, "VOICELOG_EAR": "built-in"},
        )  # fmt: skip
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise SystemExit(f"voicelog demo ended with {child.returncode}")
    unit = 1 if sys.platform == "darwin" else 1024
    return usage.ru_maxrss * unit / 1e6


def start_to_listening_s() -> float:
    """From the start of a process to an open session with its recogniser loaded, median of 3."""
    spent = []
    for _ in range(3):
        with tempfile.TemporaryDirectory() as folder:
            begun = time.time()
            shown = subprocess.check_output([sys.executable, "-c", OPENING, folder], text=True)
            spent.append(float(shown.split()[-1]) - begun)
    return statistics.median(spent)


def read_s() -> float:
    """One sentence read by a fresh process, median of 7."""
    spent = []
    for _ in range(7):
        begun = time.perf_counter()
        command = [sys.executable, "-m", "voicelog", "read", SENTENCE]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        spent.append(time.perf_counter() - begun)
    return statistics.median(spent)


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A Markdown table."""
    lines = [head, ["---"] + ["---:"] * (len(head) - 1), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def machine(manifest: dict[str, Any]) -> str:
    """When and on what this was measured."""
    said = manifest["utterances"]
    return (
        f"Measured {date.today():%Y-%m-%d}: {os.cpu_count()} cores ({platform.machine()}), "
        f"Python {platform.python_version()}, onnxruntime {version('onnxruntime')}; "
        f"{len(said)} synthetic utterances, {sum(u['chatter'] for u in said)} of them chatter, "
        f"{sum(u['noise'] is not None for u in said)} with shop noise at 20 to 5 dB. "
        f"Load average of the machine, other work included: {os.getloadavg()[0]:.1f}."
    )


def _share(exact: dict[str, bool], names: Iterable[str]) -> str:
    counted = [exact[name] for name in names if name in exact]
    return f"{_ratio(sum(counted), len(counted))} ({sum(counted)}/{len(counted)})"


def _ratio(part: int, whole: int) -> str:
    return f"{100 * part / whole:.0f} %" if whole else "–"


def _p95(values: Sequence[float]) -> float:
    return statistics.quantiles(values, n=20, method="inclusive")[-1]


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--write", action="store_true", help="put the table into the README")
    parser.add_argument("--wrong", action="store_true", help="list the wrong utterances")
    parser.add_argument("--quick", action="store_true", help="only the wrong utterances, then stop")
    asked = parser.parse_args()
    manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
    typed, biased = type_in(manifest), listen(manifest, Settings.bias)
    if asked.wrong or asked.quick:
        print(f"Wrong, typed text:\n{wrong_list(manifest, typed, typed)}\n")
        print(f"Wrong, heard:\n{wrong_list(manifest, biased, typed)}\n", flush=True)
    if asked.quick:
        return
    grammar, plain = load_grammar(), listen(manifest, 0.0)
    runs = [biased, plain, look_up(grammar, biased), look_up(grammar, plain), typed]
    head = ["", "voicelog", "no bias", "bias, keyword search", "no bias, keyword search",
            "typed text", "floor"]  # fmt: skip
    parts = (
        machine(manifest),
        table(head, quality_rows(manifest, runs)),
        table(["", "voicelog", "floor"], cost_rows(manifest, biased)),
    )
    text = "\n\n".join(parts)
    print(text)
    if asked.write:
        page.write("measured", text)


if __name__ == "__main__":
    main()
