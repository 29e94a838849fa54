"""The drawing with its numbers, its key, and the same in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from voicelog.domain.report import KeyRow
from voicelog.export.plan_looks import look_of
from voicelog.export.plan_svg import plan_svg
from voicelog.findings.place_findings import nowhere
from voicelog.report.material import Book, Place
from voicelog.report.wording import listed
from voicelog.tongue import to_word, worded

KEY = (
    KeyRow("U", "unsafe", to_word("unsafe: do not drive or tow")),
    KeyRow("R", "repair", to_word("has to be repaired")),
    KeyRow("T", "treat", to_word("has to be treated before it gets worse")),
    KeyRow("C", "cosmetic", to_word("marks only")),
    KeyRow("?", "unproven", to_word("behind a letter: bare metal not reached, may be worse")),
    KeyRow("N", "clear", to_word("looked at, nothing found")),
    KeyRow("", "unseen", to_word("hatched: nobody looked")),
    KeyRow("X", "refused", to_word("could not be looked at, and somebody said why")),
    KeyRow("◇", "cavity", to_word("diamond: a hidden inside that nobody saw")),
    KeyRow(
        "",
        "touched",
        to_word("thick edge: touched with probe, scraper or gauge; thin: only looked at"),
    ),
)
"""What the drawing's signs mean."""

_NAMED = 40
"""Places of one kind that the words name at most."""


def drawing(book: Book, title: str) -> str:
    """The vehicle from above, as SVG."""
    return plan_svg(
        book.material.zone_map, book.material.advice.places, numbers=places_numbered(book),
        cavities_open=frozenset(cavities_open(book)), driver_side=book.material.driver_side,
        title=title,
    )  # fmt: skip


def places_numbered(book: Book) -> Mapping[Place, tuple[int, ...]]:
    """The numbers of the findings at each place, the worst first."""
    numbers: dict[Place, tuple[int, ...]] = {}
    for number, finding in enumerate(book.findings, 1):
        for place in book.places(finding.entry):
            numbers[place] = (*numbers.get(place, ()), number)
    return numbers


def cavities_open(book: Book) -> Iterator[Place]:
    """Places with a hidden inside that nobody saw, in the order of the map."""
    for state in book.material.advice.places:
        if state.seen.inside is False:
            yield state.zone, state.side


_GROUPS: Mapping[str, str] = {
    "unsafe": to_word("Unsafe"), "repair": to_word("To be repaired"), "treat": to_word("To be treated"),
    "cosmetic": to_word("Marks only"), "clear": to_word("Nothing found"), "unseen": to_word("Nobody looked"),
    "refused": to_word("Could not be looked at"),
}  # fmt: skip


def drawing_in_words(book: Book) -> str:
    """The drawing for somebody who cannot see it: places by what became of them."""
    return " ".join(
        (
            worded("The vehicle from above, front at the top."), _driver(book),
            *_groups(book), *_hidden(book), *_undrawn(book),
        )
    )  # fmt: skip


def _driver(book: Book) -> str:
    side = book.material.driver_side
    return (
        worded("The driver sits on the {side}.", side=side)
        if side
        else worded("Where the driver sits was not said.")
    )


def _groups(book: Book) -> Iterator[str]:
    numbers, groups = places_numbered(book), dict[str, list[str]]()
    for state in book.material.advice.places:
        found = ", ".join(map(str, numbers.get((state.zone, state.side), ())))
        name = book.place_of(state.zone, state.side)
        groups.setdefault(look_of(state), []).append(f"{name} ({found})" if found else name)
    for look, told in _GROUPS.items():
        if look in groups:
            yield f"{worded(told)}: {listed(groups[look], _NAMED)}."


def _undrawn(book: Book) -> Iterator[str]:
    """The findings that lie at no place of the drawing."""
    found = nowhere(book.material.inspection, book.material.zone_map)
    if lost := book.numbered(finding.entry.id for finding in found):
        yield worded("Not on the drawing, since place or side is not known: {lost}.", lost=lost)


def _hidden(book: Book) -> Iterator[str]:
    names = [book.place_of(*place) for place in cavities_open(book)]
    if names:
        yield worded("Hidden insides that nobody saw: {listed}.", listed=listed(names, _NAMED))
