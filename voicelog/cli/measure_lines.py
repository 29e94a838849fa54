"""What a measuring showed, in words and tables."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from rich.box import SIMPLE
from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from voicelog.domain.inert import inert
from voicelog.runtime.figures import NOTE
from voicelog.runtime.measuring import TYPED, Measured
from voicelog.runtime.recordings import Recordings
from voicelog.tongue import to_word, worded, worded_many
from voicelog.yardstick.scored import Counts, Scored, by_kind, by_noise, by_speaker, counts
from voicelog.yardstick.shares import interval_text, share_text
from voicelog.yardstick.strict import Slots, asked

TITLES = {TYPED: to_word("as if typed")}
ROWS: Sequence[tuple[str, Callable[[Counts], str]]] = (
    (to_word("exactly right"), lambda c: share_text(c.told.exact, c.told.cases)),
    (to_word("… 95 % interval"), lambda c: interval_text(c.told.exact, c.told.cases)),
    (to_word("slots made, right"), lambda c: share_text(c.told.slots_right, c.told.slots_got)),
    (to_word("slots wanted, made"), lambda c: share_text(c.told.slots_right, c.told.slots_wanted)),
    (to_word("wrong, marked doubtful"), lambda c: share_text(c.told.wrong_marked, c.told.wrong)),
    (to_word("right, marked doubtful"), lambda c: share_text(c.told.right_marked, c.told.right)),
    (to_word("talk with a finding"), lambda c: share_text(c.spoilt, c.talk)),
    (to_word("… 95 % interval"), lambda c: interval_text(c.spoilt, c.talk)),
)
"""What is counted of every system."""

EXPLAINED = to_word(
    "A sentence is exactly right when all its entries and all their slots are right and nothing is extra. Talk "
    "comes after a finding: it must neither make one nor change that one."
)

_MOST_IDS = 12
_NONE = "–"
_LONGEST = 200


def folder_lines(recordings: Recordings) -> Iterator[str]:
    """What the folder holds, and what is odd about it: a line each."""
    sheet, found = recordings.sheet, recordings.found
    speakers = {one.take.speaker for one in found}
    noises = {one.take.noise for one in found}
    yield (
        worded(
            "Sheet: {items} sentences, map {map}, seed {seed}. Recordings: "
            "{found} by {speakers} in {noises}.",
            items=len(sheet.items),
            map=inert(sheet.map, 40),
            seed=sheet.seed,
            found=len(found),
            speakers=worded_many("{count} speaker", "{count} speakers", len(speakers)),
            noises=worded_many("{count} noise", "{count} noises", len(noises)),
        )
    )
    for line in recordings.told:
        yield ("  " + worded("note: {line}", line=inert(line, _LONGEST)))
    for path in recordings.misnamed:
        inside = path.relative_to(recordings.folder)
        yield (
            "  "
            + worded(
                "left out: {inside} names no sentence of the sheet; call it by its number",
                inside=inert(str(inside), _LONGEST),
            )
        )
    for (speaker, noise), names in recordings.missing.items():
        more = (
            (" " + worded("and {count} more", count=len(names) - _MOST_IDS))
            if len(names) > _MOST_IDS
            else ""
        )
        yield f"  missing: {inert(f'{speaker}, {noise}')}: {', '.join(names[:_MOST_IDS])}{more}"


def result_lines(
    recordings: Recordings, measured: Measured, ears: Mapping[str, str]
) -> Iterator[RenderableType]:
    """What could not be heard, the table of all, the tables of groups, and how far to trust them."""
    for path, why in measured.left_out.items():
        yield _line(
            "  "
            + worded(
                "left out: {relative_to}: {why}",
                relative_to=path.relative_to(recordings.folder),
                why=why,
            )
        )
    for path in measured.silent:
        yield _line(
            "  "
            + worded(
                "no speech was found in {relative_to}; it counts as wrong",
                relative_to=path.relative_to(recordings.folder),
            )
        )
    for told in measured.told:
        yield _line("  " + worded("note: {told}", told=told))
    named = ", ".join(f"{name} ({model})" if model else name for name, model in ears.items())
    yield _line(worded("Heard by: {named}.", named=named))
    yield _line(worded(EXPLAINED))
    yield Text("")
    yield _whole(measured)
    yield Text("")
    best = measured.systems[-2]
    yield _line(worded("By noise, speaker and kind of sentence, as heard by {best}:", best=best))
    yield _groups(measured, best)
    yield Text("")
    yield _line(NOTE)


def _whole(measured: Measured) -> Table:
    """A column for each system, a row for each thing that is counted."""
    found = {name: counts(measured.scored, name) for name in measured.systems}
    table = _table("", *(worded(TITLES[name]) if name in TITLES else name for name in found))
    first = measured.systems[0]
    for title, shown in ROWS:
        table.add_row(worded(title), *map(shown, found.values()))
    words = found[first].words
    rest = [_NONE] * (len(found) - 1)
    table.add_row(worded("words wrong"), share_text(words.errors, words.said), *rest)
    if len(found) > 2:
        clips = sum(one.clips for one in measured.scored)
        table.add_row(worded("second ear asked"), _NONE, share_text(_asked(measured), clips), _NONE)
    return table


def _asked(measured: Measured) -> int:
    return sum(one.asked for one in measured.scored)


def _groups(measured: Measured, system: str) -> Table:
    """A row for each noise, each speaker and each kind of sentence."""
    table = _table(
        "",
        worded("exactly right"),
        worded("95 % interval"),
        worded("words wrong"),
        worded("in talk"),
    )
    grouped = (by_noise, by_speaker, by_kind)
    for number, group in enumerate(grouped):
        for name, scored in group(measured.scored).items():
            table.add_row(inert(name, 40), *_group(scored, system))
        if number < len(grouped) - 1:
            table.add_section()
    return table


def _group(scored: Sequence[Scored], system: str) -> tuple[str, ...]:
    found = counts(scored, system)
    told, words = found.told, found.words
    return (
        share_text(told.exact, told.cases), interval_text(told.exact, told.cases),
        share_text(words.errors, words.said), share_text(found.spoilt, found.talk),
    )  # fmt: skip


def wrong_lines(measured: Measured) -> Iterator[str]:
    """Every recording that was not understood in full: said, heard, wanted and made."""
    best = measured.systems[-2]
    for one in measured.scored:
        made = one.results[best]
        if made.tally.exact:
            continue
        take = one.take
        yield f"{take.speaker}, {take.noise}, {' take '.join(filter(None, (take.item.id, take.number)))}"
        yield ("    " + worded("said   {item}", item=take.item.text))
        yield (
            "    "
            + worded("heard  {heard}", heard=inert(one.heard, _LONGEST) or worded("(nothing)"))
        )
        yield ("    " + worded("wanted {entries}", entries=_entries(take.item.want)))
        entries = made.answer.entries[1:] if take.item.is_talk else made.answer.entries
        yield (
            "    " + worded("made   {entries}", entries=_entries([got.slots for got in entries]))
        )


def _entries(entries: Sequence[Slots]) -> str:
    """Entries as their scored slots; what stood before talk is left out."""
    shown = (", ".join(f"{n} {v}" for n, v in asked(entry).items()) for entry in entries)
    return inert("; ".join(shown), 2 * _LONGEST) or "nothing"


def _table(*heads: str) -> Table:
    table = Table(box=SIMPLE, pad_edge=False, padding=(0, 2, 0, 0), show_edge=False)
    for number, head in enumerate(heads):
        if number:
            table.add_column(head, justify="right", no_wrap=True)
        else:
            table.add_column(head)
    return table


def _line(text: str) -> Text:
    return Text(inert(text, 4 * _LONGEST))
