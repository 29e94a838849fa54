"""``voicelog help``: topics, commands, and what becomes of a misspelt name."""

from __future__ import annotations

import re

import pytest
from click.testing import CliRunner, Result

from voicelog.cli import help_topics
from voicelog.cli.main import cli
from voicelog.cli.markdown import rendered
from voicelog.cli.topics import for_terminal, topics
from voicelog.errors import UsageFault

TABLE = (
    "| a | b |\n|---|---|\n| one | a long cell with many words that has to be broken somewhere |\n"
)


def ask(*words: str) -> Result:
    """``voicelog help`` with these words, piped."""
    return CliRunner().invoke(cli, ["help", *words], prog_name="voicelog")


def test_topics_are_listed_with_a_line_each() -> None:
    """Each name, in the guide's own order, and what it tells."""
    lines = [line for line in ask().output.splitlines() if re.match(r"  [a-z]", line)]
    assert [line.split()[0] for line in lines] == list(topics())


@pytest.mark.parametrize("name", topics())
def test_a_topic_is_plain_text_where_it_is_piped(name: str) -> None:
    """No colours, no links that a terminal cannot follow, no Markdown left, nothing lost."""
    shown = ask(name)
    assert shown.exit_code == 0
    assert "\x1b" not in shown.output
    assert not re.search(r"\]\(|^#+ |\*\*|```", shown.output, flags=re.MULTILINE)
    assert topics()[name].text.splitlines()[0].removeprefix("# ") == shown.output.splitlines()[0]


@pytest.mark.parametrize("columns", [60, 80, 200])
def test_prose_fits_the_terminal(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Narrow ones are kept to, wide ones are not filled; code is never parted."""
    monkeypatch.setenv("COLUMNS", str(columns))
    for name in topics():
        prose = [line for line in ask(name).output.splitlines() if not line.startswith("    ")]
        assert max(map(len, prose)) <= min(columns, 100), name


def test_a_command_is_explained_as_by_its_own_help() -> None:
    """Commands of a group as well."""
    own = CliRunner().invoke(cli, ["words", "page", "--help"], prog_name="voicelog")
    assert ask("words", "page").output == own.output
    assert ask("export").output.startswith("Usage: voicelog export")


@pytest.mark.parametrize(
    ("words", "near"),
    [(("first-inspektion",), "first-inspection"), (("exprot",), "export"), (("words", "pgae"), "page")],
)  # fmt: skip
def test_the_nearest_name_is_told(words: tuple[str, ...], near: str) -> None:
    """Of topics and commands; the next step is told too."""
    fault = ask(*words).exception
    assert isinstance(fault, UsageFault)
    assert f"did you mean {near!r}?" in str(fault)
    assert "voicelog help lists the topics" in str(fault)


def test_a_command_without_commands_says_so() -> None:
    """``voicelog help export nothing`` is no crash."""
    assert isinstance(ask("export", "nothing").exception, UsageFault)


class _Terminal:
    """Standard input or output that somebody looks at."""

    def isatty(self) -> bool:
        """Yes."""
        return True


@pytest.mark.parametrize(("lines", "pages"), [(24, 1), (4000, 0)])
def test_long_topics_are_paged_on_a_small_terminal(
    lines: int, pages: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And only there: what fits is simply printed."""
    paged: list[str] = []
    monkeypatch.setenv("LINES", str(lines))
    monkeypatch.setenv("COLUMNS", "80")
    with monkeypatch.context() as looked_at:
        looked_at.setattr(help_topics.click, "echo_via_pager", paged.append)
        looked_at.setattr(help_topics.click, "echo", lambda *_, **__: None)
        looked_at.setattr(help_topics.sys, "stdin", _Terminal())
        looked_at.setattr(help_topics.sys, "stdout", _Terminal())
        help_topics._show(topics()["limits"])
    assert len(paged) == pages


def test_no_color_leaves_bold_and_takes_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    """NO_COLOR (https://no-color.org) is about colour."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    coloured = re.compile(r"\x1b\[(?:\d+;)*(?:3|4|9)\d(?:;\d+)*m")
    text = "# Title\n\n## Part\n\n- **one**\n"
    assert coloured.search(rendered(text, looked_at=True))
    monkeypatch.setenv("NO_COLOR", "1")
    shown = rendered(text, looked_at=True)
    assert "\x1b[1m" in shown  # bold
    assert not coloured.search(shown)


def test_what_a_terminal_cannot_follow_is_put_into_words() -> None:
    """Pictures become descriptions, topics commands, files their names in the project."""
    text = (
        "<!-- file: x -->\n![A plan](../../.pictures/x.svg) [how](speaking.md) [limits](limits.md)"
        " [keys](../../shared/GRAMMAR.md) [below](#below)"
    )
    assert for_terminal(text) == (
        "*Picture: A plan.* how (`voicelog help speaking`) `limits` keys (shared/GRAMMAR.md) below"
    )


def test_code_is_copied_as_it_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    """A long command stays one line on a narrow terminal."""
    monkeypatch.setenv("COLUMNS", "40")
    command = "voicelog amend last --entry e12.1 --set side=right --set kind=clear"
    assert f"    {command}\n" in rendered(f"```sh\n{command}\n```\n{TABLE}", looked_at=False)
