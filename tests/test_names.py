"""What names of the time meant: checked against what books of the time say, each named beside its check."""

import pytest

from reconlab.materia import identify, thing
from reconlab.materia.old_spelling import modern_spellings
from reconlab.materia.words import folded
from reconlab.receipts import Setting
from reconlab.tables import Name, PoisonWord, Preparation, Substance, by_id, rows

# Families all of which are never handled, whatever the compound; of bleaches and acids some are.
FAMILIES = {
    "lead",
    "mercury",
    "arsenic",
    "cyanide",
    "antimony",
    "thallium",
    "cadmium",
    "phosphorus",
    "nitrobenzene",
    "aconite",
    "belladonna alkaloids",
    "hemlock",
    "opium",
    "strychnine",
    "cantharides",
    "oxalic acid",
    "methyl alcohol",
}
OWN_WORD = {"from_memory", "common_practice"}
SHARE_FROM_MEMORY = 0.20
# Denatured spirit is named after what it holds, and is looked at as itself; soufre sublimé is no sublimate.
NAMED_AFTER = {"ethanol_denatured", "sulfur_sublimed"}


def meanings(name: str, setting: Setting | None = None) -> dict[str, str]:
    """Return what a name may mean, with its standing."""
    asked = identify(name, setting)
    return {option.key: option.standing for option in asked.options} if asked else {}


@pytest.mark.parametrize(
    ("name", "meaning"),
    [
        # from Pharmacographia, 1879:
        ("attar of rose", "oil_rose"),  # p. 262
        ("Mutterkorn", "ergot"),  # p. 740
        ("semences de coings", "quince_seed"),  # p. 269, semence de coing
        ("petala rosae centifoliae", "rose_petals"),  # p. 261
        # from the Epitome of the U.S.P. and N.F., 1924:
        ("ol. junip.", "oil_juniper"),  # p. 141
        ("acidum tartaricum", "tartaric_acid"),  # p. 14
        ("Rochelle salt", "rochelle_salt"),  # p. 171
        ("saltpetre", "nitre"),  # p. 173
        # Askinson, Perfumes and Their Preparation (1892): Oil of mirbane; Musk-seed; Caraway seed
        ("essence of mirbane", "nitrobenzene"),
        ("grains of ambrette", "musk_seed"),
        ("carvi", "caraway_seed"),
        # Lavoisier, Elements of Chemistry (1790), table of sulphuric acid
        ("sal de duobus", "potassium_sulfate"),
        # Field's Chromatography (1869): White chalk; Red lead
        ("whitening", "calcium_carbonate"),
        ("saturnine red", "lead_oxide_minium"),
        # found false on a second reading, and what the source says
        ("Strassburger Terpenthin", "turpentine_strasbourg"),  # Pharmacographia, p. 615
        ("Dutch pink", "yellow_lake"),  # Webster 1913: chalk or whiting dyed yellow
        ("arsenite of soda", "sodium_arsenite"),  # Henley 1914, p. 422; the arsenate is another salt
        ("magnesiae vitriolatae", "magnesium_sulfate"),  # Blane 1789
    ],
)
def test_a_name_is_what_a_book_of_the_time_says(name: str, meaning: str) -> None:
    assert meaning in meanings(name)


@pytest.mark.parametrize(
    ("name", "may_be"),
    [
        ("spanish white", {"bismuth_subnitrate", "calcium_carbonate"}),  # Giunta, Archaic Chemical Terms
        ("french white", {"talc", "white_lead"}),  # Piesse 1857, section XIV; Field 1869, Blanc d'argent
        ("white precipitate", {"mercury_ammoniated", "lead_sulfate"}),  # Cooley 1880, White pigments
        ("oil of wintergreen", {"oil_wintergreen", "methyl_salicylate"}),  # Simmons 1908; Epitome 1924, p. 133
        ("salts of lemon", {"potassium_binoxalate", "citric_acid"}),  # Webster 1913, lemon
        ("soap", {"soap_castile", "soap_curd"}),  # Epitome 1924, p. 190; Simmons 1908, chapter V
        ("sandarach", {"sandarac", "realgar"}),  # Willich, Domestic Encyclopaedia, Sandarach
    ],
)
def test_a_doubtful_name_stays_open_and_says_what_decides(name: str, may_be: set[str]) -> None:
    assert may_be <= set(meanings(name))
    assert all(row.decides for row in rows(Name) if row.name == name)


def test_dutch_pink_may_hold_lead() -> None:
    # Henley 1914, p. 278: both its receipts hold sugar of lead
    assert "lead_sulfate" in {option.key for option in identify("Dutch pink").options}


def test_oil_of_cinnamon_was_cassia_in_america() -> None:
    # Epitome of the U.S.P. and N.F. (1924), p. 140; Simmons and Appleton (1908), chapter VIII
    assert meanings("oil of cinnamon", Setting("1920", "United States"))["oil_cassia"] == "likely"
    assert meanings("oil of cinnamon", Setting("1908", "England"))["oil_cinnamon_bark"] == "likely"


def test_names_from_memory_are_few() -> None:
    names = rows(Name)
    from_memory = [row for row in names if {source.key for source in row.sources} <= OWN_WORD]
    assert len(from_memory) < SHARE_FROM_MEMORY * len(names)


def stems(name: str) -> tuple[str, ...]:
    """Return the words of a name without the s of a plural."""
    return tuple(word.removesuffix("s") for word in folded(name).split())


def _holds(name: str, words: tuple[str, ...]) -> bool:
    said = stems(name)
    return any(said[at : at + len(words)] == words for at in range(len(said)))


def test_a_name_with_a_word_for_a_poison_never_means_only_harmless_things() -> None:
    words = [stems(word.word) for word in rows(PoisonWord) if word.family in FAMILIES]
    things = by_id(Substance)
    named = {row.name for row in rows(Name) if row.meaning not in by_id(Preparation) and row.kind == "substance"}
    for name in named:
        if any(_holds(name, word) for word in words):
            may_be = set(meanings(name)) - NAMED_AFTER
            assert not may_be or any(key in things and things[key].never_handled for key in may_be), name


# Spellings of The Queen-like Closet, 1670, and of receipt books of the hundred years before it.
OLD_SPELLINGS = {
    "bay leaues": "bay_leaf", "waxe": "beeswax_white", "white suger candie": "sugar_candy", "cloues": "cloves",
    "flowres of brimstone": "sulfur_sublimed", "hog's greas": "lard", "juyce of lemmons": "lemon_juice",
}  # fmt: skip


@pytest.mark.parametrize(("name", "meaning"), OLD_SPELLINGS.items())
def test_english_as_it_was_spelled_is_found(name: str, meaning: str) -> None:
    question = identify(name, Setting("1670", "London"))
    assert question is not None
    assert question.options[0].key == meaning


@pytest.mark.parametrize("name", ["arsenicke", "quick siluer", "sublimat", "henbane seede", "cerusse"])
def test_an_old_spelling_makes_no_poison_harmless(name: str) -> None:
    question = identify(name, Setting("1650", "London"))
    assert question is not None
    assert thing(question.options[0].key).never_handled


def test_flour_is_never_read_for_an_old_flower() -> None:
    assert modern_spellings("wheat flowre") != ("wheat flour",)
