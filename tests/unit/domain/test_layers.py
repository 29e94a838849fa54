"""A table that is cheap to copy."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.domain import layers
from voicelog.domain.layers import Layers

STEPS = st.lists(st.one_of(st.none(), st.tuples(st.sampled_from("abcdefgh"), st.integers())))
"""Each either sets a value or makes a copy."""


@given(STEPS)
@settings(max_examples=100)
def test_it_is_what_a_dictionary_is_and_so_is_every_copy(
    steps: list[tuple[str, int] | None],
) -> None:
    """Order, values and names, of the table and of each copy made on the way, which stay as they were."""
    table, plain = Layers[int](), dict[str, int]()
    copies = []
    for step in steps:
        if step is None:
            copies.append((table.copy(), dict(plain)))
        else:
            table[step[0]] = plain[step[0]] = step[1]
    for one, as_it_was in [*copies, (table, plain)]:
        assert list(one.values()) == list(as_it_was.values())
        assert list(one.newest_first()) == list(as_it_was.values())[::-1]
        assert [one.get(name) for name in "abz"] == [as_it_was.get(name) for name in "abz"]
        assert ("a" in one, "z" in one) == ("a" in as_it_was, False)


def test_many_changes_are_shared_again_and_nothing_is_seen_of_it() -> None:
    """A copy takes no more along than the late changes there may be."""
    table = Layers[int]()
    for number in range(3 * layers.MOST_LATE):
        table[str(number % 300)] = number
        kept = table.copy()
        assert len(kept._late) <= layers.MOST_LATE
    table["0"] = -1
    assert (kept["0"], table["0"]) == (600, -1)
    assert len(list(kept.values())) == 300
