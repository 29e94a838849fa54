"""What is being played of a clip, and where in it one is at a time."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a clip on its way to the speaker.

    Args:
        from_s: where in the clip it begins.
        to_s: where it ends.
        speed: clip seconds a second.
        heard_s: when its first sample is heard, on the player's clock.
        every_s: from there to the next round, silence included.
        rounds: how often it is played.
        whole: it is all of the clip, and a speaker was there when it began.
    """

    from_s: float
    to_s: float
    speed: float
    heard_s: float
    every_s: float
    rounds: int
    whole: bool

    @property
    def lasts_s(self) -> float:
        """One round, without the silence after it."""
        return (self.to_s - self.from_s) / self.speed

    @property
    def ends_s(self) -> float:
        """When the last sound of the last round is heard."""
        return self.heard_s + (self.rounds - 1) * self.every_s + self.lasts_s

    def position_s(self, now_s: float) -> float:
        """Where in the clip the sound is at a time; at its end in the silence between rounds."""
        into_s = max(0.0, now_s - self.heard_s)
        if self.rounds > 1 and now_s < self.ends_s:
            into_s %= self.every_s
        return min(self.to_s, self.from_s + into_s * self.speed)
