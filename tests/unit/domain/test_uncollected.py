"""Pausing the search for objects that only hold each other."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest

from voicelog.domain import uncollected as module
from voicelog.domain.uncollected import uncollected


@pytest.fixture(autouse=True)
def _as_it_was() -> Iterator[None]:
    """The search goes on after a test, over everything."""
    yield
    gc.unfreeze()
    gc.enable()


def test_nothing_is_searched_meanwhile() -> None:
    """And afterwards it goes on, also where the work failed."""
    with uncollected():
        assert not gc.isenabled()
    assert gc.isenabled()
    with pytest.raises(ValueError, match="on purpose"), uncollected():
        raise ValueError("on purpose")
    assert gc.isenabled()


def test_within_another_pause_it_does_nothing() -> None:
    """The outer one ends it."""
    with uncollected():
        with uncollected():
            pass
        assert not gc.isenabled()


@pytest.mark.parametrize("many", [True, False])
def test_only_what_is_very_much_is_left_out_of_later_searches(
    monkeypatch: pytest.MonkeyPatch, many: bool
) -> None:
    """Garbage of an ordinary log is found as ever."""
    monkeypatch.setattr(module, "MANY", 1_000)
    before = gc.get_freeze_count()
    with uncollected():
        made = [[number] for number in range(5_000 if many else 50)]
    assert (gc.get_freeze_count() > before) is many
    assert made
