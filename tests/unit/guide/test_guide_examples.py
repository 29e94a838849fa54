"""The guide's example files stand up to what the guide says of them."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from voicelog.config.grammar import load_grammar
from voicelog.runtime.words_page import words_page

FILES = {"shop.toml": "--words", "trailer.toml": "--map"}


@pytest.mark.parametrize("name", FILES)
def test_words_check_finds_nothing_wrong(
    name: str, workshop: Path, run: Callable[..., Result], monkeypatch: pytest.MonkeyPatch
) -> None:
    """It loads, and none of its phrases sounds like another one of the same kind."""
    monkeypatch.setattr("voicelog.runtime.words._unheard", lambda *_: ("none", None))
    result = run("words", "check", FILES[name], name, "--json")
    assert result.exit_code == 0, result.output
    told = json.loads(result.output)
    ours = [clash for clash in told["clashes"] if name in json.dumps(clash)]
    assert all(clash["in_context"] for clash in ours), ours


def test_every_place_of_the_trailer_is_told_to_a_buyer_or_is_none_of_theirs(
    workshop: Path,
) -> None:
    """The example teaches by being whole: six places, each drawn, most with what they carry."""
    zones = load_grammar(str(workshop / "trailer.toml")).zone_map.zones.values()
    assert len(zones) == 6
    assert all(zone.plan for zone in zones)
    assert sum(bool(zone.carries) for zone in zones) >= 4


def test_own_words_are_on_the_printed_page(workshop: Path) -> None:
    """The page of the trailer names its places and nobody else's."""
    page = words_page(load_grammar(str(workshop / "trailer.toml")))
    places = next(section for section in page.sections if section.title == "Places")
    assert [row.name for row in places.rows] == [
        "coupling", "drawbar", "side beam", "cross beam", "axle mount", "floor",
    ]  # fmt: skip
