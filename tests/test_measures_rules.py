"""The author's own rule of weights, and the text's year beside the edition's.

Check values are those of `test_measures.py`: NIST Handbook 44, Appendix C, and the imperial gallon of 4.54609 L.
"""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import reconlab as rl
from reconlab.errors import InputError, ReconlabError
from reconlab.measures import check_rule, convert, custom_question, liquids_question, parts_question
from reconlab.reading.rules import read_rule
from reconlab.receipts import Setting
from reconlab.record import Reconstruction, dump, parse
from reconlab.tables import Custom, rows
from reconlab.translation import translate

AVDP_OZ, TROY_OZ, DRACHM, AVDP_DRAM = 28.349523125, 31.1034768, 3.8879346, 1.7718451953125
WINE_PINT, IMPERIAL_PINT = 473.176473, 568.26125


@pytest.mark.parametrize(
    ("rule", "claims"),
    [
        (
            "oz. and lb. are avoirdupois, dr. and gr. troy",
            "ounce: avoirdupois|pound: avoirdupois|drachm: troy|grain: troy",
        ),
        ("all weights troy", "weights: troy"),
        ("fluid ounces imperial", "fluid ounce: imperial"),
        ("the pint is of 16 ounces", "pint: 16 ounce"),
        ("16 ounces to the pint", "pint: 16 ounce"),
        ("1 lb. = 12 oz.", "pound: 12 ounce"),
        ("parts by weight", "parts: by weight"),
        ("liquids by measure, solids by weight", "liquids: by measure|solids: by weight"),
        ("The drachm contains 60 grains and the ounce 437½ grains.", "drachm: 60 grain|ounce: 437.5 grain"),
        ("avoirdupois ounces and pounds with troy drams", "ounce: avoirdupois|pound: avoirdupois|drachm: troy"),
        ("the pint is the imperial pint of 20 ounces", "pint: imperial|pint: 20 ounce"),
        ("\N{OUNCE SIGN} is the troy ounce", "the sign of the ounce: troy"),
        ("Weights avoirdupois; measures imperial.", "weights: avoirdupois|measures: imperial"),
        ("U.S. measure", "measures: wine"),
        ("oz. by troy weight", "ounce: troy"),
        ("avoirdupois_dublin", "all: avoirdupois_dublin"),
    ],
)
def test_a_rule_is_read_claim_by_claim(rule: str, claims: str) -> None:
    assert "|".join(map(str, read_rule(rule))) == claims


@pytest.mark.parametrize(
    "rule",
    [
        "ounces are not troy",  # a word that is not understood is never passed over: here it would turn the sense round
        "all weights are avordupois",
        "see the preface",
        "pints and ounces",
        "16",
        "the ounce is 1/16",
        "everything as usual except drachms",
        "?",
    ],
)
def test_a_rule_that_cannot_be_read_is_refused_with_examples(rule: str) -> None:
    for ask in (lambda: rl.read("Starch, 3 oz.", rule=rule), lambda: convert("1 oz.", rule=rule)):
        with pytest.raises(InputError, match='"all weights troy"'):
            ask()


@pytest.mark.parametrize(
    ("rule", "near"),
    [
        ("weights imperial", "but for: weights: imperial"),
        ("weights troy, pounds of wine measure", "Nearest is troy, but for: pound: wine"),
    ],
)
def test_a_rule_no_custom_keeps_says_what_was_read_and_what_is_near(rule: str, near: str) -> None:
    with pytest.raises(InputError, match="no custom on file keeps") as refused:
        convert("1 oz.", rule=rule)
    assert "read as" in refused.value.found
    assert near in refused.value.remedy


@pytest.mark.parametrize("rule", ["imperial weight", "troy measure", "weights of wine measure"])
def test_a_system_of_the_other_kind_keeps_no_rule(rule: str) -> None:
    with pytest.raises(InputError, match="no custom on file keeps"):
        check_rule(rule)


@pytest.mark.parametrize("rule", ["the teaspoonful is imperial", "solids by measure", "parts troy"])
def test_a_rule_that_settles_nothing_is_refused(rule: str) -> None:
    with pytest.raises(InputError):
        check_rule(rule)


KEPT = [  # rule, question, customs that keep it
    ("oz. and lb. are avoirdupois, dr. and gr. troy", "weights", {"avoirdupois"}),
    ("all weights troy", "weights", {"apothecaries"}),
    ("apothecaries' weight", "weights", {"apothecaries"}),
    ("the ounce is of 437½ grains, the drachm of 54.7 grains", "weights", {"avoirdupois_dublin"}),
    ("16 drams to the ounce", "weights", {"avoirdupois_throughout"}),
    ("the signs are troy", "weights", {"apothecaries", "avoirdupois"}),
    ("the pint is of 16 ounces", "measures", {"wine"}),
    ("20 fl. oz. to the pint", "measures", {"imperial"}),
    ("British measure", "measures", {"imperial"}),
    ("American measure", "measures", {"wine"}),
]


@pytest.mark.parametrize(("rule", "which", "kept"), KEPT)
def test_a_rule_leaves_the_customs_that_keep_it_and_says_why_others_are_out(
    rule: str, which: str, kept: set[str]
) -> None:
    asked = custom_question(which, Setting(rule=rule))
    ours = {"apothecaries", "avoirdupois", "avoirdupois_dublin", "avoirdupois_throughout", "wine", "imperial"}
    assert {option.key for option in asked.options} & ours == kept
    assert all(f"the author says so: {rule}" in option.reason.says for option in (*asked.options, *asked.dropped))
    assert (asked.chosen is not None) is (len(asked.options) == 1)


@pytest.mark.parametrize("custom", sorted({row.custom for row in rows(Custom)}))
def test_the_key_and_the_label_of_every_custom_are_rules(custom: str) -> None:
    row = next(row for row in rows(Custom) if row.custom == custom)
    assert custom in {option.key for option in custom_question(row.question, Setting(rule=custom)).options}
    labelled = custom_question(row.question, Setting(rule=row.label)).options  # several customs may bear one label
    assert row.label in {option.label for option in labelled}


def test_the_rule_of_a_mixed_book_weighs_each_unit_by_its_own_system() -> None:
    # oz. avoirdupois and dr. troy: 28.349523125 + 4 x 3.8879346 g, though the book of physic of 1820 would be troy
    rule = "oz. and lb. are avoirdupois, dr. and gr. troy"
    answer = convert("1 oz. 4 dr.", years="1820", place="London", book="pharmacopoeia", rule=rule)
    assert answer.chosen.mass_g == pytest.approx(AVDP_OZ + 4 * DRACHM, rel=1e-12)
    assert "the author says so" in str(answer.chosen.reason)
    plain = convert("1 oz. 4 dr.", years="1820", place="London", book="pharmacopoeia")
    assert plain.chosen.mass_g == pytest.approx(TROY_OZ + 4 * DRACHM, rel=1e-12)


def test_a_rule_is_enough_where_year_and_place_are_not_known() -> None:
    assert convert("1 pint", rule="the pint is of 16 ounces").chosen.volume_ml == pytest.approx(WINE_PINT)
    assert convert("2 drams", rule="16 drams to the ounce").chosen.mass_g == pytest.approx(2 * AVDP_DRAM)


def test_a_rule_of_weights_leaves_the_measures_as_they_were() -> None:
    setting = Setting("1890", "England", rule="all weights troy")
    assert (
        custom_question("measures", setting).options == custom_question("measures", Setting("1890", "England")).options
    )


def test_liquids_and_parts_are_settled_by_a_rule_that_says_so() -> None:
    for rule, key in (("liquids by weight", "by weight"), ("liquids by measure", "as its state says")):
        assert [option.key for option in liquids_question(Setting(rule=rule)).options] == [key]
    assert [option.key for option in parts_question(Setting(rule="parts by measure")).options] == ["by measure"]
    assert [option.key for option in parts_question(Setting(rule="everything by weight")).options] == ["by weight"]
    # glycerin weighed: 3 x 28.349523125 g; measured 3 x 28.4130625 mL x 1.260 g/mL
    asked = {"years": "1890", "place": "England", "book": "trade", "of": "glycerin"}
    weighed = convert("3 oz.", rule="liquids by weight", **asked)
    measured = convert("3 oz.", rule="liquids by measure", **asked)
    assert weighed.chosen.mass_g == pytest.approx(3 * AVDP_OZ)
    assert measured.chosen.mass_g == pytest.approx(3 * 28.4130625 * 1.26)
    assert not any("ounce, avoirdupois" in other.measure for other in measured.others)


def test_a_receipt_is_weighed_by_its_authors_rule_and_a_person_may_still_settle_it() -> None:
    receipt = rl.read("Starch, 3 oz.\nOrris root, 1 oz.", years="1820", place="London", book="pharmacopoeia")
    ruled = rl.read(
        receipt.text, years="1820", place="London", book="pharmacopoeia", rule="oz. avoirdupois, liquids by weight"
    )
    assert translate(receipt).mass("orris root").number == pytest.approx(TROY_OZ)
    formula = translate(ruled)
    assert formula.mass("orris root").number == pytest.approx(AVDP_OZ)
    assert "the author says so" in str(formula.mass("orris root").reason)
    settled = translate(ruled, [rl.Decision(question="weights", option="troy", because="the preface was a jest")])
    assert settled.mass("orris root").number == pytest.approx(TROY_OZ)


def test_a_record_keeps_rule_and_text_and_names_the_line_of_a_fault() -> None:
    text = (
        "format: 1\nsource:\n  years: '1890'\n  place: England\n  rule: all weights troy\n  text_years: '1820'\n"
        "  text_place: Scotland\ntranscription: Starch, 3 oz.\n"
    )
    record = parse(text, "powder.yaml")
    assert record.source.setting == Setting("1890", "England", "", "all weights troy", "1820", "Scotland")
    assert parse(dump(record), "powder.yaml") == record
    assert isinstance(record, Reconstruction)
    for good, bad in (("all weights troy", "all weights of old"), ("'1820'", "'182'"), ("Scotland", "Atlantis")):
        with pytest.raises(ReconlabError, match="source > "):
            parse(text.replace(good, bad), "powder.yaml")


def test_the_desk_takes_a_rule_and_refuses_one_it_cannot_read_before_anything_is_saved(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    work = rl.desk(tmp_path_factory.mktemp("desk") / "powder.yaml")
    work.read("Starch, 3 oz.\nOrris root, 1 oz.", years="1820", place="London", book="pharmacopoeia")
    before = work.record
    with pytest.raises(InputError):
        work.setting(rule="as my grandmother did")
    with pytest.raises(InputError):
        work.read("Starch, 1 oz.", rule="weights imperial")
    assert work.record == before
    work.setting(rule="oz. avoirdupois", text_years="1760")
    assert work.record.source.setting.of_text.years == "1760"
    assert rl.formula_of(work.record).mass("orris root").number == pytest.approx(AVDP_OZ)


# The text's year beside the edition's.


def test_a_reprint_is_measured_by_its_texts_year_and_the_editions_answer_stands_beside() -> None:
    # London wine measure until 1825, imperial law from 1826: test_measures.py
    answer = convert("1 pint", years="1890", place="England", text_years="1820")
    assert answer.chosen.volume_ml == pytest.approx(WINE_PINT)
    (beside,) = (other for other in answer.others if other.standing != "unlikely")
    assert (beside.volume_ml, beside.standing) == (pytest.approx(IMPERIAL_PINT), "possible")
    for each in (answer.chosen, beside):
        assert "for the text (England, 1820)" in str(each.reason)
        assert "for the edition (England, 1890)" in str(each.reason)


def test_a_translation_is_measured_by_its_texts_place() -> None:
    answer = convert("1 pint", years="1890", place="England", text_place="United States")
    assert answer.chosen.volume_ml == pytest.approx(WINE_PINT)
    assert answer.others[0].volume_ml == pytest.approx(IMPERIAL_PINT)


@pytest.mark.parametrize("which", ["weights", "measures"])
@pytest.mark.parametrize(("years", "text_years"), [("1890", "1885"), ("1780", "1770"), ("1911", "1911")])
def test_where_text_and_edition_agree_nothing_changes(which: str, years: str, text_years: str) -> None:
    plain = custom_question(which, Setting(text_years, "England", "trade"))
    both = custom_question(which, Setting(years, "England", "trade", text_years=text_years))
    assert both.options == plain.options


def test_a_text_of_an_unknown_time_leaves_the_edition_possible_and_chooses_nothing() -> None:
    asked = custom_question("measures", Setting("1890", "England", text_years="1400"))
    assert asked.chosen is None
    assert "imperial" in {option.key for option in asked.options}


def test_a_thing_was_what_its_writer_knew_in_the_texts_years_at_either_place() -> None:
    reprint = Setting("1911", "England", text_years="1790")
    assert reprint.within((), 1780, 1800)
    assert not reprint.within((), 1900, None)
    translation = Setting("1911", "England", text_years="1790", text_place="United States")
    assert translation.within(("US",), 1780, 1800)
    assert translation.within(("GB",), 1780, 1800)
    assert not translation.within(("CA",), 1780, 1800)


@pytest.mark.parametrize(
    ("given", "where"), [({"text_years": "soon"}, "text year"), ({"text_place": "Atlantis"}, "text place")]
)
def test_a_texts_year_and_place_are_checked_like_the_editions(given: dict[str, str], where: str) -> None:
    with pytest.raises(InputError) as refused:
        Setting("1890", "England", **given)
    assert refused.value.where == where


PIECES = """oz. lb. dr. gr. pint fluid ounces all weights measures troy avoirdupois imperial wine are is and , ; of 16
20 parts liquids by weight measure the signs ℥ Dublin 1850 not 1 solids everything"""
WORDS = st.sampled_from(re.split(r"\s+", PIECES))


@settings(deadline=None)  # the tables are read on first use
@given(st.lists(WORDS, max_size=9).map(" ".join) | st.text(max_size=20))
def test_any_rule_is_kept_or_refused_by_an_error_of_ours(rule: str) -> None:
    try:
        check_rule(rule)
    except ReconlabError as fault:
        assert fault.remedy  # noqa: PT017 - either outcome is right
        return
    for which in ("weights", "measures"):
        asked = custom_question(which, Setting("1890", "England", rule=rule))
        assert asked.options
        assert {option.key for option in asked.options}.isdisjoint(option.key for option in asked.dropped)


@pytest.mark.parametrize(
    ("rule", "read"),
    [
        (
            "all weights avoirdupois except drachms, which are apothecaries'",
            ["weights: avoirdupois", "drachm: apothecaries"],
        ),
        ("where not otherwise mentioned, avoirdupois weight is meant", ["weights: avoirdupois"]),
        ("Alle Gewichte sind Wiener Gewicht", ["weights: viennese_civil"]),
        ("die Flüssigkeiten werden gewogen", ["liquids: by weight"]),
        ("les liquides sont pesés", ["liquids: by weight"]),
        ("sauf indication contraire, poids de marc", ["all: poids_de_marc"]),
    ],
)
def test_rules_with_an_exception_and_rules_of_other_tongues(rule: str, read: list[str]) -> None:
    check_rule(rule)
    assert [str(claim) for claim in read_rule(rule)] == read


def test_an_exception_that_is_not_told_is_refused() -> None:
    with pytest.raises(InputError, match="does not say what gill is"):
        check_rule("all measures imperial except the gill")


@pytest.mark.parametrize(
    "rule",
    ["all ounces are by weight, avoirdupois", "ounces are by weight", "all ounces are avoirdupois", "oz. by weight"],
)
def test_ounces_the_author_weighs_are_weights_of_liquids_too(rule: str) -> None:
    """NIST Handbook 44, Appendix C: an avoirdupois ounce is 28.349523 g; the fluid ounce stays an answer."""
    found = convert("2 oz.", years="1890", place="London", of="spirit of wine", rule=rule)
    assert found.chosen is not None
    assert found.chosen.mass_g == pytest.approx(2 * 28.349523, abs=1e-5)
    assert any(answer.volume_ml == pytest.approx(56.826, abs=0.001) for answer in found.others)


def test_a_rule_of_ounces_leaves_drachms_and_whole_receipts_right() -> None:
    rule = "all ounces are by weight, avoirdupois"
    drachm = convert("2 fl. dr.", years="1890", place="London", of="rose water", rule=rule)
    assert drachm.chosen is not None
    assert drachm.chosen.volume_ml == pytest.approx(7.103, abs=0.001)  # two of 1/160 imperial pint
    receipt = rl.read("Glycerine, 2 oz.\nRose water, 1 pint", years="1890", place="London", rule=rule)
    assert translate(receipt).mass("glycerin").number == pytest.approx(2 * 28.349523, abs=0.001)
