"""Strengths of spirits and solutions there and then: nothing of later books first, acids and lyes by their tables."""

from typing import Any

import pytest

import reconlab as rl
from reconlab.errors import InputError
from reconlab.materia import harmful, identify, thing
from reconlab.receipts import Setting
from reconlab.spirit import content_density, content_of, solution_gravity, solution_question, spirit_question
from reconlab.tables import Strength, rows

LATER = "later than the book"


def told(text: str, years: str, place: str) -> Any:  # noqa: ANN401 - a spirit's answer or another liquid's
    return rl.strength(text, years=years, place=place)


# ---- nearest in time ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "first"),
    [
        ("spirit of wine", "rectified_spirit_london_1788"),
        ("alcohol", "alcohol_london_1788"),
        ("proof spirit", "proof_spirit_london_1788"),
    ],
)
def test_of_later_books_the_nearest_comes_first_and_says_it_is_later(name: str, first: str) -> None:
    options = spirit_question(name, Setting("1750", "London")).options
    assert options[0].key == first
    assert options[0].standing == "unlikely"
    assert LATER in options[0].reason.says


def test_proof_spirit_of_about_1800_was_two_things() -> None:
    options = spirit_question("proof spirit", Setting("1800", "London")).options
    assert {option.key for option in options} == {"proof_spirit_london_1788", "proof_spirit_domestic_1802"}
    value = content_of("proof_spirit_domestic_1802")  # twenty ounces of alcohol of 0.815 in thirty-seven
    assert value is not None
    assert value.number == pytest.approx(content_of_gravity(0.815) * 20 / 37, abs=0.1)


def test_what_is_only_later_is_not_chosen_and_the_card_says_so() -> None:
    found = told("Franzbranntwein", "1880", "Berlin")
    assert found.chosen is None
    assert LATER in str(found)


def test_an_earlier_strength_stays_possible_and_comes_before_later_ones() -> None:
    options = spirit_question("stronger alcohol", Setting("1890", "New York")).options
    assert [option.standing for option in options] == ["possible"]
    options = spirit_question("proof spirit", Setting("1990", "London")).options
    assert options[0].key == "proof_spirit_sikes"
    assert all(LATER not in option.reason.says for option in options)


def test_acids_of_later_books_are_unlikely_too() -> None:
    found = told("muriatic acid", "1820", "London")
    assert found.meanings[0].label.startswith("hydrochloric acid of the British Pharmacopoeia 1864")
    assert {each.standing for each in found.meanings} == {"unlikely"}
    assert found.chosen is None


@pytest.mark.parametrize(
    ("place", "gravity"),
    [("London", 0.835), ("Dublin", 0.840)],  # Paris, Pharmacologia: Spiritus Rectificatus
)
def test_each_college_had_its_rectified_spirit(place: str, gravity: float) -> None:
    chosen = told("rectified spirit", "1820", place).chosen
    assert chosen.value.number == pytest.approx(content_of_gravity(gravity), abs=0.01)


def content_of_gravity(gravity: float) -> float:
    return float(rl.strength(f"sp. gr. {gravity}", years="1820", place="London").meanings[0].value.number)


# ---- named solutions ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "years", "place", "percent", "gravity"),
    [
        ("liquor potassae", "1890", "London", 5.84, 1.058),  # as the British Homoeopathic Pharmacopoeia quotes it
        ("liquor potassae", "1870", "Philadelphia", 5.8, 1.065),  # Wood
        ("liquor potassae", "1895", "New York", 5, 1.036),  # weaker than the table of lyes reaches
        ("liquor sodae", "1890", "London", 4.1, 1.047),
        ("dilute hydrochloric acid", "1887", "London", 10.58, 1.052),  # Thomson's Conspectus
        ("Acidum Nitricum Dilutum", "1890", "London", 17.4, 1.101),
        ("nitric acid", "1890", "London", 70, 1.42),
        ("diluted sulphuric acid", "1895", "New York", 10, 1.07),
        ("oil of vitriol", "1890", "London", 96.8, 1.843),
        ("dilute phosphoric acid", "1890", "London", 13.8, 1.08),
        ("acetic acid", "1890", "London", 33, 1.044),
        ("acetic acid", "1895", "New York", 36, 1.048),
        ("Salmiakgeist", "1893", "Berlin", 10, 0.96),  # Buchheister, p. 502
    ],
)
def test_a_named_solution_has_its_share_and_its_gravity(
    name: str, years: str, place: str, percent: float, gravity: float
) -> None:
    chosen = told(name, years, place).chosen
    assert chosen.value.number == percent
    assert chosen.gravity == pytest.approx(gravity)


@pytest.mark.parametrize(
    ("name", "years", "place"),
    [("vinegar", "1890", "London"), ("acetic acid No. 8", "1890", "New York"), ("high wines", "1870", "Chicago"),
     ("methylated spirit", "1890", "London"), ("Kornbranntwein", "1860", "Berlin")],
)  # fmt: skip
def test_what_nobody_fixed_is_possible_and_wide(name: str, years: str, place: str) -> None:
    first = told(name, years, place).meanings[0]
    assert first.standing == "possible"
    assert first.value.low < first.value.high


@pytest.mark.parametrize(
    ("years", "name", "answer"),
    [
        ("1885", "Spiritus vini rectificatissimus", "spiritus_german"),  # Meyers: 0,830-0,834
        ("1885", "Spiritus vini rectificatus", "spiritus_dilutus_german"),  # the same: 0,892-0,896
        ("1857", "Spiritus vini rectificatissimus", "weingeist_rectificatissimus_1857"),
    ],
)
def test_latin_names_of_german_spirits(years: str, name: str, answer: str) -> None:
    assert spirit_question(name, Setting(years, "Berlin")).options[0].key == answer


@pytest.mark.parametrize("row", [row for row in rows(Strength) if row.solute != "ethanol"], ids=lambda row: row.id)
def test_every_solution_on_file_has_a_density(row: Strength) -> None:
    value = content_of(row.id)
    assert value is not None
    assert 0.85 < float(content_density(row.id, value.number)) < 1.9


def test_a_strength_does_not_change_what_a_name_is() -> None:
    for name, key in (("vinegar", "vinegar"), ("acetic acid", "acetic_acid"), ("oil of vitriol", "sulfuric_acid")):
        question = identify(name)
        assert question is not None
        assert question.options[0].key == key


def test_diluted_a_strong_acid_stays_one_that_is_never_handled() -> None:
    assert thing("dilute_sulphuric_acid_bp_1867").never_handled == thing("sulfuric_acid").never_handled != ""
    assert harmful("dilute_sulphuric_acid_bp_1867")
    assert harmful("acetic_acid_no_8_us")
    assert not harmful("rectified_spirit")


# ---- gravities, decimal commas and degrees ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "years", "place", "percent"),
    [
        ("Salmiakgeist 0,91", "1890", "Berlin", 25.2),
        ("ammonia spec. Gew. 0,960", "1890", "Berlin", 10.0),
        ("Natronlauge 1,35", "1890", "Berlin", 31.95),  # Hurst: 31.948 at 1.350
        ("caustic soda 70° Twaddell", "1890", "London", 31.95),
        ("Kalilauge spec. Gew. 1,33", "1890", "Berlin", 31.32),  # Hurst: 31.32 at 1.330
        ("sulphuric acid sp. gr. 1.398", "1890", "London", 50),  # Beringer: 50.0 at 1.398
        ("Essigsäure 1,044", "1890", "Berlin", 33.2),
        ("ammoniaque liquide 22°", "1884", "Paris", 20.7),
        ("lessive des savonniers 36° B", "1884", "Paris", 30.3),
    ],
)
def test_gravities_and_degrees_beside_a_name(text: str, years: str, place: str, percent: float) -> None:
    chosen = told(text, years, place).chosen
    assert chosen.value.number == pytest.approx(percent, abs=0.1)


def test_bare_degrees_of_a_liquid_in_england_may_be_two_hydrometers() -> None:
    found = told("caustic soda 60°", "1890", "London")
    assert found.chosen is None
    assert any("Twaddell" in each.label for each in found.meanings)
    assert any("Baumé" in each.label for each in found.meanings)


def test_one_gravity_of_oil_of_vitriol_is_two_strengths() -> None:
    found = told("sulphuric acid sp. gr. 1.840", "1890", "London")
    assert sorted(each.value.number for each in found.meanings) == pytest.approx([96, 99])
    assert found.chosen is None


def test_a_gravity_that_is_said_to_be_about_is_read() -> None:
    assert told("spirit, sp. gr. about 0.838", "1890", "London").meanings[0].value.number == pytest.approx(84, abs=0.1)


@pytest.mark.parametrize("text", ["0,910", "spec. Gew. 0,910", ".910", "sp. gr. about .910"])
def test_a_printed_strength_of_a_solution_takes_decimal_commas(text: str) -> None:
    question = solution_question("ammonia", text)
    value = content_of(question.options[0].key)
    assert value is not None
    assert value.number == pytest.approx(25.2, abs=0.1)


def test_tables_of_acid_and_lyes_are_those_of_their_books() -> None:
    assert solution_gravity("sulfuric_acid", 10) == pytest.approx(1.068)
    assert solution_gravity("sodium_hydroxide", 32.93) == pytest.approx(1.36)
    assert solution_gravity("acetic_acid", 5) == pytest.approx(1.0071)
    with pytest.raises(InputError, match="outside"):
        solution_gravity("potassium_hydroxide", 2)


# ---- errors -------------------------------------------------------------------------------------------------


def test_a_name_without_a_strength_is_said_plainly_with_what_is_near() -> None:
    with pytest.raises(InputError, match=r"no strength of 'aqua vitae' is on file.*Nearest: eau de vie"):
        told("aqua vitae", "1650", "London")
    with pytest.raises(InputError, match="Nearest: rectified spirit"):
        told("rectifide spirit", "1890", "London")
    with pytest.raises(InputError) as fault:
        told("strong waters", "1680", "London")
    assert "not on file is on file" not in str(fault.value)
