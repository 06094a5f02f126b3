"""Names of several parts: preparations known by their kind alone, one thing or another, brackets, older salts.

Names are printed so in books of the time: Spons' Household Manual (1894), Henley's Formulas (1914), Piesse's Art of
Perfumery (1857), the British Pharmacopoeia's titles as King's American Dispensatory (1898) quotes them.
"""

import pytest

import reconlab as rl
from reconlab.materia import alarms, found_by, harmful, identify, thing
from reconlab.materia.made import MADE, heads, made_of
from reconlab.tables import MadeKind, PoisonWord, Substance, by_id, rows


@pytest.mark.parametrize(
    ("printed", "means"),
    [
        ("tincture of capsicum", "tincture of capsicum"),
        ("Tinct. Capsici", "tincture of capsicum"),
        ("compound tincture of gentian", "compound tincture of gentian"),
        ("gentian extract", "extract of gentian"),
        ("tincture of aloes and myrrh", "tincture of aloes + myrrh"),
        ("syrup of ginger", "syrup of ginger"),
        ("dilute citric acid", "dilute of citric_acid"),
        ("spirituous extract of violet pomatum", "spirituous extract of violets"),
    ],
)
def test_a_preparation_without_a_formula_is_known_by_its_kind(printed: str, means: str) -> None:
    keys = [option.key for option in identify(printed).options]
    assert f"{MADE}{means}" in keys


def test_what_is_in_it_is_not_known_and_never_said_to_be_nothing() -> None:
    what = thing(f"{MADE}tincture of ginger")
    assert what.identified
    assert what.on_file
    assert not what.formula_known
    assert "formula not on file" in what.name
    work = rl.translate(rl.read("Tincture of capsicum, 2 drachms\nRose water, 8 ounces", years="1894", place="London"))
    asked = rl.Use("hair lotion", law="EU") if "hair lotion" in _forms() else rl.Use("cold cream", law="EU")
    said = " ".join(map(str, rl.screen(work, asked).not_looked_up))
    assert "tincture of capsicum" in said


def _forms() -> set[str]:
    from reconlab.tables import FormRow  # noqa: PLC0415 - only here

    return {row.form for row in rows(FormRow)}


@pytest.mark.parametrize("poison", [row.id for row in rows(Substance) if row.never_handled])
def test_what_is_made_of_a_poison_is_never_handled(poison: str) -> None:
    for head in ("ointment", "plaster", "liniment"):
        key = f"{MADE}{head} of {poison}"
        assert thing(key).never_handled == by_id(Substance)[poison].never_handled
        assert harmful(key)


@pytest.mark.parametrize("word", [row.word for row in rows(PoisonWord)])
def test_no_kind_makes_the_word_of_a_poison_harmless(word: str) -> None:
    for head in ("tincture", "syrup", "ointment", "essence", "water"):
        for name in (f"{head} of {word}", f"{word} {head}", f"{head} of {word} and roses", f"rose {head} or {word}"):
            question = identify(name)
            assert question is None or any(harmful(option.key) for option in question.options) or not alarms(name), name


@pytest.mark.parametrize(
    ("printed", "first", "also"),
    [
        ("white wax or spermaceti", "beeswax_white", "spermaceti"),
        ("Rose or orange-flower water", "rose_water", "orange_flower_water"),
        ("rose (or distilled) water", "rose_water", "water"),
        ("oil of sassafras, or cassia", "oil_sassafras", "oil_cassia"),
    ],
)
def test_what_the_page_leaves_open_stays_open(printed: str, first: str, also: str) -> None:
    question = identify(printed)
    keys = [option.key for option in question.options]
    assert {first, also} <= set(keys)
    if not any(map(harmful, keys)):
        assert question.options[0].key == first
    else:
        assert question.chosen is None


@pytest.mark.parametrize(
    ("printed", "means"),
    [
        ("quick (un-slacked) lime", "quicklime"),
        ("Brown coloring (caramel)", "caramel"),
        ("chlorinated lime (bleaching powder)", "bleaching_powder"),
    ],
)
def test_brackets_explain_a_name(printed: str, means: str) -> None:
    assert means in [option.key for option in identify(printed).options]


@pytest.mark.parametrize(
    ("printed", "means"),
    [
        ("bromide of potash", "potassium_bromide"),
        ("muriate of magnesia", "magnesium_chloride"),
        ("citrate of soda", "sodium_citrate"),
    ],
)
def test_a_salt_is_found_by_the_older_name_of_its_base(printed: str, means: str) -> None:
    assert identify(printed).options[0].key == means


@pytest.mark.parametrize("printed", ["chloride of lime", "chloride of soda", "chloride of potash"])
def test_a_bleaching_liquor_is_no_chloride(printed: str) -> None:
    question = identify(printed)
    assert question is None or question.chosen is None or harmful(question.chosen.key)


@pytest.mark.parametrize("printed", ["ginger, in moderately fine powder", "orris root, coarse powder"])
def test_how_a_thing_was_cut_makes_no_other_thing(printed: str) -> None:
    assert identify(printed).options[0].key == identify(printed.split(",", maxsplit=1)[0]).options[0].key


@pytest.mark.parametrize(
    "printed", ["tincture of moonshine", "essence of ambrosia", "syrup of the moon", "ointment of Jove"]
)
def test_a_kind_of_nothing_on_file_is_not_identified(printed: str) -> None:
    assert identify(printed) is None
    assert found_by(printed) == ""


def test_no_tincture_is_made_of_chalk() -> None:
    assert identify("tincture of chalk") is None
    assert identify("spirit of talc") is None


@pytest.mark.parametrize("row", rows(MadeKind), ids=lambda row: f"{row.kind} of {row.of[0]}")
def test_every_kind_has_a_thing_it_is_made_of(row: MadeKind) -> None:
    assert row.kind in heads()
    fit = next(
        one for one in rows(Substance) if row.of == ("any",) or {one.class_, one.state, *one.functions} & set(row.of)
    )
    assert made_of(f"{MADE}{row.kind} of {fit.id}") is not None


@pytest.mark.parametrize(
    ("printed", "means"),
    [
        ("Oringe pills", "sweet_orange_peel"),  # so spelt in a collection of 1665
        ("pills of dry oringes", "bitter_orange_peel"),
        ("lemon pils", "lemon_peel"),
        ("pills of rhubarb", f"{MADE}pill of rhubarb"),  # no fruit with a peel
        ("blue pill", "blue_mass"),
    ],
)
def test_the_pills_of_a_fruit_are_its_peel(printed: str, means: str) -> None:
    assert means in {option.key for option in identify(printed).options}


def test_the_last_word_is_lent_to_a_name_before_or_where_that_makes_a_name_on_file() -> None:
    question = identify("orange-flower or rose-water")  # Leslie's Directions for Cookery, 1840
    assert question.options[0].key == "orange_flower_water"
    assert "rose_water" in {option.key for option in question.options}
    assert identify("white wax or almond oil").options[0].key == "beeswax_white"
