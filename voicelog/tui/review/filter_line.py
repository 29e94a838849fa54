"""Which entries are shown, in what order, and how many each filter hides."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.review.order import Order
from voicelog.review.sieve import Sifted

ORDERS = {
    Order.TIME: "by time",
    Order.ZONE: "by place",
    Order.GRADE: "worst first",
}

IDLE = "idle remarks left out"
"""The filter that is on at first; it is told only where it hides something."""


class FilterLine(Widget):
    """One line; without filters it says that all are shown."""

    sifted: reactive[Sifted] = reactive(Sifted((), 0, {}), always_update=True)
    order: reactive[Order] = reactive(Order.TIME)
    marked: reactive[int] = reactive(0)

    def render(self) -> Content:
        """The numbers first: they must not be cut off."""
        marked = ("  ", (f" * {self.marked} marked ", "bold $tone-ask-ink on $tone-ask"))
        return Content.assemble(
            (f"{ORDERS[self.order]}", "bold"), "  ", filter_words(self.sifted),
            *(marked if self.marked else ()),
        )  # fmt: skip


def filter_words(sifted: Sifted) -> str:
    """What is shown of how many; where filters stack, each with what it would hide alone."""
    shown, total = len(sifted.shown), len(sifted.shown) + sifted.hidden
    told = {name: hides for name, hides in sifted.by.items() if hides or name != IDLE}
    if not told:
        return f"all {total} shown"
    each = [f"{name} ({hides})" for name, hides in told.items()] if len(told) > 1 else told
    return f"{shown} of {total} shown, {sifted.hidden} hidden: {', '.join(each)}"
