"""A report put together by hand, for the tests of whatever draws one; nothing in it is computed."""

from __future__ import annotations

import io
from dataclasses import replace
from typing import Any

from voicelog.domain.report import (
    Answer,
    Change,
    Coating,
    Item,
    KeyRow,
    Picture,
    Report,
    Row,
    RuleLine,
    Signed,
    Unseen,
    Work,
)

PLAN = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 240" role="img">
<title>Plan</title><desc>Seen from above</desc>
<text x="60" y="12" font-size="9" text-anchor="middle" font-family="sans-serif">FRONT</text>
<rect x="20" y="20" width="80" height="200" fill="none" stroke="#000"/>
<rect x="22" y="40" width="14" height="60" fill="#888" stroke="#000"/>
<text x="29" y="72" font-size="9" text-anchor="middle" font-family="sans-serif">A</text>
</svg>"""

RULE = RuleLine(
    "rot-at-mounting", "Rot at a critical mounting is unsafe.", "common practice, no source"
)
GRADES = (("unsafe", "A"), ("repair", "B"), ("treat", "C"), ("cosmetic", "D"))


def picture(name: str = "photos/p4.jpg", shade: int = 120) -> Picture:
    """A small grey JPEG."""
    from PIL import Image

    file = io.BytesIO()
    Image.new("L", (64, 48), shade).save(file, "JPEG")
    return Picture(name, file.getvalue(), "Taken 09:12, sure of it", "A hole in a grey bracket")


def item(number: int = 1, **more: Any) -> Item:
    """One finding, its grade by its number."""
    grade, letter = GRADES[(number - 1) % 4]
    whole = Item(
        number, f"e{number + 1}.1", grade, letter, f"left front rail, station {number}",
        "carries the front suspension and the engine", "hole, 25 mm, probe through",
        limits=("metal not reached",), said="left front rail, hole, scraper went through it",
        at="14 March 2026, 10:05 (UTC+01:00)", measured=("The hole is 25 mm across.",),
        judged=("The probe went through.",), inferred=("It lies at a critical mounting.",),
        rules=(RULE,), steps=("Cut back to solid metal.", "Weld in a plate."),
        cautions=("Do not drive or tow the vehicle.",), history=("Said first as surface rust.",),
        lacks="No photo shows it yet.",
    )  # fmt: skip
    return replace(whole, **more)


def report(findings: int = 6, **more: Any) -> Report:
    """A report with so many findings, all other fields filled."""
    items = tuple(
        item(number, **({"pictures": (picture(),)} if number % 2 else {}))
        for number in range(1, findings + 1)
    )
    return replace(_whole(items), **more)


def _whole(items: tuple[Item, ...]) -> Report:
    return Report(
        title="Frame inspection: pickup 12",
        drive="do-not-drive",
        headline="Do not drive or tow",
        under="One place that holds the vehicle together has failed.",
        counted=(
            "11 of 18 important places were touched.",
            "5 of 7 hidden places were seen by nobody.",
        ),
        plan=PLAN,
        plan_alt="The vehicle from above, front at the top: the left front rail is unsafe.",
        key=(
            KeyRow("A", "unsafe", "unsafe"), KeyRow("B", "repair", "repair"),
            KeyRow("C", "treat", "treat"), KeyRow("D", "cosmetic", "marks only"),
            KeyRow("", "unseen", "hatched: nobody looked"),
        ),
        answers=(
            Answer("Move it today?", "No, not even on a rope.", ("A mounting is holed.",)),
            Answer("Repairable?", "Yes, if the metal round it is solid.", ("The rot is local.",)),
            Answer("What could change that?", "Five places.", ("The right kick up was not seen.",)),
        ),
        worst=items[:5],
        more=max(0, len(items) - 5),
        next_step=("Have a structural welder look at the left front rail.",),
        vehicle=(Row("Vehicle", "pickup 12"), Row("Odometer", "82 000 miles"),
                 Row("Inspected", "14 March 2026"), Row("Inspector", "R. Sample")),
        conditions=(Row("Stood", "on a lift"), Row("Surface", "dirty, coated"),
                    Row("Refused", "scraping")),
        basis=(Row("Measured", "2 sizes and 1 thickness."), Row("Judged", "9 probes."),
               Row("Inferred", "4 grades that nobody confirmed.")),
        overruled=("Right bed mount: the rules say cosmetic, the inspector said repair.",),
        findings=items,
        clear=("Gearbox cross member: nothing found, tapped.",),
        work=(
            Work("now", 1, "left front rail", "hole", ("Do not move it.",), "common practice, no source"),
            Work("look", 0, "right kick up", "nobody looked inside", ("Look in with a camera.",),
                 "common practice, no source", ("Ask the owner first.",)),
        ),
        work_cautions=("Work under it on stands only.",),
        unseen=(Unseen("right kick up", "nobody looked inside", "shield in the way",
                       "Rot there would make it beyond repair."),),
        past=("It stood on grass for ten years.",),
        photos=(picture("photos/p9.jpg", 200),),
        lacking=("Left front rail: no photo of the inside.",),
        changes=(Change("grew", "The hole in the left front rail was 15 mm, now 25 mm.",
                        "0.4 mm a year, plus or minus 0.1"),),
        compared=("Compared with the inspection of 3 May 2024.",),
        coating=(Coating("left sill", "3 %", "5-G", "Ri 4 (approximate)", "fair"),),
        pointers=(Row("Example manual, item 6.1", "what an inspector there looks up for a frame"),),
        cautions=("Use stands, not a jack alone.",),
        signatures=(Signed("R. Sample", "14 March 2026, 11:00", "ab" * 32, 24,
                           ("Right kick up: nobody looked.",), "the shield stays on"),),
        chain=(Row("Log", "3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11"), Row("Last line", "cd" * 32),
               Row("What it proves", "That nothing was changed since, not that it is true.")),
        notice="voicelog grades what was said; it vouches for nothing.",
        made=(Row("Program", "voicelog 0.1.0"), Row("Ear", "built-in")),
    )  # fmt: skip
