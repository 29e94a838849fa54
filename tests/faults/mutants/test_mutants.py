"""The harness of mutants: what it lists is there, and it says what it needs."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))

import mutation
import mutation_rules
from mutation_areas import AREAS

ROOT = Path(__file__).parents[3]
TABLE = "grammar/rules/frame.toml"


@pytest.mark.parametrize("area", AREAS)
def test_every_file_and_test_of_an_area_is_there(area: str) -> None:
    """One that was renamed would be passed over without a word."""
    named = {path for file, tests in AREAS[area].tests.items() for path in (file, *tests)}
    assert [path for path in sorted(named) if not (ROOT / path).is_file()] == []


def test_an_explanation_is_of_a_line_that_still_stands() -> None:
    """Who changes the line has to look at its mutants again; each says why, and is another line."""
    known = mutation.explained()
    stale = [
        (file, old)
        for file, old, _ in known
        if old not in map(str.strip, (ROOT / file).read_text(encoding="utf-8").splitlines())
    ]
    assert stale == []
    assert all(why.endswith(".") and old != new for (_, old, new), why in known.items())


def test_mutants_of_the_table_leave_its_advice_alone() -> None:
    """Each differs in one line, above the first piece of work; limits move both ways."""
    source = (ROOT / TABLE).read_text(encoding="utf-8")
    made = list(mutation_rules.mutants_of(TABLE, source))
    assert max(mutant.line for mutant in made) < source.split("\n").index("[[work]]") + 1
    for mutant in made:
        changed = [*zip(source.split("\n"), mutant.source.split("\n"), strict=True)]
        assert [pair[0].strip() for pair in changed if pair[0] != pair[1]] == [mutant.old]
    moved = {mutant.new for mutant in made if mutant.old == "mount_distance_mm = 300"}
    assert moved == {"mount_distance_mm = 299", "mount_distance_mm = 301"}


def test_without_its_extra_it_names_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Help comes without it; a run ends with how to get it."""
    monkeypatch.setattr(sys, "argv", ["mutation.py", "grading"])
    monkeypatch.setattr(mutation, "version", _missing)
    with pytest.raises(SystemExit, match=r"cosmic-ray is not installed: pip install .*fuzz"):
        mutation.main()
    assert "cosmic_ray" not in sys.modules


def _missing(name: str) -> str:
    raise mutation.PackageNotFoundError(name)
