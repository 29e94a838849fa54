"""Which row goes with which column so that the sum of all costs is least: exact, no greed."""

from __future__ import annotations

from collections.abc import Sequence

_FAR = 1 << 62
"""Further than any sum of costs."""


def assign(costs: Sequence[Sequence[int | None]]) -> tuple[int | None, ...]:
    """As many pairs as can be, and among those the cheapest sum.

    The shortest-augmenting-path form of the assignment method of Kuhn and Munkres (1955, 1957);
    whole numbers, so that nothing depends on rounding.

    Args:
        costs: one row for each thing on the left, one column for each on the right, all rows of one
            length; a cost is zero or more, None where the two cannot go together.

    Returns:
        For each row its column; None where it is left alone.
    """
    if not costs or not costs[0]:
        return (None,) * len(costs)
    wide = len(costs[0])
    alone = 1 + sum(max((cost or 0 for cost in row), default=0) for row in costs)
    never = alone * (len(costs) + 1)
    table = [
        [never if cost is None else cost for cost in row] + [alone] * len(costs) for row in costs
    ]
    return tuple(column if column < wide else None for column in _cheapest(table))


def _cheapest(costs: Sequence[Sequence[int]]) -> list[int]:
    """For each row its column; there are at least as many columns as rows."""
    rows, columns = len(costs), len(costs[0])
    price_of_row, price_of_column = [0] * (rows + 1), [0] * (columns + 1)
    taken_by = [0] * (columns + 1)  # rows and columns count from 1, column 0 starts every path
    for row in range(1, rows + 1):
        taken_by[0] = row
        came_from = _widen(costs, taken_by, price_of_row, price_of_column)
        column = came_from[0]
        while column:
            before = came_from[column]
            taken_by[column] = taken_by[before]
            column = before
    found = [0] * rows
    for column in range(1, columns + 1):
        if taken_by[column]:
            found[taken_by[column] - 1] = column - 1
    return found


def _widen(
    costs: Sequence[Sequence[int]],
    taken_by: Sequence[int],
    price_of_row: list[int],
    price_of_column: list[int],
) -> list[int]:
    """Search from column 0 to the nearest free column; adjusts the prices on the way.

    Returns:
        For each column reached the one before it on the path; under 0 the free one at its end.
    """
    columns = len(taken_by)
    nearest, came_from, done = [_FAR] * columns, [0] * columns, [False] * columns
    here = 0
    while taken_by[here]:
        done[here] = True
        row, step, ahead = taken_by[here], _FAR, 0
        for column in range(1, columns):
            if done[column]:
                continue
            cost = costs[row - 1][column - 1] - price_of_row[row] - price_of_column[column]
            if cost < nearest[column]:
                nearest[column], came_from[column] = cost, here
            if nearest[column] < step:
                step, ahead = nearest[column], column
        for column in range(columns):
            if done[column]:
                price_of_row[taken_by[column]] += step
                price_of_column[column] -= step
            else:
                nearest[column] -= step
        here = ahead
    came_from[0] = here
    return came_from
