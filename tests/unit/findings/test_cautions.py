"""What somebody under a vehicle is warned of: before they start, and at each finding that asks for it.

The sentences of the design: its section on grading names every one of these cautions.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from voicelog.domain.grade import RuleSet
from voicelog.findings.grading import Graded

Read = Callable[..., Graded]

FIRE = "keep flames and sparks away"
HALT = "Do not drive or tow this vehicle"


@pytest.mark.parametrize(
    "wanted",
    ["lift points for rot", "stands, not a jack alone", "eye and dust protection",
     "owner's leave", "pressurised pipe", "at a tank"],
)  # fmt: skip
def test_before_the_start(wanted: str, rules: RuleSet) -> None:
    """Lift points, stands, eyes and dust, the owner's leave, and what is never picked at."""
    assert any(wanted in caution for caution in rules.cautions)


@pytest.mark.parametrize(
    "wanted",
    ["licensed practice", "maker's instructions", "local law", "only on stands", "dust protection",
     "in moving air", "Grinding throws sparks", "fuel, lines"],
)  # fmt: skip
def test_beside_every_list_of_work(wanted: str, rules: RuleSet) -> None:
    """Who may decide, what to wear, and where sparks must not go."""
    assert any(wanted in caution for caution in rules.work_cautions)


@pytest.mark.parametrize(
    "finding",
    ["fuel-tank crack", "fuel-tank leak", "fuel-tank hole", "fuel-tank staining probe=through"],
)
def test_fuel_that_may_run_out_is_kept_from_fire(finding: str, read: Read) -> None:
    """Whatever opened the tank."""
    told = " ".join(read(finding).cautions)
    assert HALT in told
    assert FIRE in told


@pytest.mark.parametrize("text", ["smells of fuel", "brake fluid", "petrol on the floor"])
def test_fuel_and_brake_fluid_burn_wherever_they_drip(text: str, read: Read) -> None:
    """Far from any tank or line."""
    told = " ".join(read("outrigger leak", text=text).cautions)
    assert HALT in told
    assert FIRE in told


@pytest.mark.parametrize("finding", ["floor-pan hole", "bulkhead staining probe=through"])
def test_exhaust_is_kept_out_of_the_cabin(finding: str, read: Read) -> None:
    """Virginia 19VAC30-70-640: no opening through which exhaust gets in."""
    (caution,) = read(finding).cautions
    assert caution == "Keep exhaust out: no driving with people aboard until it is sealed."


@pytest.mark.parametrize("finding", ["brake-line scale", "fuel-line delamination"])
def test_a_line_eaten_into_is_not_driven_on(finding: str, read: Read) -> None:
    """Until somebody qualified has assessed it."""
    told = read(finding).cautions
    assert any(caution.startswith("No driving until somebody qualified") for caution in told)


@pytest.mark.parametrize(
    ("finding", "warned"),
    [
        ("brake-line staining", "Do not pick or scrape at this line"),
        ("fuel-tank staining", "Do not pick or scrape at the tank"),
        ("mid-rail recoated", "Fresh coating can hide what is under it"),
    ],
)
def test_a_mere_mark_warns_where_it_has_to(finding: str, warned: str, read: Read) -> None:
    """Whatever is found on a line or a tank; and fresh coating on structure."""
    (caution,) = read(finding).cautions
    assert caution.startswith(warned)


@pytest.mark.parametrize("zone", ["mid-rail", "cab-mount", "sill", "spare-carrier"])
def test_a_mere_mark_elsewhere_warns_of_nothing(zone: str, read: Read) -> None:
    """A warning that always comes is not heard."""
    assert read(f"{zone} staining").cautions == ()


@pytest.mark.parametrize("rot", ["hole", "soft-spot"])
def test_a_distance_that_would_decide_is_asked_for(rot: str, read: Read) -> None:
    """UK MOT inspection manual, Appendix A: within 30 cm of a mounting it is another matter."""
    (caution,) = read(f"mid-rail {rot}").cautions
    assert caution.startswith("Say how far it is from the nearest")
    assert read(f"mid-rail {rot}", mount_distance_mm=301.0).cautions == ()
