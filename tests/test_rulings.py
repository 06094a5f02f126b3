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

# Regulation (EC) No 1223/2009, Annexes II to V, the Commission's export of 22 August 2026 (state of 18 August 2026):
# the greatest shares each line of an entry prints, in % of the finished thing (100, 50 ppm of safrole: 0.01, 0.005;
# musks and methyl eugenol have a line for each kind of goods inside one entry). Rows not in this list are not on file.
EXPORT_2026_08_22 = {
    "II 360": (
        0.005,
        0.01,
    ),
    "III 3": (5,),
    "III 4": (6,),
    "III 6 (a)": (5,),
    "III 6 (b)": (3,),
    "III 8a": (2,),
    "III 12 (a)": (12,),
    "III 12 (b)": (4,),
    "III 12 (d)": (0.1,),
    "III 21 (a)": (0.5,),
    "III 21 (b)": (0.2,),
    "III 22 (c)": (0.5,),
    "III 24 (a)": (1,),
    "III 24 (c)": (0.1,),
    "III 24 (d)": (1,),
    "III 25": (6,),
    "III 30": (0.15,),
    "III 31": (0.15,),
    "III 52": (5,),
    "III 62 (a)": (2.5,),
    "III 70 (a)": (0.11,),
    "III 70 (c)": (0.65,),
    "III 70 (d)": (0.6,),
    "III 70 (e)": (0.15,),
    "III 70 (f)": (0.35,),
    "III 70 (g)": (1.2,),
    "III 70 (h)": (1.2,),
    "III 72 (b)": (1,),
    "III 73 (b)": (0.02,),
    "III 96": (
        0.03,
        0.4,
    ),
    "III 97": (
        0.042,
        0.56,
    ),
    "III 98 (a)": (3,),
    "III 98 (b)": (2,),
    "III 98 (c)": (0.5,),
    "III 102": (
        0.0002,
        0.001,
        0.002,
        0.004,
    ),
    "III 156 (a)": (0.4,),
    "III 180": (0.6,),
    "III 181": (0.6,),
    "III 183": (0.6,),
    "III 214 (b)": (0.2,),
    "III 321 (a)": (25,),
    "III 324 (a)": (0.06,),
    "III 324 (b)": (0.05,),
    "III 324 (g)": (0.06,),
    "III 324 (h)": (0.6,),
    "III 324 (i)": (0.6,),
    "III 324 (j)": (0.03,),
    "III 324 (k)": (2.52,),
    "III 324 (m)": (0.6,),
    "III 378": (7,),
    "III 379": (0.05,),
    "III 381 (c)": (3.18,),
    "III 381 (d)": (14.62,),
    "III 381 (e)": (0.89,),
    "III 381 (g)": (7.14,),
    "III 381 (h)": (0.15,),
    "III 381 (i)": (6.7,),
    "III 381 (j)": (23,),
    "III 381 (o)": (10.59,),
    "III 381 (p)": (0.86,),
    "III 381 (q)": (3.81,),
    "IV 74": (6,),
    "IV 126a": (10,),
    "IV 142": (0.2,),
    "V 1 (a)": (2.5,),
    "V 1 (b)": (1.7,),
    "V 1 (c)": (0.5,),
    "V 1a": (0.5,),
    "V 3": (0.5,),
    "V 4": (0.6,),
    "V 9": (0.2,),
    "V 11": (0.5,),
    "V 12": (0.4,),
    "V 12 a": (0.14,),
    "V 13": (0.6,),
    "V 14": (0.5,),
    "V 29": (1,),
    "V 30": (0.15,),
}
# SI 2025/413, Schedule: methyl salicylate, all kinds of goods that have a form here, in %.
SI_2025_413 = {0.06, 0.6, 0.03, 0.05, 2.5, 0.4}


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
            if row.rule.entry.startswith("III") and row.rule.act:  # where no act was read it is a doubt
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


@pytest.mark.parametrize("entry", EXPORT_2026_08_22)
def test_a_limit_is_what_the_official_export_prints(entry: str) -> None:
    mine = [row for row in rows(Rule) if row.entry == entry and row.text == "eu_annexes_2_to_6"]
    assert {row.limit_percent for row in mine} - {None} == set(EXPORT_2026_08_22[entry])


def test_no_limit_is_on_file_that_was_not_read_in_a_text_of_law() -> None:
    for row in rows(Rule):
        if row.limit_percent is not None and row.text == "eu_annexes_2_to_6":
            assert row.limit_percent in EXPORT_2026_08_22[row.entry], row.id
        if row.limit_percent is not None and row.text == "gb_si_2025_413":
            assert row.limit_percent in SI_2025_413, row.id


# The use each limit is for: a wrong line of an entry is a wrong limit. Lines as in the export named above.
ONE_BY_ONE = [
    ("oil_wintergreen", "hair oil", "III 324 (a)", 0.06, 0.98),
    ("oil_wintergreen", "tooth powder", "III 324 (k)", 2.52, 0.98),
    ("oil_wintergreen", "mouth wash", "III 324 (m)", 0.6, 0.98),
    ("methyl_salicylate", "lip salve", "III 324 (j)", 0.03, 1.0),
    ("salicylic_acid", "hair wash", "III 98 (a)", 3, None),
    ("salicylic_acid", "hair lotion", "III 98 (b)", 2, None),
    ("resorcinol", "hair lotion", "III 22 (c)", 0.5, None),
    ("quinine_sulfate", "hair lotion", "III 21 (b)", 0.2, 0.8287),
    ("quinine_sulfate", "hair wash", "III 21 (a)", 0.5, 0.8287),
    ("hydrogen_peroxide", "mouth wash", "III 12 (d)", 0.1, None),
    ("hydrogen_peroxide", "skin lotion", "III 12 (b)", 4, None),
    ("oil_pimento", "pomade", "III 102", 0.0002, 0.085),
    ("oil_pimento", "soap", "III 102", 0.001, 0.085),
    ("oil_nutmeg", "hair oil", "II 360", 0.01, 0.015),
    ("oil_nutmeg", "tooth powder", "II 360", 0.005, 0.015),
    ("alum_potash", "tooth powder", "III 381 (c)", 3.18, 0.0569),
    ("zinc_sulfate", "skin lotion", "III 24 (d)", 1, 0.2274),
    ("benzoic_acid", "cold cream", "V 1 (c)", 0.5, 1.0),
    ("musk_ketone", "pomade", "III 97", 0.042, None),
    ("quinine", "hair lotion", "III 21 (b)", 0.2, 1.0),
    ("liquidambar", "pomade", "III 181", 0.6, None),
    ("cumin_seed", "cold cream", "III 156 (a)", 0.4, None),
    ("hexamethylenetetramine", "cold cream", "V 30", 0.15, None),
    ("fluorescein", "rouge", "IV 74", 6, None),
    ("arbutin", "cold cream", "III 378", 7, None),
    ("zinc_peroxide", "tooth powder", "III 12 (d)", 0.1, 0.349),
    ("potassium_salicylate", "cold cream", "V 3", 0.5, 0.7838),
]


@pytest.mark.parametrize(("substance", "form", "entry", "limit", "factor"), ONE_BY_ONE)
def test_a_limit_is_held_for_the_use_it_is_for(
    substance: str, form: str, entry: str, limit: float, factor: float | None
) -> None:
    mine = [row for row in own("EU", substance, Use(form)) if row.entry == entry and row.limit_percent is not None]
    assert [(row.limit_percent, row.reckoned_factor) for row in mine] == [(limit, factor)]


@pytest.mark.parametrize(
    ("substance", "form", "stops"),
    [
        ("petrolatum", CREAM, False),  # II 904: let through where its refining is known
        ("bay_leaf", CREAM, False),  # II 359 is the oil of the seed
        ("gold_leaf", "face powder", False),  # II 1728: nano only
        ("bronze_powder", "face powder", False),  # II 1726: nano only
        ("silver_leaf", "face powder", True),  # II 1727, III 379: massive and nano out, powder for the mouth only
        ("eosin", "hair lotion", True),  # II 1334: hair dye
        ("eosin", "rouge", False),  # IV 76
        ("fuchsin", "lip salve", True),  # IV 66: not on mucous membranes
        ("fuchsin", "rouge", False),
        ("zinc_sulfocarbolate", "pomade", True),  # III 25: deodorants and astringent lotions only
        ("citric_acid", CREAM, False),  # V 59 is its mixture with silver citrate
        ("nickel_metal", "face powder", True),  # II 1093
        ("human_fat", CREAM, True),  # II 416
        ("chinosol", "skin lotion", True),  # II 395: only with hydrogen peroxide in hair goods
        ("quinine", CREAM, True),  # III 21: hair goods only
        ("methylene_blue", "hair lotion", True),  # II 1306: hair dye
        ("methylene_blue", "mouth wash", False),
        ("nigrosine", "lip salve", True),  # IV 84: not on mucous membranes
        ("arbutin", "hair lotion", True),  # III 378: face creams only
        ("neem", CREAM, False),  # II 1716 is an extract of the kernels
        ("insect_flowers", CREAM, False),  # II 345 is Pyrethrum album
    ],
)
def test_an_entry_with_an_exception_stops_only_what_it_forbids(substance: str, form: str, *, stops: bool) -> None:
    laws = screen(one_percent(substance), Use(form, "EU", "2026-11-25")).stops
    assert (substance in {finding.substance for finding in laws}) == stops


def test_one_limit_is_held_against_all_that_carries_the_same_thing() -> None:
    # III 324 (a), 0.06 % of methyl salicylate: two oils, each below it alone (0.98 x 0.04 %), are above it together.
    both = formula_of_shares("label", [("oil_wintergreen", "0.04"), ("oil_birch_sweet", "0.04"), ("talc", "99.92")])
    use = Use("hair oil", "EU", "2026-11-25")
    assert {f.here for f in screen(both, use).findings if f.entry == "III 324 (a)"} == {"over the limit"}
    alone = formula_of_shares("label", [("oil_wintergreen", "0.04"), ("talc", "99.96")])
    assert {f.here for f in screen(alone, use).findings if f.entry == "III 324 (a)"} == {"within the limit"}


def test_what_carries_it_in_a_share_nobody_knows_leaves_a_limit_undecided() -> None:
    # Rose water carries methyl eugenol (III 102); no figure is on file for how much.
    shares = [("oil_clove_bud", "0.05"), ("rose_water", "99.95")]
    found = screen(formula_of_shares("label", shares), Use("skin lotion", "EU", "2026-11-25")).findings
    mine = [f for f in found if f.entry == "III 102" and f.substance == "oil_clove_bud"]
    assert [f.here for f in mine] == ["undecided"]
