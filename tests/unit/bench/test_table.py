"""The tables: every share where it belongs, for what is measured and for what is not."""

from __future__ import annotations

import pytest
from pace import Pace, Paces
from systems import OWN, SYSTEMS
from table import jobs, text

from voicelog.yardstick.strict import Answer, Got, Judged, judge

RUST = {"kind": "finding", "zone": "sill", "condition": "surface-rust"}
RIGHT = judge([RUST], Answer((Got(RUST),)))
WRONG = judge([RUST], Answer((Got({**RUST, "zone": "kick-up"}, ("faint",)),)))
PACE = Pace(0.001, 0.002, 0.003, 0.002)
PACES = Paces(4000, 0.1, PACE, PACE, Pace(0.004, 0.02, 0.03, 0.02))
PARTS, RATES = ("tuning", "untouched"), (0.0, 0.1)


def lines(parts: tuple[str, ...], rates: tuple[float, ...]) -> list[list[str]]:
    """The tables' rows, where voicelog gets every second case right and the others none."""
    found: dict[object, list[Judged]] = {
        job: [RIGHT if job.system == OWN else WRONG, WRONG] for job in jobs(parts, rates)
    }
    rows = text(found, PACES, parts, rates).splitlines()  # type: ignore[arg-type]
    cells = (row.split("|")[1:-1] for row in rows if row.startswith("| "))
    return [[cell.strip() for cell in row] for row in cells]


def test_shares_stand_in_their_columns() -> None:
    """Voicelog first, then the baselines in their order; hand-written and generated together."""
    rows = {row[0]: row[1:] for row in lines(PARTS, RATES)}
    assert lines(PARTS, RATES)[0] == ["", *SYSTEMS, "target"]
    own, *others, target = rows["**untouched: exact, as typed**"]
    assert (own, target) == ("50.0 % (2/4)", "≥ 97 %")
    assert others == ["0.0 % (0/4)"] * (len(SYSTEMS) - 1)
    assert rows["… written by hand"][0] == "50.0 % (1/2)"
    assert rows["… wrong entries marked doubtful"][:2] == ["100.0 % (2/2)", "–"]
    assert rows["untouched: false entries in chatter, as typed"][0] == "1 in 2"
    assert rows["4 hypotheses read together"] == ["50.0 % (2/4)"]
    assert rows["median at 10 times the phrases to median now"][0] == "4.00"


@pytest.mark.parametrize(("parts", "rates"), [(("tuning",), (0.0,)), (("untouched",), (0.25,))])
def test_any_part_and_rates_can_be_shown(parts: tuple[str, ...], rates: tuple[float, ...]) -> None:
    """Only what was measured is there."""
    names = [row[0] for row in lines(parts, rates)]
    assert any(name.startswith(f"**{parts[0]}: exact") for name in names)
    assert any("hypotheses" in name for name in names) is any(rates)
