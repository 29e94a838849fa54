"""Whether the changes of a log follow from one another: what a check asks, so that it tells beforehand
whether the log can be folded.
"""

from __future__ import annotations

from collections.abc import Iterator

from voicelog.domain.entry import Add, entry_id
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.inert import inert
from voicelog.errors import LogFault
from voicelog.tongue import worded

_LONGEST_NAME = 60


class Entries:
    """The entries that a log has added so far.

    Attributes:
        whole: every line so far could be read; behind one that cannot, nobody knows what it added.
    """

    def __init__(self) -> None:
        self._there: set[str] = set()
        self.whole = True

    def problems(self, fact: Fact) -> Iterator[str]:
        """What is wrong with the changes of the next line, one sentence each; that an entry is added
        twice is told elsewhere, by its id.
        """
        try:
            changes = changes_of(fact)
        except LogFault as fault:
            self.whole = False
            yield fault.message
            return
        for change in changes:
            name = entry_id(change)
            if isinstance(change, Add):
                self._there.add(name)
            elif self.whole and name not in self._there:
                shown = inert(name, _LONGEST_NAME)
                yield worded(
                    "Line {line} changes the entry {entry}, which no line before it adds",
                    line=fact.seq,
                    entry=repr(shown),
                )
