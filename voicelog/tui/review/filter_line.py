"""Which entries are shown, in what order, and how many each filter hides."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.review.order import Order
from voicelog.review.sieve import IDLE, Sifted
from voicelog.tongue import joined, to_word, worded, worded_many

ORDERS = {
    Order.TIME: to_word("by time"),
    Order.ZONE: to_word("by place"),
    Order.GRADE: to_word("worst first"),
}


class FilterLine(Widget):
    """One line; without filters it says that all are shown."""

    sifted: reactive[Sifted] = reactive(Sifted((), 0, {}), always_update=True)
    order: reactive[Order] = reactive(Order.TIME)
    marked: reactive[int] = reactive(0)

    def render(self) -> Content:
        """The numbers first: they must not be cut off."""
        many = worded_many("{count} marked", "{count} marked", self.marked)
        marked = ("  ", (f" * {many} ", "bold $tone-ask-ink on $tone-ask"))
        return Content.assemble(
            (worded(ORDERS[self.order]), "bold"), "  ", filter_words(self.sifted),
            *(marked if self.marked else ()),
        )  # fmt: skip


def filter_words(sifted: Sifted) -> str:
    """What is shown of how many; where filters stack, each with what it would hide alone."""
    shown, total = len(sifted.shown), len(sifted.shown) + sifted.hidden
    told = {name: hides for name, hides in sifted.by.items() if hides or name != worded(IDLE)}
    if not told:
        return worded("all {total} shown", total=total)
    each = [f"{name} ({hides})" for name, hides in told.items()] if len(told) > 1 else told
    return worded(
        "{shown} of {total} shown, {hidden} hidden: {filters}",
        shown=shown,
        total=total,
        hidden=sifted.hidden,
        filters=joined(", ", each),
    )
