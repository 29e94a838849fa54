"""What is in hand while the items of an utterance are gathered into drafts."""

from __future__ import annotations

from dataclasses import dataclass, field

from voicelog.domain.reading import Act
from voicelog.interpret.cover import Item
from voicelog.interpret.draft import Draft
from voicelog.interpret.look import Look


@dataclass(slots=True)
class Hand:
    """The draft that grows, those that are done, and what the next item is to be taken with.

    Args:
        look: the item that is being taken, among the others.
        now: the draft that grows.
        done: earlier drafts, in order.
        repairing: after "no, …" or "correction": what comes replaces.
        joined: an "and" stands before it.
        accompanied: the last joining word was "with": "a hole with cracks" is one thing less than
            two.
        relation: "next to" or "from the", whose landmark is still to come.
        between: of "between … and …", the second landmark is still to come.
        hedged: a "maybe" that is not spent yet.
        past: a "used to" that is not spent yet.
    """

    look: Look
    now: Draft = field(default_factory=Draft)
    done: list[Draft] = field(default_factory=list)
    repairing: bool = False
    joined: bool = False
    accompanied: bool = False
    relation: Item | None = None
    between: bool = False
    hedged: bool = False
    past: bool = False

    def close(self) -> None:
        """What comes begins a new draft."""
        self.done.append(self.now)
        self.now = Draft()

    def settle(self) -> None:
        """A trailing "maybe" or "used to" belongs to what was just said."""
        self.now.tentative = self.now.tentative or self.hedged
        self.now.past = self.now.past or self.past

    def goes_on(self) -> bool:
        """After "can't see the left rail," a place is the next one."""
        unseen = self.now.act is Act.NOT_SEEN
        return unseen and self.now.placed and self.look.after_stop
