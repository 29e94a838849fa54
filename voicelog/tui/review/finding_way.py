"""Going through a log: filters, order, words to look for, what is open."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from voicelog.review.order import Order
from voicelog.review.sieve import Sieve
from voicelog.tongue import to_word, worded
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.filter_dialog import FilterDialog
from voicelog.tui.review.filter_line import ORDERS, filter_words
from voicelog.tui.review.open_dialog import OpenDialog
from voicelog.tui.review.value_dialog import ValueDialog

ANY = to_word("all entries, whatever their words")


async def filters(bench: Bench) -> None:
    """All filters at once."""
    listing = bench.looking.listing

    def told(sieve: Sieve) -> str:
        return filter_words(listing.would_show(sieve))

    sieve = await bench.ask(FilterDialog(listing.sieve, bench.choices("zone"), told=told))
    if sieve is not None:
        _filter(bench, sieve)


async def find(bench: Bench) -> None:
    """Only entries with these words."""
    sieve = bench.looking.listing.sieve
    dialog = ValueDialog("find", worded("find"), sieve.text, None, _sought, drop=worded(ANY))
    chosen = await bench.ask(dialog)
    if chosen is not None:
        _filter(bench, replace(sieve, text="" if chosen.drop else chosen.text))


def only(bench: Bench, name: str) -> None:
    """Turn one filter on or off.

    Args:
        bench: where.
        name: of the sieve's switch.
    """
    sieve = bench.looking.listing.sieve
    switched: dict[str, Any] = {name: not getattr(sieve, name)}
    _filter(bench, replace(sieve, **switched))


def sort(bench: Bench) -> None:
    """The next order."""
    listing, orders = bench.looking.listing, list(Order)
    listing.sort_by(orders[(orders.index(listing.order) + 1) % len(orders)])
    bench.screen.renew()
    bench.say(worded("Sorted {order}", order=worded(ORDERS[listing.order])))


def next_doubtful(bench: Bench) -> bool:
    """Look at the next doubtful entry; False where there is none."""
    name = bench.looking.listing.next_doubtful()
    if not name:
        bench.say(worded("No entry that is shown is doubtful"))
        return False
    bench.go_to(name)
    return True


async def open_points(bench: Bench) -> None:
    """What is unresolved; picking one goes to its entry, whatever the filters hide."""
    points = bench.review.open_points()
    if not points:
        bench.say(worded("Nothing is open: S signs the log"))
        return
    number = await bench.ask(OpenDialog([point.text for point in points]))
    if number is None or points[number].entry is None:
        return
    entry = str(points[number].entry)
    if not bench.go_to(entry):
        _filter(bench, Sieve(remarks=True))
        bench.go_to(entry)


def _filter(bench: Bench, sieve: Sieve) -> None:
    bench.looking.listing.filter_by(sieve)
    bench.looking.look()
    bench.screen.renew()


def _sought(text: str) -> str:
    return worded("entries with “{words}”", words=text)
