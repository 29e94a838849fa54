"""Mutants of the files of ``grammar/`` that grade and judge: the severity table, the advice, the maps.

Limits moved, grades and roles changed, conditions left out, rules and cautions gone. What a rule says in
words is no code; nor are the names of places, which the tests of understanding are for.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping

from mutation_one import Mutant, told
from mutation_places import places_of

_GRADES = ("cosmetic", "treat", "repair", "unsafe")
_ROLES = ("attached", "panel", "support", "load-path", "critical")
"""From what matters least on; a crush section taken for any of them is one as well."""

_KEY = re.compile(r'(\w+) = (\[[^]]*\]|"[^"]*"|true|false|[\d.]+)')
_NUMBER = re.compile(r"^(\w+ = )(-?[\d.]+)$")
_WORD = re.compile(r'"([^"]+)"')
_SENTENCE = re.compile(r'^  ".*",$')

Altered = Callable[[str], Iterator[str]]


def mutants_of(file: str, source: str) -> Iterator[Mutant]:
    """Every mutant of a rule file or a map.

    Args:
        file: the path in the project.
        source: what stands in it.
    """
    lines = source.split("\n")
    for number, (line, place) in enumerate(zip(lines, places_of(file, source), strict=True)):
        table = place.partition(" ")[0]
        for other in _BY_TABLE.get(table, _unaltered)(line):
            yield told(file, source, "\n".join((*lines[:number], other, *lines[number + 1 :])))
        if line in ("[[rule]]", "[[work]]"):
            end = lines.index("", number)
            left = "\n".join((*lines[:number], *lines[end + 1 :]))
            yield Mutant(file, number + 2, place, lines[number + 1], "", left)


def _unaltered(line: str) -> Iterator[str]:
    """Nothing of a table that neither grades nor warns."""
    yield from ()


def _of_limits(line: str) -> Iterator[str]:
    if found := _NUMBER.match(line):
        yield from (f"{found[1]}{float(found[2]) + step:g}" for step in (-1, 1))


def _of_rule(line: str) -> Iterator[str]:
    if line.startswith(("grade = ", "at_least = ")):
        yield from _neighbours(line, _GRADES)
    elif line.startswith("worsen = "):
        yield f"worsen = {3 - int(line.partition(' = ')[2])}"
    elif line.startswith("unproven = "):
        yield 'unproven = "unless-firm"' if '"yes"' in line else 'unproven = "yes"'
        yield ""
    elif line.startswith("when = {"):
        yield from _looser(line)
    elif line.startswith("caution = "):
        yield ""


def _of_work(line: str) -> Iterator[str]:
    if line.startswith("when = {"):
        yield from _looser(line)
    elif line.startswith("cautions = "):
        yield from _shorter(line)


def _of_top(line: str) -> Iterator[str]:
    """The sentences said at the start, and beside every list of work."""
    if _SENTENCE.match(line):
        yield ""


def _of_zone(line: str) -> Iterator[str]:
    if line.startswith("role = "):
        yield from _neighbours(line, _ROLES)
    elif line in ("main = true", "cabin = true", "routine = true", 'layout = "pair"'):
        yield line.replace("true", "false").replace("pair", "one")
    elif line.startswith("cavity = "):
        yield ""
    elif line.startswith("evidence = "):
        yield from _shorter(line)


_BY_TABLE: Mapping[str, Altered] = {
    "limits": _of_limits,
    "rule": _of_rule,
    "work": _of_work,
    "zone": _of_zone,
    "<top>": _of_top,
}


def _neighbours(line: str, scale: tuple[str, ...]) -> Iterator[str]:
    """The steps of a scale on both sides of the one that is given; all where it is on none."""
    key, _, value = line.partition(" = ")
    named = value.strip('"')
    at = scale.index(named) if named in scale else None
    for number, step in enumerate(scale):
        if at is None or abs(number - at) == 1:
            yield f'{key} = "{step}"'


def _shorter(line: str) -> Iterator[str]:
    """A list with one of its words left out, and no list."""
    yield from _fewer(line)
    yield ""


def _looser(line: str) -> Iterator[str]:
    """One key of a condition left out, and one word of each list."""
    keys = [found[0] for found in _KEY.finditer(line)]
    for key in keys:
        left = [other for other in keys if other != key]
        if left:
            yield f"when = {{ {', '.join(left)} }}"
        yield from (line.replace(key, fewer) for fewer in _fewer(key))


def _fewer(listed: str) -> Iterator[str]:
    """A key with a list, each time without one of its words, as long as another is left."""
    words = _WORD.findall(listed)
    for word in words if len(words) > 1 else ():
        others = ", ".join(f'"{other}"' for other in words if other != word)
        yield f"{listed.partition(' = ')[0]} = [{others}]"
