"""Make `report.png`, page one of the demo's report: `python .pictures/report.py` (half a minute).

The bundled recordings are heard by the built-in ear; the vehicle is invented, and so is its number,
which is the example that 49 CFR 565 is taught with.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from unittest.mock import patch

import pypdfium2
from review import BEGUN, demo_log

from voicelog.config.settings import Settings
from voicelog.export.pdf import report_pdf
from voicelog.runtime.reports import report_of
from voicelog.runtime.review import Review

HERE = Path(__file__).parent
SCALE = 1.6
"""Pixels a point: 115 an inch."""

TOLD = {
    "vin": "1M8GDM9AXKP042788",
    "odometer": {"value": 82400, "unit": "mi"},
    "inspector": "Sam",
    "stood": "lift",
    "surface": ["dirty"],
    "refusals": [{"what": "covers", "why": "the undertray stays on"}],
}
"""What is told of the vehicle afterwards."""


def main() -> None:
    """The picture."""
    with (
        tempfile.TemporaryDirectory() as folder,
        patch("voicelog.journal.clock.utc_now", lambda: BEGUN),
    ):
        log = demo_log(Path(folder))
        with Review.open(log, Settings(), by="Sam") as review:
            review.note("vehicle", {"set": TOLD, "by": "Sam"})
        pages = pypdfium2.PdfDocument(report_pdf(report_of(log, now=BEGUN)))
        page = pages[0].render(scale=SCALE).to_pil()
    page.quantize(64).save(HERE / "report.png", optimize=True)


if __name__ == "__main__":
    main()
