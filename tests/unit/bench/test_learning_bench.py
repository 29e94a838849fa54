"""The bench of learning: its halves share nothing, and a correction is one as at the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import halves
import learning
import pytest
from corpus import case_of

from voicelog.config.grammar import load_grammar
from voicelog.domain.fact import changes_of
from voicelog.domain.heard import Heard
from voicelog.findings.ledger import fold


@pytest.fixture(autouse=True)
def no_sound(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every sentence is heard as it is, and there are few."""

    def hear(said: Sequence[learning.Utterance], _: Path) -> Iterator[Heard]:
        return (Heard.typed(utterance.text) for utterance in said)

    sentences = [
        case_of({"id": f"t{n}", "say": [f"left sill, hole, {n} mm"], "want": []}, "tuning", "hand")
        for n in range(learning.COUNT)
    ]
    monkeypatch.setattr(learning, "hear", hear)
    monkeypatch.setattr(learning, "_sentences", lambda _: sentences)


def test_the_halves_share_no_sentence_and_are_the_same_in_every_run() -> None:
    """And everybody's sentences are those of one person."""
    first, second = learning._halves(learning.EVERYBODY, "hand", Path())
    assert not {case.id for case in first.cases} & {case.id for case in second.cases}
    assert learning._halves(learning.EVERYBODY, "hand", Path()) == (first, second)
    assert learning._halves(learning.PERSONS[:1], "hand", Path())[0].cases == first.cases


def test_a_correction_gives_the_entries_their_slots_and_withdraws_the_others() -> None:
    """The log folds, and what was corrected stands as it was wanted."""
    grammar = load_grammar()
    want = {"kind": "finding", "zone": "sill", "side": "left", "condition": "hole"}
    text = "left floor pan, hole, right wheel arch, crack"
    case = case_of({"id": "t1", "say": [text], "want": [want]}, "tuning", "hand")
    half = halves.Half((case,), (Heard.typed(text),))
    log = halves.Log(half, halves.Mind(grammar))
    log.correct(2, case)
    (entry,) = [f.entry for f in fold(log.facts, grammar.zone_map, grammar.rules).live]
    assert {**entry.slots, "kind": "finding"}.items() >= want.items()
    assert len(changes_of(log.facts[-1])) == 2


def test_the_table_counts_what_was_fixed_and_broken() -> None:
    """Sentence by sentence, not the difference of two sums."""
    both = ([False, False, True, True], [True, False, False, True])
    row = learning.Row("somebody", both, both, (1, 2), 3, ())
    text = learning._text([row])
    cells = ("somebody", "3", "0", "0", "50.0 % (2/4)", "**50.0 % (2/4)**", "1", "1", "1 → 2")
    assert text.splitlines()[-1] == f"| {' | '.join(cells)} |"
