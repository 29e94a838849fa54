"""``voicelog words check`` as a person sees it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.words import words


@pytest.fixture(autouse=True)
def no_settings_of_the_tester(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the tester has set plays no part, and no ear is loaded."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setattr("voicelog.runtime.words._unheard", lambda *_: ("none", None))


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A grammar folder with a handful of words, so that looking for pairs takes no time."""
    folder = tmp_path / "small"
    for name, text in (("words/a.toml", SMALL), ("overlays/names.toml", "forget_names = true\n")):
        (folder / name).parent.mkdir(parents=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


SMALL = """\
[[meaning]]
slot = "rust"
value = "surface-rust"
say = ["rust"]

[[meaning]]
slot = "condition"
value = "hole"
say = ["hole"]

[[meaning]]
slot = "filler"
value = "filler"
say = ["whole"]

[[meaning]]
slot = "act"
value = "same"
say = ["same again"]

[[meaning]]
slot = "act"
value = "say-again"
say = ["say again"]

[[confusion]]
say = "rust"
heard = ["rest"]
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A shop's own file with one word that sounds like another."""
    file = tmp_path / "shop.toml"
    file.write_text(
        '[[meaning]]\nslot = "condition"\nvalue = "scale"\nsay = ["roast"]\n', encoding="utf-8"
    )
    return file


def checked(*arguments: object) -> Result:
    """The command's result, its exit code asserted."""
    result = CliRunner().invoke(words, ["check", *map(str, arguments)])
    assert result.exit_code == 0, result.output
    return result


def test_pairs_stand_under_three_headings_ones_own_first(small: Path, shop: Path) -> None:
    """What the shop can change, what nothing tells apart, what the context decides."""
    out = checked("--grammar", small, "--words", shop).output
    marks = ["In your own files", "rust / roast", "Nothing around them", "same again / say again",
             "Safe only in context", "hole / whole", "Known to be taken", "rust -> rest"]  # fmt: skip
    places = [out.index(mark) for mark in marks]
    assert places == sorted(places)
    assert "condition scale (" in out
    assert "shop.toml:4)" in out


def test_without_own_words_that_heading_is_not_there(small: Path) -> None:
    """An empty heading says nothing."""
    assert "In your own files" not in checked("--grammar", small).output


def test_a_high_threshold_leaves_little(small: Path) -> None:
    """``--least 1`` tells only what sounds the same."""
    out = checked("--grammar", small, "--least", "1").output
    assert "Sounds alike: 1 pair from" in out
    assert "hole / whole" in out


def test_json_holds_the_same(small: Path, shop: Path) -> None:
    """One object: the counts, the pairs with scores and places, the known confusions."""
    report = json.loads(checked("--grammar", small, "--words", shop, "--json").output)
    assert report["phrases"] == 6
    first = report["clashes"][0]
    assert (first["other"]["text"], first["other"]["own"]) == ("roast", True)
    assert 0.85 <= first["score"] <= 1
    assert [pair["said"] for pair in report["known"]] == ["rust"]


def test_another_language_is_checked_by_its_name() -> None:
    """A shipped language needs no path."""
    out = checked("--grammar", "de").output
    assert "conditions.toml" in out
    assert "same again" not in out
