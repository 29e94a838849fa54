"""A program killed while it writes: everything acknowledged is there afterwards."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

from voicelog.journal.journal import Journal
from voicelog.journal.reading import Report, read_log, verify

SEED = 20260314
KILLS = 10

CHILD = """
import sys
from pathlib import Path
from voicelog.domain.sound import Clip
from voicelog.journal.journal import Journal

journal = Journal.reopen(Path(sys.argv[1]))
while True:
    n = journal.next_seq
    sound = {}
    if n % 3 == 0:
        sound = {"clip": journal.keep_clip(f"u{n}", Clip(bytes(range(n % 200 + 2)) * 400, n, n))}
    fact = journal.append("utterance", {"utterance": f"u{n}", "text": "x" * (n % 7000), **sound})
    print(fact.seq, flush=True)
"""


def _kill_after(folder: Path, moment_s: float) -> int:
    """Lets a child write for so long after its first fact; gives the last one acknowledged."""
    command = [sys.executable, "-c", CHILD, str(folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        first = child.stdout.readline()
        time.sleep(moment_s)
        child.kill()
        said = [first, *child.stdout.readlines()]
    whole = [int(line) for line in said if line.endswith("\n")]
    assert whole == list(range(whole[0], whole[0] + len(whole)))
    return whole[-1]


def test_nothing_acknowledged_is_lost(journal: Journal) -> None:
    """Ten kills of one log, each child going on where the last one was killed."""
    journal.close()
    moments = random.Random(SEED)
    for _ in range(KILLS):
        before = len(read_log(journal.folder).facts)
        acknowledged = _kill_after(journal.folder, moments.uniform(0.0, 0.15))
        facts = read_log(journal.folder).facts
        assert len(facts) >= acknowledged > before
        for fact in facts[2:]:
            assert len(fact.body["text"]) == fact.seq % 7000
    with Journal.reopen(journal.folder) as again:
        again.append("closed", {})
    report = verify(journal.folder)
    assert report.problems == ()
    assert report.clips == _with_sound(report)


def _with_sound(report: Report) -> int:
    """Every third utterance from the third line on, the closing line left out."""
    return (report.lines - 1) // 3
