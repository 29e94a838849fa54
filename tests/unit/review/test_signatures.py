"""What a signature says, and when it is refused."""

from __future__ import annotations

import pytest

from voicelog.domain.fact import Fact
from voicelog.domain.revision import OpenPoint, Signature
from voicelog.domain.signing import signatures
from voicelog.errors import UsageFault
from voicelog.review.signatures import signed_body

SHA256 = "a" * 64
OPEN = (OpenPoint("doubtful", "Left rail: doubtful (e2.1)", "e2.1"),)


def test_what_is_signed_can_be_read_back() -> None:
    """The way from the body to the signature and back."""
    body = signed_body("the shop", lines=7, sha256=SHA256, unresolved=OPEN, why="sold as seen")
    at = "2026-03-14T09:05:30.250Z"
    assert signatures([Fact(8, at, 1.0, "0" * 64, "signed", body)]) == (
        Signature(8, at, "the shop", 7, SHA256, ("Left rail: doubtful (e2.1)",), "sold as seen"),
    )


def test_nothing_open_needs_no_reason_and_keeps_none() -> None:
    """A reason would say that there was something to excuse."""
    body = signed_body(" the shop ", lines=7, sha256=SHA256, why="because")
    assert body == {"by": "the shop", "lines": 7, "sha256": SHA256, "open": []}


@pytest.mark.parametrize("why", ["", "  \n"])
def test_open_points_need_a_reason(why: str) -> None:
    """Blanks are none."""
    with pytest.raises(UsageFault, match="1 point is still open"):
        signed_body("the shop", lines=7, sha256=SHA256, unresolved=OPEN, why=why)
    with pytest.raises(UsageFault, match="2 points are still open"):
        signed_body("the shop", lines=7, sha256=SHA256, unresolved=OPEN * 2, why=why)


@pytest.mark.parametrize("by", ["", "   "])
def test_nobody_cannot_sign(by: str) -> None:
    """A signature is a name."""
    with pytest.raises(UsageFault, match="name"):
        signed_body(by, lines=7, sha256=SHA256)
