"""French, German and Latin names read by their words; poisons among them are heard in each of these languages."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reconlab.materia import harmful, identify
from reconlab.materia.tongues import english, spelled
from reconlab.tables import NameWord, PoisonWord, rows


def meanings(name: str) -> set[str]:
    asked = identify(name)
    return {option.key for option in asked.options} if asked else set()


# Stout, Unser Familien-Arzt (1869), prints each German name with its English one in brackets.
@pytest.mark.parametrize(
    ("german", "printed_english"),
    [
        ("Schwefelsaures Zink", "Sulphate of zinc"),
        ("Benzoe-Säure", "Benzoic acid"),
        ("Zinkoxyd", "Oxide of zinc"),
        ("Bleizucker", "Sugar of lead"),
        ("Hammeltalg", "Mutton suet"),
        ("Peruanischer Balsam", "Balsam of Peru"),
        ("Kanthariden-Tinctur", "Tincture of cantharides"),
    ],
)
def test_a_german_name_is_what_the_book_has_in_english_beside_it(german: str, printed_english: str) -> None:
    assert meanings(german) & meanings(printed_english)


@pytest.mark.parametrize(
    ("name", "meaning"),
    [
        # Flückiger and Hanbury, Pharmacographia (1879): German and French names under each drug
        ("Enzianwurzel", "gentian"),  # p. 434
        ("Sennesblätter", "senna"),  # p. 216
        ("Saarbaumrinde", ""),  # a tree of no list
        # Hahnemann, Apothekerlexikon (1793-99): Glaubersalz, Bittersalz
        ("sal mirabile Glauberi", "sodium_sulfate"),
        ("sal catharticum", "magnesium_sulfate"),
        # Dumas, Leçons sur la philosophie chimique (1878), p. 357
        ("sel de duobus", "potassium_sulfate"),
        # Pierer's Universal-Lexikon (1857-65): Bleizucker, Salmiakgeist
        ("plumbum aceticum", "lead_acetate"),
        ("Salmiakgeist", "ammonia"),
    ],
)
def test_a_name_is_what_a_book_of_the_time_says(name: str, meaning: str) -> None:
    assert meaning in meanings(name) if meaning else not meanings(name)


@pytest.mark.parametrize(
    ("one", "other"),
    [("Rosenöl", "Rosenoel"), ("Tinctur", "Tinktur"), ("Blüthe", "Blüte"), ("Citronen", "Zitronen"), ("Syrup", "Sirup"),
     ("weiß", "weiss"), ("Zimmt", "Zimt"), ("térébenthine", "terebentine"), ("Camphor", "Kamfor")],
)  # fmt: skip
def test_old_and_new_spelling_are_equal(one: str, other: str) -> None:
    assert spelled(one.lower()) == spelled(other.lower())


@pytest.mark.parametrize(
    ("name", "means"),
    [
        ("Lavendel-Oel", "lavender_oil"),
        ("huile essentielle de lavande", "lavender_oil"),
        ("feinst gepulverte Veilchenwurzel", "orris_root"),
        ("gomme arabique en poudre", "acacia_gum"),
        ("Kalium carbonicum", "potassium_carbonate"),
        ("zincum sulfuricum", "zinc_sulfate"),
        ("Quecksilbersalbe", "formula not on file: ointment of mercury"),
        ("teinture de quinquina", "formula not on file: tincture of cinchona"),
        ("Rosenöl, fettes", "formula not on file: huile antique of rose_petals"),
        ("gelöschten Kalk", "slaked_lime"),
        ("phosphorsauren Kalk", "calcium_phosphate_tribasic"),
        ("Rosmarinspiritus", "spirit_of_rosemary_bp_1885"),
        ("fein gestoßenes Nelkenpulver", "cloves"),
        ("gelbes Bienenwachs", "wax_yellow"),
        ("frisches Ochsenmark", "beef_marrow"),
        ("Bals. Peruvian. nigr.", "balsam_peru"),
        ("Rad. Rhei pulv.", "rhubarb"),
        ("Hb. Cardui benedicti", "blessed_thistle"),
        ("Zinc. sulf.", "zinc_sulfate"),
        ("Aqua Melissae", "formula not on file: water of balm"),
        ("theriaca veneta", "formula not on file: compound electuary of opium"),
        ("aqua laurocerasi", "cherry_laurel_water"),
    ],
)
def test_a_name_is_read_by_its_words(name: str, means: str) -> None:
    assert means in meanings(name)


NOBODYS = (
    "Lavendol", "Rosenzauber", "Mandelin", "Zinkolin", "Wasserglanz", "Venuswasser", "eau de lune", "crème des sylphes",
    "huile des Célèbes", "poudre des grâces", "Schönheitswasser", "unguentum gratiarum", "oleum lunae dulcis", "Odolin",
)  # fmt: skip


@pytest.mark.parametrize("name", NOBODYS)
def test_brands_and_words_of_no_list_stay_not_identified(name: str) -> None:
    assert identify(name) is None


FRAMES = ("huile de {}", "teinture de {}", "eau de {}", "{}wasser", "{}-Oel", "{}salbe", "Tinct. {}", "{} en poudre")


@pytest.mark.parametrize("frame", FRAMES)
def test_a_poison_of_any_language_is_never_harmless_things_alone(frame: str) -> None:
    faults = []
    for row in rows(PoisonWord):
        keys = meanings(frame.format(row.word))
        if keys and not any(map(harmful, keys)):
            faults.append((frame.format(row.word), keys))
    assert faults == []


WORDS = [row.word for row in rows(NameWord) if row.language in ("fr", "de", "la") and row.stands_for]
POISONS = {frozenset(row.word.split()) for row in rows(PoisonWord) if row.language == "en"}


@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=3))
def test_no_words_together_make_a_poison_harmless(words: list[str]) -> None:
    keys = meanings(" ".join(words))
    told = set(english(" ".join(words).split()))
    if keys and any(poison <= told for poison in POISONS):
        assert any(map(harmful, keys))
