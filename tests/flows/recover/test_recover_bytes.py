"""Bits turned over and files cut off anywhere: what is whole is found again."""

from __future__ import annotations

import random
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from recovering_log import facts_but_first

from voicelog.domain.entry import Inspection
from voicelog.errors import LogFault
from voicelog.findings.ledger import fold
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.runtime.damaged import is_damaged, plan_recovery
from voicelog.runtime.logs import open_log
from voicelog.runtime.recovering import recover


def _flips(text: bytes, chance: random.Random, times: int) -> Iterator[tuple[int, bytes]]:
    for _ in range(times):
        place = chance.randrange(len(text))
        turned = text[place] ^ (1 << chance.randrange(8))
        yield place, text[:place] + bytes((turned,)) + text[place + 1 :]


def _folded(folder: Path, grammar: Any) -> Inspection:
    return fold(read_log(folder).facts, grammar.zone_map, grammar.rules)


def test_one_bit_anywhere_is_found_again(log: Path, lines: list[bytes], tmp_path: Path) -> None:
    """At 300 places: every line but the last comes back as it was written, by its hash."""
    text, before, opened = b"".join(lines), facts_but_first(log), open_log(log)
    behind = len(text) - len(lines[-1])
    for number, (place, flipped) in enumerate(_flips(text, random.Random(20260314), 300)):
        (log / "journal.jsonl").write_bytes(flipped)
        if place < behind:
            assert is_damaged(log), place
        plan = plan_recovery(log)
        found = [(fact.seq, fact.type, fact.body) for fact in plan.facts()]
        last = len(before) if place < behind else len(before) - 1
        assert found[:last] == before[:last], place
        if number % 50 == 0:
            new = recover(plan, tmp_path / "new")
            assert (new.check.ok, facts_but_first(new.folder)) == (True, found), place
            same = _folded(new.folder, opened.grammar).findings
            assert same == opened.inspection.findings, place
            shutil.rmtree(new.folder)
        assert (log / "journal.jsonl").read_bytes() == flipped


def test_cut_after_every_byte(tmp_path: Path) -> None:
    """A log of three short lines: whatever is whole is recovered, and the rest is kept beside."""
    grammar = {"maps/ladder-frame.toml": b"# no places\n"}
    with Journal.create(tmp_path, opened={"map": "ladder-frame"}, grammar=grammar) as journal:
        journal.append("gap", {"why": "nobody knows"})
        journal.append("closed", {"reason": "finished"})
    text = (journal.folder / "journal.jsonl").read_bytes()
    first = text.index(b"\n")
    for cut in range(len(text)):
        (journal.folder / "journal.jsonl").write_bytes(text[:cut])
        if cut < first:
            with pytest.raises(LogFault, match="Nothing in the journal can be recovered"):
                plan_recovery(journal.folder)
            continue
        plan = plan_recovery(journal.folder)
        whole = text[: cut + 1].count(b"\n")
        assert (len(plan.taken.lines), plan.told.lost) == (whole, [])
        torn = b"" if text[cut : cut + 1] == b"\n" else text[:cut].rpartition(b"\n")[2]
        assert b"".join(rest.data for rest in plan.missing) == torn
