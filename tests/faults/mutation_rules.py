"""Mutants of the severity table: rules gone, limits moved, grades changed, conditions left out."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mutation_one import Mutant, told

_GRADES = ("cosmetic", "treat", "repair", "unsafe")
_KEY = re.compile(r'(\w+) = (\[[^]]*\]|"[^"]*"|true|false|[\d.]+)')
_NUMBER = re.compile(r"^(\w+ = )(-?[\d.]+)$")
_WORD = re.compile(r'"([^"]+)"')


def mutants_of(file: str, source: str) -> Iterator[Mutant]:
    """Every mutant of the table's limits and rules that grade; what is done about a finding is advice.

    Args:
        file: the path in the project.
        source: what stands in it.
    """
    lines = source.split("\n")
    for number, line in enumerate(lines[: lines.index("[[work]]")]):
        for other in _altered(line):
            yield told(file, source, "\n".join((*lines[:number], other, *lines[number + 1 :])))


def _altered(line: str) -> Iterator[str]:
    if line.startswith(("grade = ", "at_least = ")):
        key, _, grade = line.partition(" = ")
        at = _GRADES.index(grade.strip('"'))
        yield from (f'{key} = "{_GRADES[n]}"' for n in (at - 1, at + 1) if 0 <= n < len(_GRADES))
    elif line.startswith("worsen = "):
        yield f"worsen = {3 - int(line.partition(' = ')[2])}"
    elif line.startswith("unproven = "):
        yield 'unproven = "unless-firm"' if '"yes"' in line else 'unproven = "yes"'
        yield ""
    elif found := _NUMBER.match(line):
        yield from (f"{found[1]}{float(found[2]) + step:g}" for step in (-1, 1))
    elif line.startswith("when = {"):
        yield from _looser(line)


def _looser(line: str) -> Iterator[str]:
    """One key of a condition left out, and one word of each list."""
    keys = [found[0] for found in _KEY.finditer(line)]
    for key in keys:
        left = [other for other in keys if other != key]
        if left:
            yield f"when = {{ {', '.join(left)} }}"
        words = _WORD.findall(key)
        for word in words if len(words) > 1 else ():
            fewer = ", ".join(f'"{other}"' for other in words if other != word)
            yield line.replace(key, f"{key.partition(' = ')[0]} = [{fewer}]")
