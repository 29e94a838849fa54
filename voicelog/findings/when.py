"""The conditions of a rule (``when`` in the rule file), made into checks of an entry's facts."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Protocol

from voicelog.errors import GrammarFault
from voicelog.findings.facts_of import Facts
from voicelog.tongue import to_word, worded

Check = Callable[[Facts], bool]


class Asks(Protocol):
    """Whatever asks for something: a rule, a work rule."""

    @property
    def id(self) -> str:
        """Its name, for messages."""

    @property
    def when(self) -> Mapping[str, object]:
        """What it asks for."""


KEYS: Mapping[str, str] = {
    "condition": to_word("list: the finding's condition is one of these"),
    "role": to_word("list: the role of its zone is one of these"),
    "zone": to_word("list: its zone is one of these; a zone that the map lacks never fits"),
    "main_member": to_word("true: its zone is a station of the main members; false: it is none"),
    "cabin": to_word("true: its zone closes the cabin; false: it does not"),
    "side": to_word(
        "list: its side is one of these; a finding on both sides fits left and right too"
    ),
    "part": to_word("list: web, flange, seam, weld, edge"),
    "layer": to_word("list: coating, metal"),
    "probe": to_word("list: what the probe did"),
    "unprobed": to_word("true: no probe result was said; false: one was"),
    "method": to_word("list: the strongest way of looking that was said"),
    "surround": to_word("list: firm, none (solid metal left around it, or not)"),
    "certainty": to_word("list: stated, tentative"),
    "near_mount": to_word(
        "true: at a critical mounting, or within the limit mount_distance_mm of one"
    ),
    "distance_known": to_word("true: a distance to a mounting was said; false: none was"),
    "loss_known": to_word("true: a wall loss is known; false: none is"),
    "loss_at_least": to_word("number or name of a limit: wall loss in percent, this or more"),
    "loss_below": to_word("number or name of a limit: wall loss in percent, less than this"),
    "size_at_least": to_word("number or name of a limit: size_mm, this or more"),
    "landmark_words": to_word("list: one of these phrases stands in the landmark"),
    "said": to_word(
        "list: one of these phrases stands, not negated, among the finding's own words; "
        "not used once the condition was corrected"
    ),
}
"""Every key a rule may ask for, and what it means. All keys given must fit."""

_LISTS: Mapping[str, Callable[[Facts], str | None]] = {
    "condition": lambda facts: facts.condition,
    "role": lambda facts: facts.role,
    "zone": lambda facts: facts.zone,
    "part": lambda facts: facts.part,
    "layer": lambda facts: facts.layer,
    "probe": lambda facts: facts.probe,
    "method": lambda facts: facts.method,
    "surround": lambda facts: facts.surround,
    "certainty": lambda facts: facts.certainty,
}
_FLAGS: Mapping[str, Callable[[Facts], bool]] = {
    "unprobed": lambda facts: facts.probe is None,
    "main_member": lambda facts: facts.main_member,
    "cabin": lambda facts: facts.cabin,
    "near_mount": lambda facts: facts.near_mount,
    "distance_known": lambda facts: facts.distance_known,
    "loss_known": lambda facts: facts.loss_percent is not None,
}
_NUMBERS: Mapping[str, Callable[[Facts, float], bool]] = {
    "loss_at_least": lambda facts, n: facts.loss_percent is not None and facts.loss_percent >= n,
    "loss_below": lambda facts, n: facts.loss_percent is not None and facts.loss_percent < n,
    "size_at_least": lambda facts, n: facts.size_mm is not None and facts.size_mm >= n,
}
_PHRASES: Mapping[str, Callable[[Facts], str]] = {
    "landmark_words": lambda facts: facts.landmark,
    "said": lambda facts: facts.words,
}
_NOT = r"\b(?:no|not|never|without|than|\w+n't)(?: \w+){0,2} $"


def checks_of(rule: Asks, limits: Mapping[str, float]) -> Mapping[str, Check]:
    """The checks that must all hold for the rule to fit, by key; none when it fits everything.

    Raises:
        GrammarFault: a key nobody knows, a limit without a number, a value of the wrong kind.
    """
    return {key: _check(rule, key, value, limits) for key, value in rule.when.items()}


def phrases_in(rules: Iterable[Asks]) -> re.Pattern[str]:
    """Finds any phrase that a rule looks for among a finding's own words."""
    said = {p.lower() for rule in rules for p in _listed(rule, "said", rule.when.get("said", ()))}
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, sorted(said)))})" if said else r"(?!)")


def _check(rule: Asks, key: str, value: object, limits: Mapping[str, float]) -> Check:
    if key == "side":
        return _on_side(_listed(rule, key, value))
    if key in _LISTS:
        return _one_of(_LISTS[key], _listed(rule, key, value))
    if key in _PHRASES:
        return _has_phrase(_PHRASES[key], _listed(rule, key, value))
    if key in _FLAGS and isinstance(value, bool):
        return _equals(_FLAGS[key], value)
    if key in _NUMBERS:
        return _compares(_NUMBERS[key], _limit(rule, key, value, limits))
    raise _fault(rule, key, value)


def _one_of(get: Callable[[Facts], str | None], values: frozenset[str]) -> Check:
    return lambda facts: get(facts) in values


def _on_side(values: frozenset[str]) -> Check:
    """Both sides are the left one and the right one as well."""
    wanted = values | {"both"} if values & {"left", "right"} else values
    return lambda facts: facts.side in wanted


def _equals(get: Callable[[Facts], bool], value: bool) -> Check:
    return lambda facts: get(facts) is value


def _compares(holds: Callable[[Facts, float], bool], limit: float) -> Check:
    return lambda facts: holds(facts, limit)


def _has_phrase(get: Callable[[Facts], str], phrases: Iterable[str]) -> Check:
    """A phrase as whole words, unless one of the three words before it negates it."""
    spelled = "|".join(map(re.escape, sorted((p.lower() for p in phrases), key=len, reverse=True)))
    pattern, negation = re.compile(rf"\b(?:{spelled})\b"), re.compile(_NOT)

    def holds(facts: Facts) -> bool:
        text = get(facts)
        return any(not negation.search(text[: m.start()]) for m in pattern.finditer(text))

    return holds


def _listed(rule: Asks, key: str, value: object) -> frozenset[str]:
    if isinstance(value, str):
        return frozenset((value,))
    if isinstance(value, list | tuple) and all(isinstance(item, str) for item in value):
        return frozenset(value)
    raise _fault(rule, key, value)


def _limit(rule: Asks, key: str, value: object, limits: Mapping[str, float]) -> float:
    if isinstance(value, str) and value in limits:
        return float(limits[value])
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    raise _fault(rule, key, value)


def _fault(rule: Asks, key: str, value: object) -> GrammarFault:
    no_such = worded("there is no such key; there are {keys}", keys=", ".join(KEYS))
    known = KEYS.get(key)
    meaning = worded(known) if known else no_such
    return GrammarFault(
        worded(
            "The rule {rule} asks for {key} = {value}, which cannot be tested",
            rule=repr(rule.id),
            key=key,
            value=repr(value),
        ),
        worded("Correct it in the rule file ({key}: {meaning}).", key=key, meaning=meaning),
    )
