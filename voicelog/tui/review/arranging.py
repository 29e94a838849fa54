"""Deeds on whole entries: split, merge, move, withdraw, mark, undo, sign."""

from __future__ import annotations

from voicelog.domain.entry import Finding
from voicelog.domain.slot import FACES, SIDES
from voicelog.errors import VoicelogError
from voicelog.runtime.bench_log import Done
from voicelog.tongue import worded
from voicelog.tui.entry_words import place_words
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.choices import among, listed
from voicelog.tui.review.place_dialog import PlaceDialog
from voicelog.tui.review.row_words import what_cell
from voicelog.tui.review.sign_dialog import SignDialog
from voicelog.tui.review.standing_view import verdict_words


async def split(bench: Bench) -> None:
    """Two of one: at the word in brackets, else left and right, else two alike."""
    finding, detail = bench.finding, bench.looking.detail
    at = detail.spoken.word_of(finding.entry) if detail is not None else None
    name = finding.entry.id
    done = await bench.do(lambda why: bench.review.split(name, at_word=at or None, why=why))
    if done is not None:
        new = ", ".join(f.entry.id for f in done.findings if f.entry.id != name)
        bench.go_to(name)
        bench.say(f"{name} was split: {new} is new. u takes it back")


async def merge(bench: Bench) -> None:
    """This entry takes the marked one in."""
    name = bench.entry
    others = [other for other in bench.looking.picked if other != name]
    if len(others) != 1:
        raise VoicelogError(
            worded("Merging needs one other entry"),
            worded("Mark it with m, go to the one that stays, press j"),
        )
    done = await bench.do(lambda why: bench.review.merge(name, others[0], why=why))
    if done is not None:
        clear(bench)


async def move(bench: Bench) -> None:
    """Another place for this entry, or for all that are marked."""
    bench.refuse_if_read_only()
    entries = bench.entries
    choose = {
        "zone": bench.choices("zone", bench.finding.entry.slots.get("zone")),
        "side": among(listed(SIDES)),
        "face": among(listed(FACES)),
    }
    findings = [bench.looking.listing.by_id[name] for name in entries]
    place = await bench.ask(PlaceDialog([_line(bench, f) for f in findings], choose))
    if place is None:
        return
    done = await bench.do(lambda why: bench.review.move(entries, place, why=why))
    if done is not None:
        clear(bench)


async def withdraw(bench: Bench) -> None:
    """What holds is withdrawn; where all were withdrawn already, they hold again."""
    entries = bench.entries
    review, by_id = bench.review, bench.looking.listing.by_id
    gone = [name for name in entries if by_id[name].withdrawn]
    held = [name for name in entries if name not in gone]

    def deed(why: str) -> Done:
        return review.withdraw(*held, why=why) if held else review.restore(*gone, why=why)

    done = await bench.do(deed)
    if done is not None:
        clear(bench)


async def undo(bench: Bench) -> None:
    """The last deed, taken back."""
    done = await bench.do(lambda why: bench.review.undo(why=why))
    _show(bench, done)


async def redo(bench: Bench) -> None:
    """The deed that was undone last, done again."""
    done = await bench.do(lambda why: bench.review.redo(why=why))
    _show(bench, done)


def mark(bench: Bench) -> None:
    """Mark the entry, or take its mark away, and go on to the next."""
    picked, name = bench.looking.picked, bench.entry
    if picked.pop(name, 0) == 0:
        picked[name] = None
    bench.looking.listing.look_at(bench.looking.listing.at + 1)
    bench.looking.look()
    bench.screen.renew()


def clear(bench: Bench) -> None:
    """No entry is marked."""
    bench.looking.picked.clear()
    bench.screen.renew()


async def sign(bench: Bench) -> None:
    """What is open, who signs, and why all the same."""
    bench.refuse_if_read_only()
    review = bench.review
    points = review.open_points()
    inspection = review.inspection()
    summary = [
        f"{review.subject or 'an inspection'}, {len(inspection.live)} entries that hold, "
        f"{len(review.facts)} lines",
        f"on what was said: {verdict_words(inspection)}",
    ]
    signed = await bench.ask(SignDialog(review.by, [point.text for point in points], summary))
    if signed is None:
        return
    signature = review.sign(by=signed.by, why=signed.why)
    bench.looking.take()
    bench.screen.renew()
    bench.say(f"Signed by {signature.by}; content hash {signature.sha256[:16]}…")


def _show(bench: Bench, done: Done | None) -> None:
    """Look at what a deed touched, unless it is hidden."""
    if done is not None and done.findings:
        names = [finding.entry.id for finding in done.findings]
        if bench.looking.listing.current not in names:
            bench.go_to(names[0])


def _line(bench: Bench, finding: Finding) -> str:
    where = place_words(finding.entry, bench.review.grammar.zone_map)
    return f"{finding.entry.id}  {where} — {what_cell(finding)}"
