"""British and American trade terms: both are understood, and as the same thing.

The pairs are trade usage (common practice, no source); Australian and Irish terms stand with the
British ones where they are the same.
"""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.reading import Phrase

PAIRS = """
family front-rail+mid-rail+rear-rail | chassis rail = frame rail | chassis leg = frame leg
    | chassis member = frame member | chassis side rail = frame side rail | side member = side rail
zone front-rail | front chassis rail = front frame rail | front chassis leg = front side member
zone mid-rail | centre rail = center rail | centre chassis rail = center frame rail
zone rear-rail | rear chassis rail = rear frame rail | rear chassis leg = rear side member
zone gearbox-cross-member | gearbox cross member = transmission cross member
    | transfer box cross member = transfer case cross member | gearbox mounting = transmission mount
    | centre cross member = center cross member
zone rear-cross-member | back bar = rear cross bar
zone frame-horn | dumb iron = frame horn | chassis horn = rail tip | bumper iron = bumper horn
zone outrigger | chassis outrigger = frame outrigger
zone kick-up | chassis kick up = frame kick up | over axle arch = hump
zone control-arm-mount | wishbone mount = control arm mount | wishbone pocket = a arm pocket
    | track control arm mount = lower control arm mount | bottom arm bracket = control arm bracket
zone radius-arm-mount | panhard rod mount = track bar mount | tie bar bracket = strut rod bracket
zone steering-box-mount | steering box mount = steering gear mount
zone shock-mount | damper mount = shock mount | damper turret = shock tower
    | suspension turret = strut tower
family front-spring-hanger+rear-spring-hanger | spring mounting = spring hanger
    | shackle mount = shackle hanger
zone axle-bracket | bump stop = jounce stop | axle casing bracket = axle housing bracket
zone seat-belt-anchor | seat belt anchorage = seat belt anchor
zone tow-hitch | tow bar = trailer hitch | towing bracket = hitch receiver | towing eye = tow hook mount
zone engine-mount | engine mounting = motor mount
zone cab-mount | body mounting = body mount | body bush = body bushing | cab foot = body biscuit
    | cab mount rubber = body puck
zone bed-mount | load bed mount = cargo bed mount | tub mount = box mount | tray mounting = bed mount
zone tank-strap | petrol tank strap = gas tank strap
zone crush-section | crumple zone = crush zone | crash box = crush can
zone sill | sill = rocker | sill panel = rocker panel | inner sill = inner rocker
    | outer sill = outer rocker
zone floor-pan | footwell = toe pan | boot floor = trunk floor | toe board = floor board
zone wheel-arch | wheel arch = wheel well | inner wing = inner fender | wing lip = fender lip
    | flitch panel = fender apron
zone bulkhead | bulkhead = firewall | scuttle = cowl | scuttle panel = cowl panel
zone fuel-line | petrol pipe = gas line | fuel pipe = fuel line
zone brake-line | brake pipe = brake line | brake flexi = brake flex line | hydraulic pipe = hydraulic line
zone spare-carrier | spare tyre carrier = spare tire carrier | spare wheel winch = spare tire winch
zone fuel-tank | petrol tank = gas tank
condition staining | discolouration = discoloration
condition recoated | underseal = undercoating | undersealed = undercoated
    | rubberised underseal = rubberized undercoating | chassis paint = frame paint
condition chipped-coating | stone chips = rock chips
condition peeling-coating | underseal lifting = undercoating lifting
    | underseal coming off = undercoating coming off
condition scale | scabby = scaly | crusty = flaky metal | heavy rust = rust scale
condition pack-rust | blown seam = rust jacked seam | blown joint = pack rust
condition hole | lacy = swiss cheese | holed = rusted out | like a colander = like swiss cheese
condition old-repair | chassis patch = frame patch | plated = patch panel
condition filler | fibreglass = fiberglass | bog = body filler | aluminium tape = aluminum tape
condition leak | petrol leak = gas leak | wet with petrol = wet with gas
condition seized-fixing | seized bolt = frozen bolt | seized stud = frozen fastener
condition wasted-fixing | corroded fixing = corroded fastener
condition missing-part | missing fixing = missing fastener | missing bung = missing plug
    | missing bush = missing bushing
condition worn-hole | ovalised = ovalized | hogged out = egged out
condition blocked-drain | blocked drain = plugged drain | bunged up drain = clogged drain
condition debris | muck = gunk
rot hole | tin worm = rust cancer | chassis rot = frame rot | rotten as a pear = rotted to bits
rust surface-rust | oxidised = oxidized
probe firm | spike won't go in = pick won't go in
probe through | up to the hilt = up to the handle
method tapped | tapped with a spanner = tapped with a wrench
method probed | with a bradawl = with an awl
method gauged | calliper = caliper | vernier = micrometer
side centre | centre line = center | in the centre = in the center
kerb near | kerb side = curb side
kerb off | road side = street side
"""


def rows() -> list[tuple[str, str, str]]:
    """Meaning, British term and American term, one row a pair."""
    found = []
    for line in PAIRS.strip().replace("\n    ", " ").splitlines():
        meaning, *pairs = (part.strip() for part in line.split("|"))
        found += [(meaning, *map(str.strip, pair.split("=", 1))) for pair in pairs]
    return [(meaning, british, american) for meaning, british, american in found]


@pytest.fixture(scope="module")
def spoken() -> dict[str, Phrase]:
    """What a person can say, by its text."""
    return {p.text: p for p in load_grammar().vocabulary.phrases if not p.misheard}


def test_the_table_is_whole() -> None:
    """Every row has both terms, and no term stands for two things."""
    terms = [term for _, british, american in rows() for term in (british, american)]
    assert len(rows()) > 100
    assert all(terms)
    assert len(set(terms)) > 200


@pytest.mark.parametrize(("meaning", "british", "american"), rows(), ids=lambda text: text[:30])
def test_both_terms_mean_the_same(
    meaning: str, british: str, american: str, spoken: dict[str, Phrase]
) -> None:
    """Each is a spoken phrase of its own, with the slot and value of the other."""
    for term in (british, american):
        assert term in spoken
        assert f"{spoken[term].slot} {spoken[term].value}" == meaning


@pytest.mark.parametrize("word", ["shot", "junk", "cancer", "knackered", "wing", "boot", "trunk"])
def test_everyday_words_alone_mean_nothing(word: str, spoken: dict[str, Phrase]) -> None:
    """A dead battery is "shot" and a worn mate "knackered": only with rust beside them they count."""
    assert word not in spoken
