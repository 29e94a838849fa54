"""Where the distance from a mounting would decide, it is asked for; where it would not, nobody is asked.

UK MOT inspection manual, Appendix A: corrosion within 30 cm of a mounting belongs to the mounting.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.slot import CONDITIONS
from voicelog.findings.grading import Graded, Grader

Graders = dict[str, Grader]

ASKED = "Say how far it is from the nearest"
ROT = ("hole", "soft-spot")
CARRY = [
    *(("ladder-frame", zone) for zone in ("front-rail", "mid-rail", "kick-up", "rear-rail")),
    *(("unibody", zone) for zone in ("front-rail", "kick-up", "sill")),
    *(("backbone", zone) for zone in ("front-fork", "backbone")),
]
"""Main members, and the sills of a shell, which carry load as well."""

OTHERS = [
    *(("ladder-frame", zone) for zone in ("outrigger", "sill", "frame-horn", "shock-mount", "cab-mount")),
    *(("unibody", zone) for zone in ("a-post", "wheel-arch", "floor-pan")),
    ("backbone", "sill"),
]  # fmt: skip


@pytest.fixture(scope="module")
def graders() -> Graders:
    """The shipped table on each map."""
    loaded = {name: load_grammar(name) for name in ("ladder-frame", "unibody", "backbone")}
    return {name: Grader(grammar.zone_map, grammar.rules) for name, grammar in loaded.items()}


@pytest.fixture
def graded(graders: Graders) -> Callable[..., Graded]:
    """Grades a finding on a map."""

    def grade(name: str, **slots: str | float) -> Graded:
        entry = Entry("e1.1", "u1", "2026-03-14T09:00:00Z", Kind.FINDING, slots)
        return graders[name].grade(entry)

    return grade


def _asks(found: Graded) -> bool:
    return any(caution.startswith(ASKED) for caution in found.cautions)


@pytest.mark.parametrize(("name", "zone"), CARRY)
@pytest.mark.parametrize("condition", ROT)
def test_rot_in_what_carries_is_repair_until_its_distance_is_known(
    name: str, zone: str, condition: str, graded: Callable[..., Graded]
) -> None:
    """Then it is unsafe within 30 cm, and repair beyond; either way nobody is asked any more."""
    unsaid = graded(name, zone=zone, condition=condition)
    assert (unsaid.grade, _asks(unsaid)) == ("repair", True)
    told = [
        graded(name, zone=zone, condition=condition, mount_distance_mm=mm) for mm in (300.0, 301.0)
    ]
    assert [(found.grade, _asks(found)) for found in told] == [("unsafe", False), ("repair", False)]


@pytest.mark.parametrize(("name", "zone"), OTHERS)
@pytest.mark.parametrize("condition", ROT)
def test_it_is_asked_of_nothing_else(
    name: str, zone: str, condition: str, graded: Callable[..., Graded]
) -> None:
    """Of no bracket, panel or post, nor of a mounting, which is no distance from itself."""
    assert not _asks(graded(name, zone=zone, condition=condition))


@pytest.mark.parametrize(("name", "zone"), CARRY)
def test_it_is_asked_of_rot_only(name: str, zone: str, graded: Callable[..., Graded]) -> None:
    """A crack in a rail is unsafe wherever it is, and a mark is none anywhere."""
    others = [condition for condition in CONDITIONS if condition not in ROT]
    assert not any(_asks(graded(name, zone=zone, condition=condition)) for condition in others)
