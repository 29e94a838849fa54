"""Every command that the guide shows exists as it is written, and the quick ones are run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result
from guide_reader import calls, named_command

from voicelog.cli.topics import topics

SHOWN = [(name, words) for name, topic in topics().items() for words in calls(topic.text)]
SLOW = {"start", "demo", "warm-up", "doctor", "review", "erase", "measure"}
"""Need a microphone, a speaker, a screen, or minutes of sound: checked, not run."""
CHECKED = ["words", "check"]
"""Run by test_guide_examples.py: it takes seconds."""
RUN = [(name, words) for name, words in SHOWN if words[0] not in SLOW and words[:2] != CHECKED]


def _told(shown: tuple[str, list[str]]) -> str:
    return " ".join(shown[1])


def test_the_guide_shows_commands() -> None:
    """Enough of them for the next tests to hold something, and half of them can be run."""
    assert len(SHOWN) > 30
    assert len(RUN) > 20


@pytest.mark.parametrize("shown", SHOWN, ids=_told)
def test_shown_commands_have_these_flags(shown: tuple[str, list[str]]) -> None:
    """The command is there, with every flag and every argument."""
    found, rest = named_command(shown[1])
    found.make_context("voicelog", list(rest), resilient_parsing=False)


@pytest.mark.parametrize("name", [name for name, topic in topics().items() if calls(topic.text)])
def test_quick_commands_of_a_topic_work(
    name: str, workshop: Path, run: Callable[..., Result]
) -> None:
    """In the order in which they stand, in one folder, as a reader would type them."""
    for _, words in (shown for shown in RUN if shown[0] == name):
        paths = [str(workshop / "home") + word[1:] if word[0] == "~" else word for word in words]
        result = run(*paths)
        assert result.exit_code == 0, (words, result.output, result.exception)


def test_examples_become_what_the_guide_says(workshop: Path, run: Callable[..., Result]) -> None:
    """The sentence with the shop's own words, and the trailer's drawbar."""
    own = run("read", "--words", "shop.toml", "left camel back, cornflakes on the top face")
    assert "left kick-up, top face — scale" in own.output
    other = run("read", "--map", "trailer.toml", "--rails", "boxed", "left drawbar, hole")
    assert "left drawbar — hole" in other.output
    assert "unsafe" in other.output
