"""Names a letter, a word, a date or a scan away from a poison, and words that are nobody's name: nothing is guessed.

``data/trap_names.csv`` says for each what must come out: ``poison`` never harmless things alone, and none of them
chosen; ``heard`` the poison stands among the answers though its name is misspelt; ``harmless`` nothing harmful among
them. That its word names a poison, the sources of its row in poison_words.csv or names.csv say.
"""

import csv
from pathlib import Path
from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reconlab.materia import UNKNOWN, alarms, folded, found_by, harmful, identify, not_identified, thing
from reconlab.materia.likeness import by_likeness
from reconlab.materia.words import LONGEST, declined, scanned
from reconlab.reasons import Question
from reconlab.receipts import Setting
from reconlab.tables import Name, PoisonWord, Substance, rows

with (Path(__file__).parent / "data" / "trap_names.csv").open(encoding="utf-8", newline="") as _lines:
    TRAPS = tuple(MappingProxyType(row) for row in csv.DictReader(_lines))


def asked(trap: MappingProxyType[str, str]) -> Question | None:
    name, _, year = trap["printed"].partition(" @")
    return identify(name, Setting(year))


def traps(outcome: str) -> pytest.MarkDecorator:
    chosen = [trap for trap in TRAPS if trap["outcome"] == outcome]
    return pytest.mark.parametrize("trap", chosen, ids=[trap["printed"] for trap in chosen])


def only_harmless(question: Question | None) -> bool:
    keys = [option.key for option in question.options] if question else []
    return bool(keys) and not any(map(harmful, keys))


@traps("poison")
def test_a_poison_never_comes_out_as_something_harmless(trap: MappingProxyType[str, str]) -> None:
    question = asked(trap)
    assert not only_harmless(question)
    if (
        question and question.chosen and not trap["printed"].startswith("pearl")
    ):  # where bismuth is likely, lead stands too
        assert harmful(question.chosen.key)
    if question is None:  # then the name itself must be heard, or is nothing the tables know
        assert thing(not_identified(trap["printed"]).options[0].key).on_file is False


@traps("heard")
def test_a_misspelt_poison_is_heard_among_the_answers(trap: MappingProxyType[str, str]) -> None:
    question = asked(trap)
    assert question
    assert any(harmful(option.key) for option in question.options)
    assert question.chosen is None or harmful(question.chosen.key)


@traps("harmless")
def test_a_harmless_thing_beside_a_poison_stays_harmless(trap: MappingProxyType[str, str]) -> None:
    question = asked(trap)
    assert not question or not any(harmful(option.key) for option in question.options)


def test_the_traps_are_many_and_of_every_kind_and_say_who_says_so() -> None:
    assert len({trap["printed"] for trap in TRAPS}) >= 80
    assert {trap["kind"] for trap in TRAPS} == {"letter", "word", "date", "scan"}
    cited = {str(word.word): word.sources for word in rows(PoisonWord)} | {row.name: row.sources for row in rows(Name)}
    assert all(trap["poison"] in cited and trap["sources"] for trap in TRAPS)


FRAMES = (
    "{}",
    "best {}",
    "powdered {}",
    "{}, finely powdered",
    "oil of {}",
    "tincture of {} root",
    "french {}",
    "pulv. {}.",
)


@pytest.mark.parametrize("frame", FRAMES)
def test_no_name_that_holds_the_word_of_a_poison_is_found_as_harmless_things_only(frame: str) -> None:
    faults = []
    for row in rows(PoisonWord):
        name = frame.format(row.word)
        if found_by(name) != "exact" and only_harmless(identify(name)):
            faults.append(name)
    assert faults == []


# No spelling on file is meant: made-up words in the manner of brands, and words of no trade.
NOBODYS = (
    "Carmina", "Carminol", "Talcolette", "Zincora", "Boraxine", "Benzoinette", "Glycelia", "Lanolux", "Rosalva",
    "Starchette", "Orrisol", "Bergamella", "Tragacine", "Lemonal", "Waxolene", "Cetacine", "Lavendria", "Almondine",
    "Bismutella", "Chalkoline", "Velvetina", "moonshine dust", "flowers of Jupiter", "qwertyuiop", "xq zv", "sea foam",
    "Pomadine", "Cuticura", "Odontine", "Kalydor", "Javola", "Oxzyn", "Ricona", "Valderma", "Melorose", "Perlodor",
    "Zincolette", "Floriline", "Euxesis", "Sozodont", "Nuralgine", "Mazzerine", "Camphorina", "Glycolin", "Saponetta",
    "Mentholette", "Vinolia", "Pearline", "Lavona", "Talcumine", "Dermozoin", "Icilma", "Ambrosine", "Oatine",
    "Sulpholine", "Amandine", "Cologna", "Almalene", "Wachsoline", "Poudrelia", "Savonnex", "Bergamine", "Tragantol",
    "stardust", "blorptane", "sal mirandum", "aqua fabulosa", "oil of unicorn", "dragon tears", "fairy wax",
    "powder of sympathy",
)  # fmt: skip


@pytest.mark.parametrize("name", NOBODYS)
def test_nonsense_and_brands_stay_not_identified(name: str) -> None:
    assert identify(name) is None
    assert found_by(name) == ""


# Likeness


@pytest.mark.parametrize(
    ("printed", "means"),
    [
        ("oil of burgamot", "bergamot_oil"),  # printed so in the corpus' Art of Perfumery
        ("tragaeanth", "tragacanth"),
        ("fpermaceti", "spermaceti"),
        ("precipitated chaik", "calcium_carbonate"),
        ("oxide of ziuc", "zinc_oxide"),
    ],
)
def test_a_misprint_is_possible_at_most_and_may_be_none_of_it(printed: str, means: str) -> None:
    question = identify(printed)
    standings = {option.key: option.standing for option in question.options}
    assert found_by(printed) == "likeness"
    assert standings[means] == "possible"
    assert standings[f"{UNKNOWN}{folded(printed)}"] == "possible"
    assert question.chosen is None
    assert question.decides
    assert "spelt much like" in question.options[0].reason.says


WORDS = st.sampled_from(sorted({row.name for row in rows(Name)} | {row.name for row in rows(Substance)}))


@given(WORDS, st.data())
def test_no_single_misprint_makes_a_poison_into_harmless_things_for_sure(name: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(name) - 1))
    letter = data.draw(st.sampled_from("aceilmnorstu "))
    printed = data.draw(st.sampled_from([name[:at] + letter + name[at + 1 :], name[:at] + name[at + 1 :]]))
    question, meant = identify(printed), identify(name)
    if question is None or found_by(printed) != "likeness":
        return
    assert all(option.standing != "likely" for option in question.options)
    assert f"{UNKNOWN}{folded(printed)}" in {option.key for option in question.options}
    if meant and any(harmful(option.key) for option in meant.options):
        assert any(harmful(option.key) for option in question.options)


@pytest.mark.parametrize("salts", [("sulphate", "sulphite", "sulphide"), ("chloride", "chlorate", "chlorite")])
def test_the_ending_of_a_salt_is_never_a_misprint(salts: tuple[str, ...]) -> None:
    for one in salts:
        found = by_likeness(f"{one} of soda")
        others = [other for other in salts if other != one]
        assert found is None or not any(other in row.name for row in found.rows for other in others)


# By rule


@pytest.mark.parametrize(
    ("printed", "way", "means"),
    [
        ("zinci oxido", "inflection", "zinc_oxide"),
        ("Oxyd. zinci", "inflection", "zinc_oxide"),
        ("olei bergamottae", "inflection", "bergamot_oil"),
        ("Soda bibor.", "abbreviation", "borax"),
        ("best powdered Florentine orris root", "head noun", "orris_root"),
        ("very best picked gum tragacanth", "head noun", "tragacanth"),
        ("pulv. boracis", "form", "borax"),
        ("best essential oil of lavender", "head noun", "lavender_oil"),
        ("rose water, triple", "word order", "rose_water"),
        ("corn-starch, best", "head noun", "maize_starch"),
    ],
)
def test_a_name_is_found_by_rule_and_says_so(printed: str, way: str, means: str) -> None:
    assert found_by(printed) == way
    assert identify(printed).options[0].key == means


@pytest.mark.parametrize(
    ("printed", "not_this"),
    [
        ("burnt borax", "borax"),  # burnt is no word of quality
        ("dried borax", "borax"),  # without its water it is another salt
        ("essential oil of sweet almonds", "almond_oil"),  # the sweet have none
        ("Venetian chalk", "calcium_carbonate"),  # French chalk is no chalk
        ("lavender", "lavender_oil"),
        ("lemon peel", "lemon"),
        ("oil of lemon leaves", "lemon"),
        ("rose leaves", "rose_water"),
        ("powder of glycerin", "glycerin"),
    ],
)
def test_words_that_make_another_thing_are_never_left_off(printed: str, not_this: str) -> None:
    question = identify(printed)
    assert question is None or not_this not in {option.key for option in question.options}


def test_a_place_left_off_leaves_a_doubt() -> None:
    question = identify("Jamaica spermaceti")
    assert found_by("Jamaica spermaceti") == "head noun"
    assert question.chosen is None
    assert any(option.key.startswith(UNKNOWN) for option in question.options)


@pytest.mark.parametrize(("one", "other"), [("sulphas", "sulphis"), ("nitratis", "nitritis"), ("oxidum", "oxalas")])
def test_salts_are_kept_apart_in_latin(one: str, other: str) -> None:
    assert declined(one) != declined(other)


@pytest.mark.parametrize(
    ("printed", "read"),
    [("rnusk", "musk"), ("oi1", "oil"), ("olI", "oil"), ("rofe", "rose"), ("eamphor", "camphor"), ("ziuc", "zinc"),
     ("aloe", "aloc"), ("mnsk", "musk"), ("aqiia", "aqua"), ("0il", "oil"), ("vvater", "water")],
)  # fmt: skip
def test_letters_a_scan_confuses_are_equal(printed: str, read: str) -> None:
    assert scanned(folded(printed)) == scanned(read)


# Bad input


@pytest.mark.parametrize(
    "name",
    ["", " ", ".", "of", "of the", "тальк", "タルク", "滑石", "مسك", "\0", "a" * 100_000, "rose water " * 10_000,
     "2 oz. of rose water", "Take of white wax 2 oz., spermaceti 1 oz.; melt them and add the oil", "1/2", "zinc тальк",
     "\N{COMBINING ACUTE ACCENT}" * 50, "rose\nwater\nof\nthe\nmoon"],
    ids=lambda name: repr(name[:20]),
)  # fmt: skip
def test_what_is_no_name_is_not_identified_and_says_what_to_do(name: str) -> None:
    assert identify(name) is None
    assert found_by(name) == ""
    told = not_identified(name).options[0]
    assert told.key.startswith(UNKNOWN)
    assert "say what it is" in told.reason.says
    assert ("too long" in told.reason.says) == (len(name) > LONGEST or len(name.split()) > 12)


def test_a_name_of_another_time_says_when_it_is_attested_and_is_not_likely() -> None:
    dated = [row for row in rows(Name) if row.from_year and row.from_year > 1700]
    assert dated
    for row in dated:
        question = identify(row.name, Setting("1500"))
        here = next(option for option in question.options if option.key == row.meaning)
        undated = [each for each in rows(Name) if each.name == row.name and not each.from_year]
        if not undated and not alarms(row.name):
            assert here.standing != "likely"
            assert "not here" in here.reason.says
