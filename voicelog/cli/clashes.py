"""Phrases that sound alike, as lines of text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from voicelog.runtime.clashes import Clash, Known, Said
from voicelog.tongue import worded, worded_many


def clash_lines(clashes: Sequence[Clash], least: float) -> Iterator[str]:
    """The pairs under three headings: the shop's own, the dangerous ones, and the others."""
    number = worded_many("{count} pair", "{count} pairs", len(clashes))
    yield (
        "\n"
        + worded(
            "Sounds alike: {number} from a likeness of {least} up (--least sets it).",
            number=number,
            least=f"{least:g}",
        )
    )
    own = [clash for clash in clashes if clash.own]
    rest = [clash for clash in clashes if not clash.own]
    yield from _under(worded("In your own files, where you can change them"), own)
    yield from _under(
        worded(
            "Nothing around them tells them apart: speak these slowly, or choose another "
            "way to say it"
        ),
        [clash for clash in rest if not clash.in_context],
    )
    yield from _under(
        worded("Safe only in context: the words around them decide"),
        [clash for clash in rest if clash.in_context],
    )


def _under(heading: str, clashes: Iterable[Clash]) -> Iterator[str]:
    """A heading with the pairs by their two meanings; nothing where there are none."""
    best: dict[tuple[str, str], float] = {}
    for clash in clashes:
        best[_meanings(clash)] = max(clash.score, best.get(_meanings(clash), 0.0))
    ordered = sorted(clashes, key=lambda clash: (-best[_meanings(clash)], _meanings(clash)))
    if ordered:
        yield f"\n{heading}:"
    for (one, other), pairs in groupby(ordered, key=_meanings):
        yield f"  {one} ~ {other}"
        for clash in pairs:
            yield f"    {clash.score:.2f}  {clash.one.text} / {clash.other.text}{_more(clash)}"


def _meanings(clash: Clash) -> tuple[str, str]:
    return _meaning(clash.one), _meaning(clash.other)


def _meaning(said: Said) -> str:
    """The meaning and its file; the line too in a file that the shop can change."""
    file, _, line = said.place.rpartition(":")
    place = said.place if said.own else file.replace("\\", "/").rpartition("/")[2]
    return f"{said.meaning} ({place})" if line else said.meaning


def _more(clash: Clash) -> str:
    notes = [worded("and {more} more like it", more=clash.more)] if clash.more else []
    if clash.own and clash.in_context:
        notes.append(worded("safe only in context"))
    return f"  ({', '.join(notes)})" if notes else ""


def known_lines(known: Sequence[Known]) -> Iterator[str]:
    """The known confusions, one line for each word said."""
    if known:
        yield ("\n" + worded("Known to be taken for others by recognisers, whatever they score:"))
    for said, pairs in groupby(known, key=lambda pair: pair.said):
        found = list(pairs)
        used = worded_many("{count} phrase", "{count} phrases", found[0].used_in)
        heard = ", ".join(map(_heard, found))
        yield (
            "  "
            + worded(
                "{said} -> {heard}  (in {used}, such as {example})",
                said=said,
                heard=heard,
                used=used,
                example=found[0].example,
            )
        )


def _heard(pair: Known) -> str:
    """What is heard, with its score and what it means here."""
    score = f" {pair.score:.2f}" if pair.score else ""
    means = f" = {pair.means}" if pair.means else ""
    return f"{pair.heard}{score}{means}"
