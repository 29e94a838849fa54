"""Wall loss a year: what two readings tell, and what they do not."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.comparison import Comparison, Rate
from voicelog.domain.entry import Kind
from voicelog.domain.grade import RuleSet
from voicelog.findings.over_time.rate import rate_of, years_between
from voicelog.findings.over_time.words import rate_in_words

Became = Callable[..., Comparison]
YEAR = 365 / 365.25


def wall(mm: float, **more: Any) -> dict[str, Any]:
    """A thickness read at the left front rail."""
    rail = {"zone": "front-rail", "side": "left", "condition": "thinning"}
    return {**rail, "thickness_mm": mm, **more}


def rate(comparison: Comparison) -> Rate:
    """The one rate there is."""
    (found,) = [d.rate for d in comparison.differences if d.rate is not None]
    return found


def test_loss_beyond_the_gauge_is_a_rate(became: Became) -> None:
    """0.6 mm in a year, give or take 0.1 mm at both readings."""
    comparison = became([wall(3.0)], [wall(2.4)])
    found = rate(comparison)
    assert comparison.differences[0].change == "grew"
    assert (found.older_mm, found.newer_mm) == (3.0, 2.4)
    assert found.years == pytest.approx(YEAR)
    assert found.mm_per_year == pytest.approx(0.6 / YEAR)
    assert found.uncertainty_mm_per_year == pytest.approx(0.2 / YEAR)
    assert found.is_loss


def test_what_the_gauge_explains_is_no_loss(became: Became) -> None:
    """3.0 and 2.8 with 0.1 at both: the same wall, though a number stands there."""
    comparison = became([wall(3.0)], [wall(2.8)])
    found = rate(comparison)
    assert comparison.differences[0].change == "same"
    assert not found.is_loss
    assert found.years_left is None
    assert "no loss is shown" in rate_in_words(found)


def test_the_rules_say_how_true_the_gauge_reads(
    became: Became, table: Callable[..., RuleSet]
) -> None:
    """A better gauge at the newer reading shows the same 0.2 mm as a loss."""
    comparison = became([wall(3.0)], [wall(2.8)], rules=table(gauge_uncertainty_mm=0.02))
    assert rate(comparison).is_loss
    assert comparison.differences[0].change == "grew"


def test_years_left_until_the_shops_limit(became: Became) -> None:
    """Nominal 4 mm, limit 25 %: 3 mm is the least; 0.4 mm are left at 0.6 mm a year."""
    found = rate(became([wall(4.0, nominal_mm=4.0)], [wall(3.4)]))
    assert found.years_left == pytest.approx(0.4 / 0.6 * YEAR)
    assert found.years_left_least == pytest.approx(0.3 / 0.8 * YEAR)


def test_a_critical_mounting_has_the_stricter_limit(became: Became) -> None:
    """15 % of 4 mm: 3.4 mm is the least, and it is reached."""
    mount = {"zone": "shock-mount", "nominal_mm": 4.0}
    found = rate(became([wall(4.0, **mount)], [wall(3.4, **mount)]))
    assert found.years_left == 0.0
    assert "limit is reached" in rate_in_words(found)


def test_without_a_nominal_no_years_are_left_to_tell(became: Became) -> None:
    """The limit is a share of the wall when new."""
    found = rate(became([wall(3.0)], [wall(2.4)]))
    assert (found.years_left, found.years_left_least) == (None, None)


def test_thicker_now_is_another_spot(became: Became) -> None:
    """Metal does not grow back; the rate is negative and no loss."""
    comparison = became([wall(2.4)], [wall(3.0)])
    assert comparison.differences[0].change == "better"
    assert rate(comparison).mm_per_year < 0
    assert "another spot" in rate_in_words(rate(comparison))


@pytest.mark.parametrize(("day", "given"), [("2026-02-03", False), ("2026-02-04", True)])
def test_less_than_thirty_days_give_no_rate(became: Became, day: str, given: bool) -> None:
    """The change is told all the same."""
    (difference,) = became([wall(3.0)], [wall(2.4)], day=day).differences
    assert (difference.rate is not None) is given
    assert "Thickness from 3 to 2.4 mm" in difference.text


@pytest.mark.parametrize("more", [{"doubts": ("misheard",)}, {"side": "both"}, {"side": ""}])
def test_readings_in_doubt_give_no_rate_of_their_own(became: Became, more: dict[str, Any]) -> None:
    """Maybe misheard, or nobody knows of which side: nothing to divide by years. A reading of both
    sides is a reading of either.
    """
    now = {name: value for name, value in wall(2.4, **more).items() if value != ""}
    rates = [d.rate for d in became([wall(3.0)], [now]).differences if d.rate is not None]
    assert len(rates) == (1 if more == {"side": "both"} else 0)


def test_a_thickness_read_where_nothing_was_found_counts(became: Became) -> None:
    """Clear then with 3 mm, thinning now: it appeared, and here is the rate."""
    clear = wall(3.0) | {"kind": Kind.CLEAR}
    clear.pop("condition")
    (difference,) = became([clear], [wall(2.4)]).differences
    assert (difference.change, difference.older) == ("appeared", ("e1.1",))
    assert difference.rate is not None
    (mended,) = became([wall(2.4)], [clear]).differences
    assert mended.change == "repaired"
    (still,) = became([wall(3.0)], [clear]).differences
    assert still.change == "better"


def test_words_name_readings_loss_doubt_and_caution() -> None:
    """Whoever reads it must not take it for a promise."""
    text = rate_in_words(rate_of(3.0, 2.4, 1.5, (0.1, 0.1), 2.0))
    assert text == (
        "3 mm then, 2.4 mm now, 1.5 years apart: 0.40 mm lost a year, give or take 0.13 for the "
        "gauge. At that rate 1.0 years to the shop's limit, as little as 0.6 within the gauge's "
        "uncertainty. Rates are not constant: measure again."
    )


def test_times_with_offsets_and_times_nobody_can_read() -> None:
    """The offset counts; nonsense is no time."""
    assert years_between("2026-01-05T08:00:00+02:00", "2026-01-05T06:00:00Z") == 0
    assert years_between("2026-01-05T08:00:00Z", "soon") is None
    assert years_between("2026-01-05T08:00:00", "2026-01-05T08:00:00Z") is None
