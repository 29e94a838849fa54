"""A scene told by a person: each field of a sentence plan becomes words and the slots in them.

A label is made only from fields that the plan says, so it cannot name what nobody said.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from scene import Scene
from speaker import Person
from spoken_numbers import Said

Slots = Mapping[str, Any]


@dataclass(frozen=True)
class Fragment:
    """Words and what they say."""

    words: str
    slots: Slots = field(default_factory=dict)


class Telling:
    """The fields of one case, each made once and then kept.

    Args:
        scene: the facts.
        person: who tells them.
        words: the wordings of the part.
        rng: the source of chance.
        fields: all fields of the plan.
        makers: what makes a field's fragment; any other field is a phrase list's name.
    """

    def __init__(
        self,
        scene: Scene,
        person: Person,
        words: dict[str, Any],
        rng: random.Random,
        fields: frozenset[str],
        makers: Mapping[str, Maker],
    ) -> None:
        self.scene, self.person, self.words = scene, person, words
        self.rng, self.fields, self._makers = rng, fields, makers
        self._made: dict[str, Fragment] = {}

    def __getitem__(self, name: str) -> Fragment:
        """The fragment of a field.

        Raises:
            KeyError: neither a maker nor a phrase list has that name.
        """
        if name not in self._made:
            maker = self._makers.get(name)
            made = maker(self) if maker else Fragment(self.rng.choice(self.words["phrases"][name]))
            self._made[name] = made
        return self._made[name]

    def pick(self, table: str, name: str, natural: bool = True) -> str:
        """A wording of a name: the published one by the person's habit, else one of the part."""
        if natural and self.rng.random() < self.person.published:
            return name.replace("-", " ")
        return str(self.rng.choice(self.words[table][name]))

    def side(self, side: str, where: str) -> str:
        """The person's word for a side, ``before`` or ``after`` the place."""
        return str(self.words["sides"][where][side][self.person.sides])

    def about(self, said: Said, slot: str) -> Fragment:
        """A number, at times with a hedge that labels nothing."""
        hedged = self.rng.random() < self.person.about
        about = self.rng.choice(self.words["phrases"]["about"]) + " " if hedged else ""
        return Fragment(about + said.words, {slot: round(said.value, 4)})


Maker = Callable[[Telling], Fragment]
"""Makes the fragment of a field from the telling that it stands in."""
