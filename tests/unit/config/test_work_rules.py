"""What is done about findings, as it is written down: what loads, and what is told when it is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.plain import from_plain, to_plain
from voicelog.errors import GrammarFault

RULES = "rules/frame.toml"
WORK = """
[caution]
gloves = "Wear gloves."

[[work]]
id = "thin"
when = { condition = ["thinning"], grade = ["repair"], unproven = true, loss_at_least = "loss_percent" }
prove = ["Measure again."]
steps = ["Weld in a plate.", "Paint it."]
urgency = "repair"
cautions = ["gloves"]
source = "common practice, no source"

[[work]]
id = "look"
when = { open = ["not-seen"] }
steps = ["Look."]
source = "common practice, no source"

[[work]]
id = "rest"
steps = ["Ask."]
source = "common practice, no source"
"""


@pytest.fixture
def worked(cart: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small grammar folder with three work rules behind its severity rules."""
    monkeypatch.chdir(cart)
    rules = cart / RULES
    rules.write_text(rules.read_text() + WORK)
    return cart


def test_work_rules_arrive_with_their_cautions_as_sentences(worked: Path) -> None:
    """In the order of the file; lists become tuples, names become what they stand for."""
    first, second, last = load_grammar("cart", folder=worked).rules.work
    assert (first.id, first.prove, first.urgency) == ("thin", ("Measure again.",), "repair")
    assert first.steps == ("Weld in a plate.", "Paint it.")
    assert first.cautions == ("Wear gloves.",)
    assert first.when == {
        "condition": ("thinning",),
        "grade": ("repair",),
        "unproven": True,
        "loss_at_least": "loss_percent",
    }
    assert second.when == {"open": ("not-seen",)}
    assert (last.when, last.urgency, last.cautions) == ({}, "", ())


def test_a_table_of_before_there_was_work_still_loads(cart: Path) -> None:
    """Logs carry their own copy of the rules, and older ones tell of no work."""
    rules = load_grammar("cart", folder=cart).rules
    assert (rules.work, rules.work_cautions, rules.pointers) == ((), (), ())


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ('grade = ["repair"]', 'grade = ["repare"]', "34: work.when.grade: 'repare' is not a grade (did you mean 'repair'?)"),
        ("unproven = true", 'unproven = "yes"', "34: work.when.unproven: must be true or false, not 'yes'"),
        ("unproven = true", "unprovn = true", "34: work.when.unprovn: unknown key (did you mean 'unproven'?)"),
        ('"loss_percent" }\nprove', '"los_percent" }\nprove', "34: work.when.loss_at_least: 'los_percent' is not a name under [limits] (did you mean 'loss_percent'?)"),
        ('cautions = ["gloves"]', 'cautions = ["glove"]', "38: work.cautions: 'glove' is not a name under [caution] (did you mean 'gloves'?)"),
        ('urgency = "repair"', 'urgency = "soon"', "37: work.urgency: 'soon' is not an urgency (one of: now, repair, treat, look)"),
        ('open = ["not-seen"]', 'open = ["unseen"]', "43: work.when.open: 'unseen' is not a thing left open (did you mean 'not-seen'?)"),
        ('steps = ["Look."]', "steps = []", "44: work.steps: has too few values: at least 1"),
        ('steps = ["Look."]', 'steps = [""]', "44: work.steps: must not be empty"),
        ('steps = ["Look."]\n', "", "41: work.steps: is missing"),
        ('id = "look"', 'id = "thin"', "42: work.id: a work rule 'thin' is already there"),
        ('when = { open = ["not-seen"] }\n', "", "41: work: fits every finding, so nothing below is ever tried"),
        ('steps = ["Ask."]', 'when = { rot = true }\nsteps = ["Ask."]', "49: work.when: the last work rule must have an empty when"),
        ('probe = ["soft"]', 'grade = ["repair"]', "18: rule.when.grade: unknown key"),
        ('probe = ["soft"]', "rot = true", "18: rule.when.rot: unknown key"),
    ],
)  # fmt: skip
def test_each_fault_is_told_where_it_is(worked: Path, old: str, new: str, fault: str) -> None:
    """File, line, key and the nearest name; a severity rule cannot ask for what it gives."""
    text = (worked / RULES).read_text()
    assert old in text
    (worked / RULES).write_text(text.replace(old, new, 1))
    with pytest.raises(GrammarFault) as caught:
        load_grammar("cart", folder=worked)
    assert f"{RULES}:{fault}" in caught.value.faults


def test_all_faults_come_at_once(worked: Path) -> None:
    """Those of rules and those of work, in the order of their lines."""
    text = (worked / RULES).read_text()
    text = text.replace('id = "soft"', 'id = "thin"').replace('"gloves"]', '"boots"]')
    (worked / RULES).write_text(text)
    with pytest.raises(GrammarFault) as caught:
        load_grammar("cart", folder=worked)
    assert [fault.split(":")[2].strip() for fault in caught.value.faults] == [
        "rule.id",
        "work.cautions",
    ]


def test_the_shipped_grammar_is_the_same_out_of_the_cache() -> None:
    """Work rules survive being kept as plain data."""
    grammar = load_grammar()
    again: Grammar = from_plain(_through_json(to_plain(grammar)), grammar.files)
    assert again.rules == grammar.rules
    assert len(again.rules.work) > 40


def _through_json(plain: object) -> dict[str, object]:
    import json

    made: dict[str, object] = json.loads(json.dumps(plain))
    return made
