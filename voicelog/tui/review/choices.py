"""Values to pick from: what a search has to give back, and short lists that need none."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from voicelog.domain.slot import SlotValue
from voicelog.errors import UsageFault
from voicelog.tongue import worded


class Choice(Protocol):
    """One value of the vocabulary, as the search finds it (``interpret.suggest``)."""

    @property
    def value(self) -> SlotValue:
        """What the slot would hold."""

    @property
    def title(self) -> str:
        """Its name on the screen."""

    @property
    def said(self) -> Sequence[str]:
        """Some of its spoken names, the one that fits what was typed first."""


Choose = Callable[[str], Sequence[Choice]]
"""What fits the typed text, the best first; everything for an empty one."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A choice of a short list.

    Args:
        value: what the slot would hold.
        title: its name on the screen.
        said: some of its spoken names.
    """

    value: SlotValue
    title: str
    said: tuple[str, ...] = ()


def among(choices: Iterable[Choice]) -> Choose:
    """A search through a short list: the titles in which the typed text occurs."""
    kept = tuple(choices)

    def choose(typed: str) -> tuple[Choice, ...]:
        sought = typed.strip().casefold()
        return tuple(choice for choice in kept if sought in choice.title.casefold())

    return choose


def listed(values: Iterable[str]) -> tuple[Listed, ...]:
    """A closed list as choices, under its own words."""
    return tuple(Listed(value, value.replace("-", " ")) for value in values)


def not_listed(title: str, typed: str) -> str:
    """The check of a list that has no other values.

    Raises:
        UsageFault: always.
    """
    raise UsageFault(
        worded("No {title} is called “{typed}”", title=title, typed=typed),
        worded("Type less, or go down the list"),
    )
