"""The harness of mutants: what it lists is there, and it says what it needs."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))

import mutation
import mutation_known
import mutation_places
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
    known = mutation_known.explained()
    stale = [key for key in known if key.where not in mutation_known.places(key.file, key.old)]
    assert stale == []
    assert all(why.endswith(".") and key.old != key.new for key, why in known.items())


def test_an_explanation_needs_a_place_where_its_line_stands_twice() -> None:
    """What is equivalent in one rule may be none in another; a line that stands once needs no place."""
    twice = mutation_known.places(TABLE, 'at_least = "repair"')
    assert {"rule probe-failed", "rule no-solid-metal"} <= {*twice}
    row = {"file": TABLE, "old": 'at_least = "repair"', "new": 'at_least = "treat"'}
    assert mutation_known.key_of(row).where == ""
    assert mutation_known.key_of({**row, "where": twice[0]}).where == twice[0]
    once = {"file": TABLE, "old": "mount_distance_mm = 300", "new": "mount_distance_mm = 299"}
    assert mutation_known.key_of(once).where == "limits"


def test_a_place_is_the_innermost_that_has_a_name() -> None:
    """Functions within classes within functions; what stands in none of them is the module's."""
    code = "A = 1\n\n\nclass B:\n    x = 2\n\n    def c(self):\n        return 3\n\n\nD = 4\n"
    places = mutation_places.places_of("a.py", code)
    told = {line.strip(): place for line, place in zip(code.split("\n"), places, strict=True)}
    assert told["A = 1"] == told["D = 4"] == "<module>"
    assert (told["x = 2"], told["return 3"]) == ("B", "B.c")


@pytest.mark.parametrize("file", AREAS["rules"].tests)
def test_each_mutant_of_a_rule_file_differs_in_one_place(file: str) -> None:
    """In one line, or in a whole rule that is gone; no two are known by the same key."""
    source = (ROOT / file).read_text(encoding="utf-8")
    made = list(mutation_rules.mutants_of(file, source))
    assert len({mutation_known.key(mutant) for mutant in made}) == len(made) > 30
    for mutant in made:
        if mutant.old.startswith("id = "):
            assert mutant.source.count("[[") == source.count("[[") - 1
            continue
        changed = [*zip(source.split("\n"), mutant.source.split("\n"), strict=True)]
        assert [pair[0].strip() for pair in changed if pair[0] != pair[1]] == [mutant.old]


def test_mutants_of_the_table_reach_whatever_grades_or_warns() -> None:
    """Limits move both ways, grades one step, a warning is forgotten, a rule with all it has."""
    made = list(mutation_rules.mutants_of(TABLE, (ROOT / TABLE).read_text(encoding="utf-8")))
    told = {(mutant.where, mutant.old): set() for mutant in made}
    for mutant in made:
        told[mutant.where, mutant.old].add(mutant.new)
    assert told["limits", "mount_distance_mm = 300"] == {
        "mount_distance_mm = 299", "mount_distance_mm = 301",
    }  # fmt: skip
    assert told["rule hole", 'grade = "repair"'] == {'grade = "treat"', 'grade = "unsafe"'}
    assert told["rule crack-in-line", 'caution = "Do not drive or tow this vehicle."'] == {""}
    assert told["work tank-surface", 'cautions = ["tank", "vapour"]'] == {
        'cautions = ["tank"]', 'cautions = ["vapour"]', "",
    }  # fmt: skip
    assert told["rule hole", 'id = "hole"'] == {""}


def test_without_its_extra_it_names_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Help comes without it; a run ends with how to get it."""
    monkeypatch.setattr(sys, "argv", ["mutation.py", "grading"])
    monkeypatch.setattr(mutation, "version", _missing)
    with pytest.raises(SystemExit, match=r"cosmic-ray is not installed: pip install .*fuzz"):
        mutation.main()
    assert "cosmic_ray" not in sys.modules


def _missing(name: str) -> str:
    raise mutation.PackageNotFoundError(name)
