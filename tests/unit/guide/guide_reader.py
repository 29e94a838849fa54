"""Reads the guide as the tests need it: code blocks, and calls of the program."""

from __future__ import annotations

import re
import shlex

import click

from voicelog.cli.main import cli


def code_blocks(text: str, language: str) -> list[str]:
    """The fenced blocks in one language, those within a list too."""
    found = re.findall(rf"^( *)```{language}\n(.*?)^\1```", text, flags=re.DOTALL | re.MULTILINE)
    return [block for _, block in found]


def calls(text: str) -> list[list[str]]:
    """Every call of the program in a topic's shell blocks, as words."""
    lines = "\n".join(code_blocks(text, "sh")).splitlines()
    words = (shlex.split(line, comments=True) for line in lines)
    return [line[1:] for line in words if line[:1] == ["voicelog"]]


def named_command(words: list[str]) -> tuple[click.Command, list[str]]:
    """The command that some words name, and the words behind its name."""
    found: click.Command = cli
    while isinstance(found, click.Group) and words:
        inner = found.get_command(click.Context(found), words[0])
        assert inner is not None, f"voicelog has no command {words[0]!r}"
        found, words = inner, words[1:]
    return found, words
