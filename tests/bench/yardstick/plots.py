"""The yardstick's pictures: exact findings over noise, and whether confidence means what it says.

They have a ground of their own, so that they can be read on a light page and on a dark one, and tell
their lines apart by mark and dash as well as by colour. Colours are those of Okabe and Ito (2008).
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from voicelog.yardstick.shares import wilson
from yardstick.calibration import bins, trusted
from yardstick.noises import CONDITIONS
from yardstick.report import COMPARED_AT, TARGETS, best_search
from yardstick.scoring import Part
from yardstick.systems import ALONE, BOTH, SECOND, TYPED, System

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

LOOKS = (
    ("#0072b2", "o", "-"), ("#d55e00", "s", "--"), ("#009e73", "^", "-."), ("#5d5d5d", "D", ":"),
    ("#aa4499", "v", (0, (5, 1, 1, 1, 1, 1))),
)  # fmt: skip
INK, GRID = "#1f2328", "#d0d7de"
SIZE_INCHES = (8.4, 4.0)
APART = 0.06
"""Marks of one condition stand this far apart, so that their intervals do not hide one another."""


def draw(part: Part, systems: Sequence[System], folder: Path) -> list[Path]:
    """Both pictures of a part, as SVG.

    Args:
        part: what was measured.
        systems: that were compared.
        folder: where they go.
    """
    files = [folder / "hearing-exact.svg", folder / "hearing-confidence.svg"]
    _save(exact(part, systems), files[0])
    _save(reliability(part), files[1])
    return files


def exact(part: Part, systems: Sequence[System]) -> Figure:
    """Utterances exactly right in each condition, with 95 % intervals."""
    figure, axes = _figure("utterances exactly right, %")
    conditions = [c.name for c in CONDITIONS if any(s.condition == c for s in part.spoken)]
    shown = (BOTH, ALONE, SECOND, best_search(part, systems, COMPARED_AT), TYPED.name)
    lines = [name for name in shown if name in part.outcomes]
    for at, (name, look) in enumerate(zip(lines, LOOKS, strict=False)):
        found = [[o.exact for o in part.under(name, condition)] for condition in conditions]
        places = [x + APART * (at - len(lines) / 2) for x, each in enumerate(found) if each]
        _line(axes, name, places, [(sum(each), len(each)) for each in found if each], look)
    aims = [(x, TARGETS[name]) for x, name in enumerate(conditions) if name in TARGETS]
    for x, aim in aims:
        axes.plot([x - 0.3, x + 0.3], [100 * aim] * 2, color=INK, lw=1)
    axes.plot([], [], color=INK, lw=1, label=f"target of {BOTH}")
    axes.set_xticks(range(len(conditions)), conditions)
    axes.set_ylim(0, 102)
    _legend(figure)
    return figure


def reliability(part: Part) -> Figure:
    """Words that were right, over the confidence their ear had in them."""
    figure, axes = _figure("words right, %")
    axes.plot([0, 100], [0, 100], color=INK, lw=0.8, label="as it should be")
    told = {ear: list(trusted(part.spoken, hearings)) for ear, hearings in part.heard.items()}
    sure = [(ear, words) for ear, words in told.items() if words]
    for (ear, words), look in zip(sure, LOOKS, strict=False):
        found = bins(words)
        counts = [(each.right, each.count) for each in found]
        _line(axes, ear, [100 * each.said for each in found], counts, look)
    axes.set_xlabel("confidence of a word, %")
    axes.set_ylim(0, 102)
    _legend(figure)
    return figure


def _figure(up: str) -> tuple[Figure, Axes]:
    from matplotlib.figure import Figure

    figure = Figure(figsize=SIZE_INCHES, layout="constrained", facecolor="white")
    axes = figure.add_subplot()
    axes.set_ylabel(up, color=INK)
    axes.grid(axis="y", color=GRID, lw=0.6)
    axes.spines[["top", "right"]].set_visible(False)
    axes.tick_params(colors=INK, labelsize=9)
    return figure, axes


def _legend(figure: Figure) -> None:
    """Beside the drawing, where it hides nothing."""
    figure.legend(frameon=False, fontsize=8, loc="outside right upper")


def _line(
    axes: Axes,
    name: str,
    places: Sequence[float],
    counts: Sequence[tuple[int, int]],
    look: tuple[str, str, object],
) -> None:
    """Shares with their intervals, joined by a line."""
    colour, mark, dash = look
    shares = [100 * part / whole for part, whole in counts]
    limits = [wilson(part, whole) for part, whole in counts]
    below = [share - 100 * low for share, (low, _) in zip(shares, limits, strict=True)]
    above = [100 * high - share for share, (_, high) in zip(shares, limits, strict=True)]
    axes.errorbar(places, shares, yerr=(below, above), color=colour, marker=mark, ls=dash,
                  ms=5, lw=1.4, elinewidth=0.8, capsize=2, label=name)  # fmt: skip


def _save(figure: Figure, file: Path) -> None:
    """The same numbers give the same bytes."""
    import matplotlib

    with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": "voicelog"}):
        file.parent.mkdir(parents=True, exist_ok=True)
        figure.savefig(file, format="svg", metadata={"Date": None})
