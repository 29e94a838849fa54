"""Which entries are shown, in which order, and which one is looked at; knows no widget."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from voicelog.domain.entry import Finding
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.review.order import Order, sorted_by
from voicelog.review.pictures import NOTHING, Shown
from voicelog.review.sieve import Sieve, Sifted, sift


class Listing:
    """The entries of a log as somebody looks through them.

    The entry that is looked at stays the same one while filters, order and entries change; once it
    is hidden, the next one that is shown takes its place.

    Args:
        findings: all of them, in the order of the log.
        zone_map: the places.
        rails: how the rails are made.
        pictured: how many pictures in the log show each entry.
    """

    def __init__(
        self,
        findings: Iterable[Finding],
        zone_map: ZoneMap,
        rails: Rails = Rails.MIXED,
        pictured: Shown = NOTHING,
    ) -> None:
        self._zone_map, self._rails, self._pictured = zone_map, rails, pictured
        self._all = {finding.entry.id: finding for finding in findings}
        self._order, self._sieve = Order.TIME, Sieve()
        self._after: Collection[str] = ()
        self._sorted: tuple[Finding, ...] = ()
        self._at: dict[str, int] = {}
        self.sifted = Sifted((), 0, {})
        self.current = ""
        self._sort()

    @property
    def order(self) -> Order:
        """What they are sorted by."""
        return self._order

    @property
    def sieve(self) -> Sieve:
        """The filters."""
        return self._sieve

    @property
    def shown(self) -> tuple[Finding, ...]:
        """What is let through, in order."""
        return self.sifted.shown

    @property
    def by_id(self) -> Mapping[str, Finding]:
        """Every entry, hidden ones included."""
        return self._all

    @property
    def at(self) -> int:
        """The row of the entry that is looked at; -1 where none is shown."""
        return self._at.get(self.current, -1)

    @property
    def finding(self) -> Finding | None:
        """The entry that is looked at."""
        return self._all.get(self.current) if self.at >= 0 else None

    def row_of(self, entry: str) -> int:
        """The row of an entry; -1 where it is hidden."""
        return self._at.get(entry, -1)

    def look_at(self, row: int) -> None:
        """Look at another row; at the ends it stays."""
        if self.shown:
            self.current = self.shown[max(0, min(row, len(self.shown) - 1))].entry.id

    def sort_by(self, order: Order) -> None:
        """Sort anew."""
        self._order = order
        self._sort()

    def filter_by(self, sieve: Sieve, after: Collection[str] | None = None) -> None:
        """Filter anew.

        Args:
            sieve: the filters.
            after: ids of the entries changed after the newest signature; None leaves them.
        """
        self._sieve = sieve
        self._after = self._after if after is None else after
        self._sift()

    def would_show(self, sieve: Sieve) -> Sifted:
        """What another sieve would let through."""
        return sift(
            self._sorted, sieve, self._zone_map, rails=self._rails, after=self._after,
            pictured_in=self._pictured,
        )  # fmt: skip

    def take(self, findings: Iterable[Finding], after: Collection[str] | None = None) -> None:
        """Entries as they stand now, new ones included."""
        self._all |= {finding.entry.id: finding for finding in findings}
        self._after = self._after if after is None else after
        self._sort()

    def next_doubtful(self) -> str:
        """The next entry shown below this one that is in doubt, or else from the top; may be empty."""
        rows = [*self.shown[self.at + 1 :], *self.shown[: self.at + 1]]
        for finding in rows:
            if (finding.entry.doubtful or finding.entry.unplaced) and not finding.withdrawn:
                return finding.entry.id
        return ""

    def _sort(self) -> None:
        self._sorted = sorted_by(self._all.values(), self._order, self._zone_map)
        self._sift()

    def _sift(self) -> None:
        self.sifted = self.would_show(self._sieve)
        self._at = {finding.entry.id: row for row, finding in enumerate(self.shown)}
        if self.current not in self._at:
            self.current = self._nearest()

    def _nearest(self) -> str:
        """The first entry shown behind the one that was looked at, or the last one before it."""
        ids = [finding.entry.id for finding in self._sorted]
        begin = ids.index(self.current) if self.current in ids else 0
        behind = (name for name in ids[begin:] if name in self._at)
        before = (name for name in reversed(ids[:begin]) if name in self._at)
        return next(behind, next(before, ""))
