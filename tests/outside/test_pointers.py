"""Pointers to public rules against the pages on which their numbers were read.

Each row is a rule that the program names, and where its number and its subject were read: on a page
of whoever issued it, or (marked so) on another. No row says whether anything passes: the program
points, an inspector there looks it up.
"""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.config.pointers import with_pointers
from voicelog.domain.grade import PointerRule

MOT = "https://www.gov.uk/guidance/mot-inspection-manual-for-private-passenger-and-light-commercial-vehicles/"
CFR = "https://www.fmcsa.dot.gov/regulations/title49/section/393.70, list of sections"
PA = "https://www.pacodeandbulletin.gov/ 67 Pa. Code ch. 175 subch. E, list of sections"
QLVIM = (
    "https://readkong.com/page/queensland-light-vehicle-inspection-manual-september-2021-2184846"
)
VIRM = "https://vehicleinspection.nzta.govt.nz/virms/"

ROWS = {
    ("uk", "Appendix A"): ("issuer", MOT),
    ("uk", "6.1.1"): ("issuer", f"{MOT}6-body-structure-and-attachments"),
    ("uk", "6.1.2"): ("issuer", f"{MOT}6-body-structure-and-attachments"),
    ("uk", "6.1.3"): ("issuer", f"{MOT}6-body-structure-and-attachments"),
    ("uk", "6.1.5"): ("issuer", f"{MOT}6-body-structure-and-attachments, list of items"),
    ("uk", "6.1.6"): ("issuer", f"{MOT}6-body-structure-and-attachments, list of items"),
    ("uk", "6.1.8"): ("issuer", f"{MOT}6-body-structure-and-attachments, list of items"),
    ("uk", "1.1.11"): ("issuer", f"{MOT}1-brakes"),
    ("uk", "1.1.21"): ("issuer", f"{MOT}1-brakes"),
    ("uk", "7.1.1"): ("secondary", "a mirror of GOV.UK, 7-other-equipment"),
    ("us", "393.201"): ("secondary", "https://chanrobles.com/usa/uslaws/cfr/title49/"),
    ("us", "393.45"): ("secondary", "https://omb.report/ 49 CFR part 393 as of 1 October 2005"),
    ("us", "393.65"): ("issuer", CFR),
    ("us", "393.67"): ("issuer", "49 CFR 393.67 as of 1 October 2002, GPO"),
    ("us", "393.70"): ("issuer", CFR),
    ("us", "393.93"): ("issuer", CFR),
    ("us", "19VAC30-70-640"): ("secondary", "http://varules.elaws.us/code/19vac30-70-640"),
    ("us", "11.22.04.08"): ("secondary", "https://casetext.com/ COMAR 11.22.04.08"),
    ("us", "175.77"): ("issuer", PA),
    ("us", "175.78"): ("issuer", PA),
    ("us", "79.21"): ("issuer", "govt.westlaw.com 15 CRR-NY 79.21, its scope only"),
    ("nz", "3-1"): ("issuer", f"{VIRM}in-service-wof-and-cof/"),
    ("nz", "3-4"): ("issuer", f"{VIRM}entry-certification/"),
    ("eu", "6.1.1"): ("issuer", "OJ L 219, 22.8.2019, pp. 25-76 (table of Annex I, point 3)"),
    ("ca", "Schedule 1, part 11"): ("secondary", "public repositories that agree"),
    ("ca", "section 98"): ("issuer", "http://legisquebec.gouv.qc.ca/ C-24.2, r. 32, s. 98"),
    ("au", "section 4.2"): ("secondary", QLVIM),
    ("au", "section 5.1"): ("secondary", "contents of the manual of November 2023, a copy"),
    ("au", "section 1.3"): ("secondary", QLVIM),
}  # fmt: skip

WITHOUT_ADDRESS = {"79.21", "Schedule 1, part 11", "section 4.2", "section 5.1", "section 1.3"}
"""Read in excerpts or copies only: no address is given rather than one nobody opened."""


@pytest.fixture(scope="module")
def pointers() -> tuple[PointerRule, ...]:
    """All that are shipped."""
    return with_pointers(load_grammar().rules).pointers


def test_every_pointer_has_a_source_and_every_source_its_pointer(
    pointers: tuple[PointerRule, ...],
) -> None:
    """And says of itself whether it was read with its issuer."""
    found = {(p.region, p.item): p.read for p in pointers}
    assert found == {name: read for name, (read, _) in ROWS.items()}
    assert len(found) == len(pointers)


def test_an_address_is_given_where_one_was_opened(pointers: tuple[PointerRule, ...]) -> None:
    """An empty one is honest, a guessed one is not."""
    assert {p.item for p in pointers if not p.where} == WITHOUT_ADDRESS


def test_the_frame_rule_of_the_united_states_names_no_figure(
    pointers: tuple[PointerRule, ...],
) -> None:
    """49 CFR 393.201 says nothing of rust in numbers, and the pointer says so."""
    (rule,) = [p for p in pointers if p.item == "393.201"]
    assert "no figure for rust" in rule.about
    assert "commercial" in rule.document
