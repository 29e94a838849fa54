"""Measure the hand-over; run ``python tests/bench/handover.py``.

Three tables: photographs matched to entries on simulated walks, beside two plain ways in the same
run; what could change a verdict against folding the whole log again for every supposition; and how
long each hand-over takes. ``--write`` puts them between the markers of the README, ``--walks`` makes
another number of walks.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import shutil
import statistics
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from functools import partial
from importlib.metadata import version
from itertools import cycle, islice
from pathlib import Path
from time import perf_counter
from typing import Any, TypeVar

import page
from photo_table import photo_text
from relisten import listen
from shares import markdown

from voicelog.cli.why_lines import Why, entry_lines, verdict_lines
from voicelog.cli.work import work_of
from voicelog.config.cache import checked_grammar
from voicelog.config.data import samples_dir
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Change, Kind
from voicelog.domain.fact import changes_of
from voicelog.findings.ledger import Ledger
from voicelog.findings.places import place_in_words
from voicelog.findings.what_if.sensitivity import swings
from voicelog.findings.what_if.suppositions import Suppositions
from voicelog.runtime.comparing import compared
from voicelog.runtime.exports import FORMS, Wanted, export_spoken, exported
from voicelog.runtime.going_on import rails_then
from voicelog.runtime.inspections import inspections
from voicelog.runtime.logs import Opened, open_log
from voicelog.runtime.opening import open_reading

T = TypeVar("T")

NAME = "handover"
WALKS, FINDINGS, LOGS, TIMES = 200, 300, 50, 5
FAULTS = (
    "surface rust", "scale", "hole, {} millimetres", "pitting, might be deep", "crack", "dent",
    "soft spot", "pack rust, probed it, firm", "thinning, {} millimetres left",
)  # fmt: skip
MILD = ("surface rust, probed it, firm", "the paint is peeling", "just brown staining")
"""So that the verdict can still change."""


def what_if_row(opened: Opened) -> list[str]:
    """What could change the verdict, both ways; refuses to go on where they differ."""
    grammar, rails = opened.grammar, rails_then(opened.log.facts[0].body)
    own = partial(swings, opened.inspection, grammar.zone_map, grammar.rules, rails)
    plain = partial(folded_again, opened)
    (ours_s, found), (plain_s, again) = measured(own), measured(plain)
    if len(found) != sum(again):
        raise SystemExit("the two ways to find what could change the verdict differ")
    return [str(len(found)), f"{ours_s:.2f} s", f"{plain_s:.1f} s", f"{plain_s / ours_s:.0f} ×"]


def folded_again(opened: Opened) -> list[bool]:
    """Of each open place or entry whether it could change the verdict: the whole log is folded again
    for every supposition.
    """
    grammar, said = opened.grammar, [c for fact in opened.log.facts for c in changes_of(fact)]
    now = _answers(opened, said)
    return [
        {_answers(opened, [*said, *outcome.changes]) for outcome in one.outcomes} != {now}
        for one in Suppositions(opened.inspection, grammar.zone_map, grammar.rules).all()
    ]


def _answers(opened: Opened, changes: Sequence[Change]) -> tuple[str, str, str]:
    grammar, rails = opened.grammar, rails_then(opened.log.facts[0].body)
    ledger = Ledger(grammar.zone_map, grammar.rules, rails)
    ledger.take(changes)
    verdict = ledger.inspection().verdict
    return verdict.drive, verdict.work, verdict.tier


def time_rows(logs: Sequence[tuple[Path, Path]], many: Path) -> Iterator[list[str]]:
    """Each hand-over of each log; an older log of the same vehicle is there to compare with."""
    for name, work in DEEDS.items():
        yield [name, *(_ms(median_s(partial(work, log, older))) for log, older in logs)]
    demo = logs[0][0]
    yield ["vtt with the clips joined", _ms(median_s(partial(_vtt, demo, many))), "– (no clips)"]
    listed = _ms(median_s(partial(inspections, many, Settings())))
    yield [f"list, {LOGS} logs of the demo's size", listed, ""]


def _why_entry(log: Path, _: Path) -> None:
    why = Why(open_log(log))
    graded = (f for f in why.opened.inspection.live if f.entry.kind is Kind.FINDING)
    list(entry_lines(why, next(graded)))


def _why(log: Path, _: Path) -> None:
    list(verdict_lines(Why(open_log(log)), everything=True))


def _vtt(log: Path, into: Path) -> None:
    export_spoken(log, into / "walk.vtt")


def _export(log: Path, _: Path, form: str) -> None:
    exported(log, Wanted(form))


DEEDS: Mapping[str, Callable[[Path, Path], Any]] = {
    "why, one entry": _why_entry,
    "why, the verdict, all of it": _why,
    "work list": lambda log, _: work_of(open_log(log)),
    **{form: partial(_export, form=form) for form in FORMS},
    "compare with another log of the size": lambda log, older: compared(older, log),
}


def median_s(work: Callable[[], Any]) -> float:
    """The median of :data:`TIMES` calls, as :func:`measured` takes it."""
    return measured(work)[0]


def measured(work: Callable[[], T]) -> tuple[float, T]:
    """The median of :data:`TIMES` calls in seconds, and what came of it; one call before is not
    counted, for it fills caches.
    """
    result, spent = work(), []
    for _ in range(TIMES):
        begun = perf_counter()
        result = work()
        spent.append(perf_counter() - begun)
    return statistics.median(spent), result


def _ms(seconds: float) -> str:
    return f"{1e3 * seconds:.0f} ms" if seconds < 1 else f"{seconds:.2f} s"


def write_log(into: Path, said: Sequence[str]) -> Path:
    """A log of sentences typed ten seconds apart."""
    with open_reading(Settings(into=into), keep=True, subject="bench") as session:
        for number, text in enumerate(said):
            session.read(text, at_s=10.0 * number)
        assert session.folder is not None
        return session.folder


def many_findings(grammar: Grammar, count: int, faults: Sequence[str] = FAULTS) -> list[str]:
    """As many sentences, each a finding at another place of the map, round and round."""
    zones = grammar.zone_map.zones.values()
    places = [
        place_in_words({"zone": z.id, "side": side} if side else {"zone": z.id}, grammar.zone_map)
        for z in zones
        for side in z.sides()
    ]
    pairs = zip(cycle(places), cycle(faults), strict=False)
    return [
        f"{place}, {fault.format(2 + number % 40)}"
        for number, (place, fault) in enumerate(islice(pairs, count))
    ]


def machine() -> str:
    """When and on what this was measured."""
    return (
        f"Measured {date.today():%Y-%m-%d} by `python tests/bench/handover.py`: {os.cpu_count()} cores "
        f"({platform.machine()}), Python {platform.python_version()}, typst {version('typst')}, jinja2 "
        f"{version('jinja2')}; load average, other work included, {os.getloadavg()[0]:.1f}. Times are "
        f"of function calls in one process, caches full, each the median of {TIMES}."
    )


def log_text(into: Path, manifest: Mapping[str, Any], grammar: Grammar) -> str:
    """The tables of what is worked out from a log, and of each hand-over."""
    typed = [u["text"] for u in manifest["utterances"]]
    paths = [samples_dir() / u["file"] for u in manifest["utterances"]]
    demo, demo_typed = (
        listen(paths, into / "demo", Settings.bias).folder,
        write_log(into / "typed", typed),
    )
    said = many_findings(grammar, FINDINGS)
    large, older = write_log(into / "large", said), write_log(into / "older", said[::-1])
    for number in range(LOGS):
        shutil.copytree(demo_typed, into / "many" / f"{number:02}-{demo_typed.name}")
    mild = open_log(write_log(into / "mild", many_findings(grammar, FINDINGS, MILD)))
    found = sum(f.entry.kind is Kind.FINDING for f in open_log(large).inspection.live)
    what_if = markdown(
        [
            "all that could change the verdict",
            "found",
            "voicelog",
            "folded again for each",
            "ratio",
        ],
        [[f"{len(mild.inspection.live)} entries", *what_if_row(mild)]],
    )
    head = ["hand-over", f"the demo ({len(open_log(demo).inspection.live)} entries)", f"{found} findings"]  # fmt: skip
    times = markdown(head, list(time_rows([(demo, demo_typed), (large, older)], into / "many")))
    return f"{what_if}\n\n{times}"


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--write", action="store_true", help="put the tables into the README")
    parser.add_argument("--walks", type=int, default=WALKS, help="how many are simulated")
    asked = parser.parse_args()
    if asked.write:
        page.around(NAME)  # rather now than after minutes of work
    manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
    grammar = checked_grammar(Settings())
    with tempfile.TemporaryDirectory() as folder:
        parts = (
            machine(),
            photo_text(asked.walks, manifest, grammar),
            log_text(Path(folder), manifest, grammar),
        )
    text = "\n\n".join(parts)
    print(text)
    if asked.write:
        page.write(NAME, text)


if __name__ == "__main__":
    main()
