"""Hold every ban of Annex II to a stop under EU law, and what Britain was not read for to a stop or a doubt."""

import pytest

from reconlab.formula import Formula
from reconlab.materia import thing
from reconlab.receipts import Use
from reconlab.rulings import KEPT_TO, every, lent, own
from reconlab.screening import rules_for, screen
from reconlab.tables import Rule, rows
from reconlab.translation import formula_of_shares

CREAM = "cold cream"  # stays on
BANNED = sorted(
    {
        rule.substance
        for rule in rows(Rule)
        if rule.rule == "forbidden"
        and rule.entry.startswith("II ")
        and not any((rule.on, rule.physical, rule.dust, rule.stays, rule.wearer, rule.limit_percent))
    }
)


def one_percent(substance: str) -> Formula:
    """Return a label with one per cent of a substance, called by its id or, where that names another, by its name."""
    for called in (substance, thing(substance).name):
        formula = formula_of_shares("label", [(called, "1"), ("talc", "99")])
        if substance in formula.possible():
            return formula
    raise AssertionError(substance)


def test_the_bans_are_on_file() -> None:
    assert {"white_lead", "mercuric_chloride", "arsenic_white", "chloroform", "carbolic_acid", "iodine"} <= set(BANNED)


@pytest.mark.parametrize("substance", BANNED)
def test_a_ban_for_all_uses_stops_what_stays_on_under_eu_law(substance: str) -> None:
    stops = screen(one_percent(substance), Use(CREAM, "EU", "2026-11-25")).stops
    assert substance in {finding.substance for finding in stops}


@pytest.mark.parametrize("substance", BANNED)
def test_a_ban_of_the_eu_stops_under_british_law_though_the_british_list_was_not_read(substance: str) -> None:
    use = Use(CREAM, "GB", "2026-11-25")
    screening = screen(one_percent(substance), use)
    stops = [finding for finding in screening.stops if finding.substance == substance]
    assert stops
    assert any(words.startswith("not allowed") for words in rules_for(substance, use))
    for finding in stops:
        if finding.entry.startswith("as EU"):
            assert "British list was not read" in finding.conditions[0]
            assert any(text.law == "EU" for text in screening.texts)  # the day of the text that speaks is shown


@pytest.mark.parametrize("law", ["US", "CA"])
@pytest.mark.parametrize("substance", BANNED)
def test_elsewhere_a_ban_of_the_eu_is_a_doubt_said_aloud(substance: str, law: str) -> None:
    screening = screen(one_percent(substance), Use(CREAM, law, "2026-11-25"))
    mine = [finding for finding in screening.findings if finding.substance == substance]
    assert any(finding.stops or any("EU forbids it" in words for words in finding.conditions) for finding in mine)


def test_what_a_later_act_of_the_eu_limits_is_a_doubt_in_britain_and_an_older_limit_binds() -> None:
    restricted = [r for r in rows(Rule) if r.rule == "restricted" and r.entry.startswith("III") and r.act]
    seen = set()
    for rule in restricted:
        for row in lent("GB", rule.substance, Use(CREAM)):
            if row.rule.entry.startswith("III"):
                later = row.rule.act.rpartition(" ")[2][:4] > KEPT_TO
                assert row.binding != later
                seen.add(later)
    assert seen == {True, False}


def test_a_british_row_answers_before_a_lent_one() -> None:
    use = Use(CREAM, "GB")
    assert [rule.entry for rule in own("GB", "borax", use)] == ["II 1396"]
    assert not lent("GB", "borax", use)


def test_nothing_is_lent_to_the_eu_nor_where_no_law_is_asked() -> None:
    for _, substance in every():
        assert not lent("EU", substance, Use(CREAM))
        assert not lent("", substance, Use(CREAM))
