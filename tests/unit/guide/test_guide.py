"""The guide: every topic is listed, says what is true, and can be read by a person who is in a hurry."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from guide_reader import code_blocks

from voicelog.cli.main import cli
from voicelog.cli.topics import FIRST_PAGE, GUIDE, topics
from voicelog.config.settings import Settings
from voicelog.domain.entry import Kind
from voicelog.runtime.opening import open_reading

ROOT = Path(__file__).parents[3]
PAGES = sorted(GUIDE.glob("*.md"))
LONGEST_SENTENCE = 32
"""Words: ours. What is longer is read twice."""


def test_first_page_lists_every_topic_once() -> None:
    """A topic that the first page lacks cannot be found."""
    assert {topic.path for topic in topics().values()} == set(PAGES) - {GUIDE / FIRST_PAGE}


def test_no_topic_is_called_like_a_command() -> None:
    """``voicelog help words`` means the command, and nothing else."""
    import click

    assert not set(topics()) & set(cli.list_commands(click.Context(cli)))


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_links_and_pictures_are_there(page: Path) -> None:
    """Every link of a page finds its file."""
    for target in re.findall(r"\]\(([^)#]+)[^)]*\)", page.read_text(encoding="utf-8")):
        assert target.startswith("https://") or (page.parent / target).exists(), target


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_pages_name_no_machine_and_no_made_up_promise(page: Path) -> None:
    """No path of one machine, and none of the words that the tool never says of a vehicle."""
    text = page.read_text(encoding="utf-8")
    assert not re.findall(r"(?<![\w.~])/(?:tmp|root|home|work|Users)\b", text)
    assert not re.search(r"\b(?:roadworthy|is safe|passed|certified)\b", text)


@pytest.mark.parametrize("topic", topics().values(), ids=lambda topic: topic.name)
def test_sentences_are_short(topic: object) -> None:
    """Plain sentences: prose only, no code, no tables."""
    text = re.sub(r"^( *)```.*?^\1```", "", topic.text, flags=re.DOTALL | re.MULTILINE)  # type: ignore[attr-defined]
    prose = "\n".join(line for line in text.splitlines() if not line.startswith(("|", "!")))
    parts = re.split(r"(?<=[.:?!])\s+|\n\s*\n|^\s*[-\d]+\.? ", prose, flags=re.MULTILINE)
    long = [part for part in parts if len(part.split()) > LONGEST_SENTENCE]
    assert not long


def test_shown_files_are_the_files_beside_the_guide() -> None:
    """An example that is marked as a file is that file, byte for byte."""
    marked = 0
    for topic in topics().values():
        for name, shown in re.findall(
            r"<!-- file: (\S+) -->\n```toml\n(.*?)^```", topic.text, flags=re.DOTALL | re.MULTILINE
        ):
            marked += 1
            assert (GUIDE / name).read_text(encoding="utf-8") == shown
    assert marked


def test_pieces_of_the_example_map_are_pieces_of_its_file() -> None:
    """What the topic shows of the map stands in the map."""
    whole = (GUIDE / "example" / "trailer.toml").read_text(encoding="utf-8")
    pieces = code_blocks(topics()["zone-map"].text, "toml")
    assert len(pieces) == 2
    assert all(piece in whole for piece in pieces)


def _said(name: str) -> list[str]:
    """The sentences that a topic tells one to say: quoted, a line each."""
    lines = [line for line in topics()[name].text.splitlines() if line.startswith('- "')]
    return [said for line in lines for said in re.findall(r'"([^"]+)"', line)]


@pytest.mark.parametrize("name", ["speaking", "first-inspection"])
def test_sentences_to_be_spoken_are_understood(name: str) -> None:
    """None of them ends as a remark, and none is doubtful."""
    said = _said(name)
    assert len(said) >= 4
    with open_reading(Settings(), keep=False) as session:
        for at_s, sentence in enumerate(said):
            event = session.read(sentence, at_s=float(at_s))
            if event.turn.finished:
                continue
            assert event.findings, sentence
            for finding in event.findings:
                assert finding.entry.kind is not Kind.REMARK, sentence
                assert not finding.entry.doubtful, sentence
