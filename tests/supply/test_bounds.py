"""Every dependency has a lower bound that was tried and an upper bound before the next break."""

from __future__ import annotations

import tomllib
from itertools import chain
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement
from packaging.version import Version

PYPROJECT: dict[str, Any] = tomllib.loads(
    (Path(__file__).parents[2] / "pyproject.toml").read_text("utf-8")
)
EXTRAS: dict[str, list[str]] = PYPROJECT["project"]["optional-dependencies"]
ALL = sorted(
    {
        *PYPROJECT["build-system"]["requires"],
        *PYPROJECT["project"]["dependencies"],
        *chain(*EXTRAS.values()),
    }
)


def bounds(line: str) -> dict[str, str]:
    """The comparisons of one requirement: operator to version."""
    return {one.operator: one.version for one in Requirement(line).specifier}


@pytest.mark.parametrize("line", ALL)
def test_has_a_lower_and_an_upper_bound(line: str) -> None:
    """One exact version, or at least one and less than another that is higher."""
    found = bounds(line)
    if found.keys() == {"=="}:
        return
    assert found.keys() == {">=", "<"}, line
    assert Version(found[">="]) < Version(found["<"])


@pytest.mark.parametrize("name", sorted({Requirement(line).name for line in ALL}))
def test_is_asked_for_alike_everywhere(name: str) -> None:
    """An extra may pin one version within the common bounds, and nothing else."""
    lines = [Requirement(line) for line in ALL if Requirement(line).name == name]
    ranges = {str(one.specifier) for one in lines if "==" not in str(one.specifier)}
    assert len(ranges) <= 1
    pins = [one for one in lines if "==" in str(one.specifier)]
    assert all(Version(str(pin.specifier)[2:]) in one.specifier for pin in pins for one in lines)


def test_nothing_is_taken_from_elsewhere_than_an_index() -> None:
    """No address, no file, no repository."""
    assert [line for line in ALL if Requirement(line).url] == []
