"""The drawing: every place once a side, by colour, pattern and letter, numbers that can be read."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.advice import PlaceState
from voicelog.domain.entry import Seen
from voicelog.domain.grade import Grade
from voicelog.domain.zone import Layout, Role, Zone, ZoneMap
from voicelog.export.plan_callouts import HEIGHT, Callout, laid_out, shortened
from voicelog.export.plan_looks import INK, LOOKS, PAPER, look_of, swatch_svg
from voicelog.export.plan_svg import Place, plan_svg

SVG = "{http://www.w3.org/2000/svg}"
MAPS = ("ladder-frame", "unibody", "backbone")

NOT_SEEN = Seen(False, False, None, False)
LOOKED = Seen(True, False, None, False)
TOUCHED = Seen(True, True, None, False)

RAILS = ZoneMap(
    "two", "Two rails and a bar",
    {
        "rail": Zone("rail", "Front rail", Role.LOAD_PATH, Layout.PAIR, plan=(10, 20, 8, 30)),
        "bar": Zone("bar", "Cross bar", Role.LOAD_PATH, Layout.ONE, plan=(30, 60, 40, 6)),
        "pipe": Zone("pipe", "Pipe", Role.FLUID_LINE, Layout.ONE, plan=(49, 10, 1, 40)),
    },
)  # fmt: skip


def _states(zone_map: ZoneMap, **given: PlaceState) -> list[PlaceState]:
    """Every place of a map, not seen unless given as ``zone`` or ``zone_side``."""
    return [
        given.get(f"{zone.id}_{side}" if side else zone.id, PlaceState(zone.id, side, NOT_SEEN))
        for zone in zone_map.zones.values()
        for side in zone.sides()
    ]


def _draw(
    *states: PlaceState,
    zone_map: ZoneMap = RAILS,
    numbers: Mapping[Place, tuple[int, ...]] | None = None,
    cavities: frozenset[Place] = frozenset(),
    driver: str | None = "left",
    title: str = "Frame",
) -> ET.Element:
    svg = plan_svg(
        zone_map,
        states,
        numbers=numbers or {},
        cavities_open=cavities,
        driver_side=driver,
        title=title,
    )
    return ET.fromstring(svg)  # noqa: S314


def _places(drawing: ET.Element) -> dict[str, ET.Element]:
    """The box of every place, by its title."""
    found = {}
    for group in drawing.iter(f"{SVG}g"):
        title, box = group.find(f"{SVG}title"), group.find(f"{SVG}rect")
        if title is not None and box is not None and ": " in (title.text or ""):
            found[str(title.text)] = box
    return found


def _words(drawing: ET.Element) -> list[str]:
    return [str(text.text) for text in drawing.iter(f"{SVG}text")]


@pytest.mark.parametrize("name", MAPS)
def test_every_place_of_a_map_is_drawn_once_a_side(name: str) -> None:
    """No place is forgotten, none is drawn twice, and all lie within the drawing."""
    zone_map = load_grammar(name).zone_map
    drawing = _draw(*_states(zone_map), zone_map=zone_map)
    expected = sum(len(zone.sides()) for zone in zone_map.zones.values())
    assert len(_places(drawing)) == expected
    _, _, width, height = map(float, drawing.attrib["viewBox"].split())
    for box in _places(drawing).values():
        assert 0 <= float(box.attrib["x"]) <= width - float(box.attrib["width"])
        assert 0 <= float(box.attrib["y"]) <= height - float(box.attrib["height"])


def test_the_right_side_is_the_mirror_of_the_left() -> None:
    """Seen from above with the front at the top, left is left."""
    boxes = _places(_draw(*_states(RAILS)))
    left, right = boxes["Left front rail: nobody looked"], boxes["Right front rail: nobody looked"]
    middle = 200
    assert float(left.attrib["x"]) < middle < float(right.attrib["x"])
    mirrored = 2 * middle - float(left.attrib["x"]) - float(left.attrib["width"])
    assert float(right.attrib["x"]) == pytest.approx(mirrored, abs=0.11)
    assert left.attrib["y"] == right.attrib["y"]


@pytest.mark.parametrize(
    ("grade", "letter"), [("unsafe", "U"), ("repair", "R"), ("treat", "T"), ("cosmetic", "C")]
)
def test_each_grade_has_its_letter_and_its_own_ground(grade: str, letter: str) -> None:
    """In the place and in the margin, so that no colour is needed."""
    state = PlaceState("bar", None, TOUCHED, Grade(grade))
    drawing = _draw(*_states(RAILS, bar=state), numbers={("bar", None): (1,)})
    assert _words(drawing).count(letter) == 2
    fill = _places(drawing)[f"Cross bar: {grade}; findings 1"].attrib["fill"]
    assert fill == (f"url(#plan-{grade})" if LOOKS[grade].lines else LOOKS[grade].fill)


def test_a_grade_that_may_be_worse_has_a_question_mark() -> None:
    """Where the metal was not reached."""
    state = PlaceState("bar", None, LOOKED, Grade.TREAT, unproven=True)
    assert "T?" in _words(_draw(*_states(RAILS, bar=state)))


def test_unseen_places_are_hatched_and_refused_ones_otherwise() -> None:
    """Nobody looked, somebody could not look, nothing found: three different things."""
    states = _states(
        RAILS,
        rail_left=PlaceState("rail", "left", NOT_SEEN, refused=True),
        bar=PlaceState("bar", None, LOOKED),
    )
    boxes = _places(_draw(*states))
    fills = {title: box.attrib["fill"] for title, box in boxes.items()}
    assert fills["Right front rail: nobody looked"] == "url(#plan-unseen)"
    assert fills["Left front rail: could not be looked at"] == "url(#plan-refused)"
    assert fills["Cross bar: nothing found; looked at, not touched"] == PAPER
    assert "stroke-dasharray" in boxes["Right front rail: nobody looked"].attrib


def test_touched_places_have_a_thick_edge() -> None:
    """What was only looked at has a thin one."""
    states = _states(
        RAILS,
        rail_left=PlaceState("rail", "left", TOUCHED),
        rail_right=PlaceState("rail", "right", LOOKED),
    )
    boxes = _places(_draw(*states))
    touched = float(boxes["Left front rail: nothing found"].attrib["stroke-width"])
    looked = boxes["Right front rail: nothing found; looked at, not touched"]
    assert touched >= 2 * float(looked.attrib["stroke-width"])


def test_what_was_found_counts_before_what_was_not_seen() -> None:
    """A graded place is shown by its grade even where somebody could not look at all of it."""
    state = PlaceState("bar", None, NOT_SEEN, Grade.REPAIR, refused=True)
    assert look_of(state) == "repair"


def test_patterns_differ_in_black_and_white() -> None:
    """Every pattern has lines of its own, or a ground so dark or light that it needs none."""
    drawn = [(look.lines, look.turn, look.tile) for look in LOOKS.values() if look.lines]
    assert len(drawn) == len(set(drawn))
    assert {name for name, look in LOOKS.items() if not look.lines} == {"unsafe", "clear"}


def test_every_letter_is_different() -> None:
    """Seven looks, and no letter twice."""
    letters = [look.letter for look in LOOKS.values() if look.letter]
    assert len(letters) == len(set(letters)) == 6


def _luminance(colour: str) -> float:
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return sum(w * part for w, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def test_text_stands_on_white_with_a_contrast_of_seven() -> None:
    """Letters have a white ground of their own, whatever pattern is below (WCAG 2.2, 1.4.6)."""
    assert (_luminance(PAPER) + 0.05) / (_luminance(INK) + 0.05) >= 7
    drawing = _draw(*_states(RAILS), numbers={("bar", None): (1,)})
    assert {text.attrib["fill"] for text in drawing.iter(f"{SVG}text")} == {INK}


def test_hidden_insides_that_nobody_saw_have_a_sign() -> None:
    """One for each, and the place says so."""
    bare, marked = (
        _draw(*_states(RAILS), cavities=places)
        for places in (frozenset[Place](), frozenset({("rail", "left"), ("bar", None)}))
    )
    assert len(list(marked.iter(f"{SVG}circle"))) == len(list(bare.iter(f"{SVG}circle"))) + 2
    assert any("nobody saw its inside" in title for title in _places(marked))


@pytest.mark.parametrize("side", ["left", "right"])
def test_front_and_drivers_side_are_marked(side: str) -> None:
    """A buyer holds the page the right way round."""
    words = _words(_draw(*_states(RAILS), driver=side))
    assert {"FRONT", "REAR", "LEFT", "RIGHT", "driver’s side"} <= set(words)
    marked = plan_svg(
        RAILS, _states(RAILS), numbers={}, cavities_open=set(), driver_side=side, title=""
    )
    anchor = "start" if side == "left" else "end"
    assert re.search(rf'text-anchor="{anchor}"[^>]*>driver’s side', marked)


def test_an_unknown_drivers_side_is_told() -> None:
    """It is never guessed."""
    words = _words(_draw(*_states(RAILS), driver=None))
    assert "driver’s side" not in words
    assert "On which side the driver sits was not said." in words


@pytest.mark.parametrize("name", MAPS)
def test_callouts_never_lie_on_one_another(name: str) -> None:
    """With a finding in every place of the map."""
    zone_map = load_grammar(name).zone_map
    states = [
        PlaceState(zone.id, side, TOUCHED, Grade.TREAT)
        for zone in zone_map.zones.values()
        for side in zone.sides()
    ]
    numbers = {(state.zone, state.side): (n,) for n, state in enumerate(states, 1)}
    drawing = _draw(*states, zone_map=zone_map, numbers=numbers)
    boxes: dict[float, list[float]] = {}
    for group in drawing.iter(f"{SVG}g"):
        title, box = group.find(f"{SVG}title"), group.find(f"{SVG}rect")
        if title is not None and box is not None and re.fullmatch(r"T \d+", title.text or ""):
            boxes.setdefault(float(box.attrib["x"]), []).append(float(box.attrib["y"]))
    assert len(boxes) == 2
    assert sum(map(len, boxes.values())) == len(states)
    for column in boxes.values():
        gaps = [lower - upper for upper, lower in itertools.pairwise(sorted(column))]
        assert min(gaps) >= 12


def test_callouts_stand_as_near_to_their_places_as_they_can() -> None:
    """In the order of their places; those at the rear move up rather than off the page."""
    wishes = [50.0, 51.0, 52.0, 198.0, 199.0]
    placed = laid_out([Callout(0, wish, "T", (1,), False) for wish in wishes], 0, 200)
    assert [callout.wish for callout in placed] == wishes
    assert all(b.y - a.y >= HEIGHT - 1e-9 for a, b in itertools.pairwise(placed))
    assert placed[-1].y <= 200
    assert placed[0].y == 50


@pytest.mark.parametrize(
    ("numbers", "told"),
    [
        ((1,), "1"),
        ((1, 2, 3), "1 2 3"),
        ((10, 11, 12, 13), "10 11 +2"),
        ((100, 101, 102), "100 +2"),
    ],
)
def test_many_numbers_are_counted(numbers: tuple[int, ...], told: str) -> None:
    """A callout has room for a few."""
    assert shortened(numbers) == told


def test_findings_that_cannot_be_drawn_are_named_below() -> None:
    """Nothing that was found vanishes."""
    words = _words(_draw(*_states(RAILS), numbers={("moon", None): (3,), ("rail", None): (1,)}))
    assert "Not on the drawing, place or side not known: 1, 3" in words


def test_places_without_a_box_are_counted_below() -> None:
    """A shop's own map may leave them out."""
    bare = ZoneMap("b", "B", {"x": Zone("x", "X", Role.PANEL, Layout.ONE)})
    assert "1 place of this map is not on the drawing." in _words(
        _draw(*_states(bare), zone_map=bare)
    )


def test_hostile_titles_stay_text() -> None:
    """A map and a subject are text from outside."""
    evil = '<script>alert(1)</script>"&\x1b\u202e'
    zones = {"x": Zone("x", evil, Role.PANEL, Layout.ONE, plan=(10, 10, 20, 20))}
    drawing = _draw(
        *_states(ZoneMap("e", "E", zones)), zone_map=ZoneMap("e", "E", zones), title=evil
    )
    assert not list(drawing.iter(f"{SVG}script"))
    title = drawing.find(f"{SVG}title")
    assert title is not None
    assert title.text == '<script>alert(1)</script>"&??'


def test_it_is_one_picture_with_title_and_description() -> None:
    """Screen readers get a sentence instead of two hundred boxes."""
    drawing = _draw(*_states(RAILS, bar=PlaceState("bar", None, LOOKED, Grade.UNSAFE)))
    assert drawing.attrib["role"] == "img"
    ids = {element.attrib["id"] for element in drawing.iter() if "id" in element.attrib}
    assert set(drawing.attrib["aria-labelledby"].split()) <= ids
    described = drawing.find(f"{SVG}desc")
    assert described is not None
    assert "Places: 1 unsafe, 3 nobody looked at." in str(described.text)


def test_it_needs_nothing_from_elsewhere() -> None:
    """No script, no style, no foreign content, no address: browsers and Typst draw the same."""
    states = _states(RAILS)
    svg = plan_svg(RAILS, states, numbers={}, cavities_open=set(), driver_side=None, title="x")
    assert not re.search(r"<script|<style|foreignObject|href|@import|var\(|url\((?!#plan-)", svg)
    assert svg.count("http") == svg.count('xmlns="http://www.w3.org/2000/svg"')


@pytest.mark.parametrize("look", [*LOOKS, "cavity", "unproven", "touched", "something else"])
def test_every_sign_of_the_key_can_be_drawn(look: str) -> None:
    """Each by itself, its ids its own."""
    first, second = (ET.fromstring(swatch_svg(look, f"key-{n}-")) for n in (1, 2))  # noqa: S314
    ids = [{e.attrib["id"] for e in one.iter() if "id" in e.attrib} for one in (first, second)]
    assert not ids[0] & ids[1]


def test_typst_draws_it() -> None:
    """The PDF's own engine takes it as a picture."""
    import typst

    svg = plan_svg(RAILS, _states(RAILS), numbers={("bar", None): (1,)}, cavities_open=set(), driver_side="left", title="x")  # fmt: skip
    source = "#set page(width: 148mm, height: auto)\n#image(bytes(sys.inputs.svg), width: 100%)"
    assert typst.compile(source.encode(), format="png", sys_inputs={"svg": svg})[:4] == b"\x89PNG"
