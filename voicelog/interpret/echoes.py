"""Which of many sounds may be near a given one, without looking at them all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from voicelog.interpret.sounds import skeleton

_SHORTEST = 2
"""Classes that must be left of a skeleton: fewer are shared by half the vocabulary."""


class Echoes:
    """Sounds by their skeletons, and by what is left of those when any one class is dropped.

    Two skeletons that differ by one class dropped, added or changed meet in one of these, so a
    look-up costs as many steps as the skeleton has classes, however many sounds there are.

    Args:
        sounds: the sounds; they are known by their place in this sequence from here on.
    """

    def __init__(self, sounds: Sequence[str]) -> None:
        self._places: dict[str, list[int]] = {}
        for place, sound in enumerate(sounds):
            for part in _parts(skeleton(sound)):
                self._places.setdefault(part, []).append(place)

    def near(self, sound: str) -> Iterable[int]:
        """Places of the sounds that may be near this one."""
        found: set[int] = set()
        for part in _parts(skeleton(sound)):
            found.update(self._places.get(part, ()))
        return found


def _parts(whole: str) -> set[str]:
    """A skeleton and every way to drop one class of it."""
    parts = {whole}
    if len(whole) > _SHORTEST:
        parts.update(whole[:i] + whole[i + 1 :] for i in range(len(whole)))
    return parts
