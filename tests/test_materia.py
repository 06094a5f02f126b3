"""What a name meant, and what is known of the thing: nothing is guessed, and nothing dangerous is dropped."""

import csv
from importlib.resources import files

import pytest
from chemicals.dippr import EQ116
from chemicals.volume import rho_data_VDI_PPDS_2
from hypothesis import given, settings
from hypothesis import strategies as st

from reconlab.errors import AmbiguousError, UnknownNameError
from reconlab.materia import (
    UNKNOWN,
    bulk_density,
    density,
    drop,
    folded,
    found_by,
    identify,
    properties,
    settles_by,
    substance_id,
    thing,
)
from reconlab.receipts import Setting
from reconlab.tables import Drop, Name, Preparation, PropertyValue, Substance, by_id, rows

POISONS = {row.id for row in rows(Substance) if row.never_handled}


def meanings(name: str, setting: Setting | None = None) -> dict[str, str] | None:
    """Return what a name may mean, with its standing."""
    asked = identify(name, setting)
    return {option.key: option.standing for option in asked.options} if asked else None


# Names


@pytest.mark.parametrize(
    ("written", "folded_to"),
    [
        ("Aq. Flor. Aurant.", "aq flor aurant"),
        ("Rose-water", "rose water"),
        ("Rose\N{HYPHEN}water", "rose water"),
        ("  ORRIS   Root ", "orris root"),
        ("ros\N{LATIN SMALL LETTER AE}", "rosae"),
        ("mu\N{LATIN SMALL LETTER LONG S}k", "musk"),
        ("Friar\N{RIGHT SINGLE QUOTATION MARK}s balsam", "friar's balsam"),
    ],
)
def test_names_are_compared_without_what_printers_vary(written: str, folded_to: str) -> None:
    assert folded(written) == folded_to


@settings(deadline=None)  # the first name read loads the tables
@given(st.text(max_size=30))
def test_folding_once_is_enough_and_any_name_is_identified_or_not(name: str) -> None:
    assert folded(folded(name)) == folded(name)
    asked = identify(name)
    assert asked is None or asked.options


@pytest.mark.parametrize(
    ("name", "found", "way"),
    [
        ("Oxide of zinc", "zinc_oxide", "exact"),
        ("Zinc oxide", "zinc_oxide", "word order"),
        ("Olive oil", "olive_oil", "exact"),  # by its modern name alone
        ("FRENCH CHALK", "talc", "exact"),
        ("Rose-water", "rose_water", "exact"),
        ("Aq. ros\N{LATIN SMALL LETTER AE}", "rose_water", "exact"),
        ("white waxes", "beeswax_white", "inflection"),
        ("flower of zinc", "zinc_oxide", "inflection"),
        ("oil of sweet almond", "almond_oil", "inflection"),
        ("bergamot oil", "bergamot_oil", "word order"),
        ("water, distilled", "water", "word order"),
        ("chalk, French", "talc", "word order"),
        ("bismuth, subnitrate of", "bismuth_subnitrate", "word order"),
    ],
)
def test_a_name_is_found_as_printed_by_inflection_or_in_another_order(
    name: str, found: str | None, way: str | None
) -> None:
    asked = identify(name)
    assert (asked.options[0].key if asked else None) == found
    assert found_by(name) == (way or "")


def test_every_name_on_file_is_found_exactly_and_keeps_its_meanings() -> None:
    for row in rows(Name):
        assert row.meaning in meanings(row.name)
        assert found_by(row.name) == "exact"


def test_every_meaning_is_a_substance_or_a_preparation_with_sources() -> None:
    for row in rows(Name):
        asked = identify(row.name)
        assert all(thing(option.key).identified for option in asked.options)
        assert all(option.reason.all_sources() for option in asked.options)


# What is not known


@pytest.mark.parametrize("name", ["flowers of Jupiter", "", " ", "oxide", "white", "sea foam"])
def test_a_name_nobody_knows_is_not_identified_and_never_guessed(name: str) -> None:
    assert identify(name) is None
    assert found_by(name) == ""
    assert settles_by(name) == ()


def test_a_thing_not_identified_keeps_its_name_and_is_marked() -> None:
    unknown = thing(f"{UNKNOWN}sea foam")
    assert (unknown.name, unknown.identified, unknown.liquid, unknown.never_handled) == ("sea foam", False, False, "")


def test_near_names_stand_in_the_error_only() -> None:
    with pytest.raises(UnknownNameError) as refused:
        substance_id("zinc oxid3")
    assert "zinc oxide" in refused.value.remedy
    with pytest.raises(UnknownNameError) as refused:
        substance_id("qwertyuiop")
    assert "Nearest" not in refused.value.remedy


# Years and places


def test_the_year_and_place_choose_among_meanings() -> None:
    # The British Pharmacopoeia of 1867 named wheat starch alone; the American one from its revision of 1890 on, maize
    assert next(iter(meanings("starch", Setting("1870", "England")))) == "wheat_starch"
    assert next(iter(meanings("starch", Setting("1900", "United States")))) == "maize_starch"
    assert next(iter(meanings("starch", Setting("1880", "United States")))) == "wheat_starch"


def test_a_meaning_of_another_year_or_place_is_demoted_and_says_so() -> None:
    asked = identify("balm of Gilead", Setting("1890", "England"))  # the fir balsam is American
    standing = {option.key: option for option in asked.options}
    assert (standing["mecca_balsam"].standing, standing["canada_balsam"].standing) == ("likely", "unlikely")
    assert "not here" in standing["canada_balsam"].reason.says


@pytest.mark.parametrize("years", ["", "1600", "1750", "1800", "1850", "1890", "1911", "1930", "2000"])
@pytest.mark.parametrize("place", ["", "England", "Scotland", "Ireland", "United States", "Canada"])
def test_no_year_and_no_place_ever_drops_a_meaning_least_of_all_a_poison(years: str, place: str) -> None:
    for name in {row.name for row in rows(Name)}:
        whole, here = meanings(name), meanings(name, Setting(years, place))
        assert here.keys() == whole.keys()
        assert (here.keys() & POISONS) == (whole.keys() & POISONS)


@pytest.mark.parametrize("name", ["flake white", "pearl white"])
def test_a_white_that_may_be_lead_says_what_would_decide(name: str) -> None:
    assert "white_lead" in meanings(name)
    assert settles_by(name)


# By modern name


@pytest.mark.parametrize("row", rows(Substance), ids=lambda row: row.id)
def test_a_substance_is_found_by_id_name_inci_name_and_number_alone(row: Substance) -> None:
    for words in (row.id, row.name, row.name.upper()):
        assert substance_id(words) == row.id
    same_name = [other.id for other in rows(Substance) if row.inci and other.inci == row.inci]
    if len(same_name) == 1:
        assert substance_id(row.inci) == row.id
    elif same_name and not any(folded(row.inci) in (folded(each.id), folded(each.name)) for each in rows(Substance)):
        with pytest.raises(AmbiguousError):  # such as CERA ALBA, of white wax and of yellow
            substance_id(row.inci)
    for number in row.cas:
        shared = [other.id for other in rows(Substance) if number in other.cas]
        if len(shared) == 1:
            assert substance_id(number) == row.id
        else:
            with pytest.raises(AmbiguousError) as refused:
                substance_id(number)
            assert all(by_id(Substance)[key].name in refused.value.found for key in shared)


@pytest.mark.parametrize("words", ["", " ", "-", "."])
def test_no_words_are_no_substance(words: str) -> None:
    with pytest.raises(UnknownNameError):
        substance_id(words)


def test_a_period_name_with_one_meaning_serves_too_and_one_with_several_is_ambiguous() -> None:
    assert substance_id("French chalk") == "talc"
    with pytest.raises(AmbiguousError, match="white lead"):
        substance_id("pearl white")


# Figures


@pytest.mark.parametrize("key", [*by_id(Substance), *by_id(Preparation), f"{UNKNOWN}sea foam"])
def test_every_thing_has_a_density_with_its_limits_and_a_source(key: str) -> None:
    value = density(key)
    assert 0 < value.low <= value.number <= value.high
    assert value.reason.all_sources()


def test_a_missing_density_is_a_stated_wide_spread_and_says_so() -> None:
    for key in ("mecca_balsam", f"{UNKNOWN}sea foam"):
        assert density(key).wide
        assert "no density of" in density(key).reason.says


# The figures called "in the data table" were taken from the same tables of the CRC Handbook that the package
# `chemicals` ships, so this checks the copying, not the Handbook.
CRC_TABLES = ("Physical Constants of Inorganic Compounds.csv", "Physical Constants of Organic Compounds.csv")


def crc_densities() -> dict[str, float]:
    """Return the densities of the two tables by number [kg/m3]."""
    found = {}
    for name in CRC_TABLES:
        text = files("chemicals").joinpath("Misc", name).read_text(encoding="utf-8")
        found |= {
            row["CAS"]: float(row["rho"]) for row in csv.DictReader(text.splitlines(), delimiter="\t") if row["rho"]
        }
    return found


def test_densities_taken_from_the_crc_tables_were_copied_without_a_slip() -> None:
    table, seen = crc_densities(), 0
    for row in rows(PropertyValue):
        place = next((source.place for source in row.sources if source.key.startswith("crc_handbook")), None)
        if row.property == "density" and place is not None:
            seen += 1
            decimals = len(str(row.value).partition(".")[2])
            assert row.value == pytest.approx(table[place] / 1000, abs=0.5001 * 10**-decimals), row.substance
    assert seen >= 15


@pytest.mark.parametrize(
    ("key", "number", "celsius", "within"),
    [
        ("ethanol", "64-17-5", 20, 0.0015),
        ("glycerin", "56-81-5", 20, 0.002),  # the pure substance, 1.2613; the B.P. figure holds a little water
        ("water", "7732-18-5", 25, 0.003),  # the equation is 0.25 % low for water
    ],
)
def test_densities_of_pure_liquids_agree_with_the_vdi_heat_atlas(
    key: str, number: str, celsius: int, within: float
) -> None:
    # VDI Heat Atlas, densities of saturated liquids (PPDS equation), as tabulated by the package `chemicals`
    atlas = rho_data_VDI_PPDS_2.loc[number]
    theirs = EQ116(celsius + 273.15, *(atlas[name] for name in ("Tc", "rhoc", "A", "B", "C", "D"))) / 1000
    ours = [row.value for row in properties(key, "density")]
    assert min(abs(value - theirs) / theirs for value in ours) < within


def test_a_drop_weighs_the_middle_of_what_was_weighed_between_its_limits() -> None:
    for key in by_id(Substance):
        spread = drop(key)
        if spread is None:
            continue
        assert spread.low <= spread.usual <= spread.high
        assert spread.unit == "g"
        assert spread.reason.all_sources()
    # almond oil has a figure of its own, half a grain (Martindale 1901): 0.5 x 64.799 = 32.4 mg
    assert drop("almond_oil").usual == pytest.approx(0.0324)
    assert drop("talc") is None or rows(Drop)[0].liquid == "any"


def test_a_property_nobody_looked_up_is_empty() -> None:
    assert properties("talc", "colour of the sea") == ()


# How a thing lies in a measure


@pytest.mark.parametrize(
    ("key", "volume_ml", "grams"),
    [
        ("marjoram", 14.787, 1.7),  # U.S. Department of Agriculture, release 25: 1 tablespoon, dried
        ("caraway_seed", 14.787, 6.7),  # the same
        ("wheat_bran", 236.588, 58),  # the same: 1 cup, crude
        ("gooseberry", 236.588, 150),  # the same: 1 cup, raw
        ("lavender_flowers", 236.588, 28.35),  # a seller of bath goods: 1 cup holds 1 ounce
        ("rose_petals", 236.588, 16),  # a seller of tea: 1 cup
    ],
)
def test_plants_lie_in_a_measure_as_they_were_weighed(key: str, volume_ml: float, grams: float) -> None:
    heap = bulk_density(key)
    assert heap.number * volume_ml == pytest.approx(grams, rel=0.02)
    assert heap.low < heap.number < heap.high  # another lot lies otherwise


@pytest.mark.parametrize(
    ("key", "kind"),
    [
        ("elder_flowers", "(flower)"),
        ("senna", "(leaf)"),
        ("wormwood_herb", "(herb)"),
        ("valerian", "(root)"),
        ("oak_bark", "(bark)"),
        ("pomegranate_bark", "(bark)"),  # root bark
        ("quassia", "(wood)"),
        ("carrot_seed", "(seed)"),
        ("juniper_berries", "(berry)"),
        ("sorrel", "(plant part)"),  # its name does not say what of it
        ("plum", "(fruit)"),
        ("orris_root", "(plant powder)"),
        (UNKNOWN + "frobnitz leaves", "(leaf)"),
    ],
)
def test_a_plant_of_no_bulk_density_lies_as_its_part_does(key: str, kind: str) -> None:
    heap = bulk_density(key)
    assert kind in str(heap.reason)
    assert 0.05 <= heap.low < heap.number < heap.high <= 0.88


def test_flowers_lie_lighter_than_roots_and_those_lighter_than_seeds() -> None:
    flowers, roots, seeds = (bulk_density(key).number for key in ("elder_flowers", "valerian", "carrot_seed"))
    assert flowers < roots < seeds


def test_what_is_no_plant_keeps_a_share_of_its_true_density() -> None:
    bismuth, water = bulk_density("bismuth_subnitrate"), "water of frobnitz leaves and bread"
    assert bismuth.number == pytest.approx(density("bismuth_subnitrate").number / 2)
    assert "usual for its kind" not in str(bulk_density(UNKNOWN + water).reason)
