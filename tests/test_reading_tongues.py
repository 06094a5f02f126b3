"""French, German and Latin receipts of published books, as their pages print them; spelling is the page's own."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reconlab.reading import read, read_all
from reconlab.receipts import Item


def shown(item: Item) -> str:
    """Return an item as "name = 2 ounce"; "enough" or "none" where it has no amount."""
    parts = item.quantities[0].parts if item.quantities else ()
    figures = [f"{'?' if part.amount.value is None else f'{part.amount.value:g}'} {part.unit}" for part in parts]
    return f"{item.name} = {' + '.join(figures) or ('enough' if item.purpose == 'enough' else 'none')}"


# Short lines of published books; " / " ends a printed line.
PUBLISHED = [
    (
        "Buchheister, Handbuch der Drogisten-Praxis, 1893, Ceratum labiale salicylatum",
        "Mandelöl 60,0 / Wachs, gelbes 38,0 / Salicylsäure 1,0 / Wintergreenöl 2 Trpf.",
        ["Mandelöl = 60 gram", "Wachs, gelbes = 38 gram", "Salicylsäure = 1 gram", "Wintergreenöl = 2 drop"],
    ),
    (
        "Buchheister, Handbuch der Drogisten-Praxis, 1893, Charta piceata",
        "Schwarzes Pech und Terpentin von jedem 6 Theile. / Wachs, gelbes 4 Th. / Kolophonium 10 Th.",
        ["Schwarzes Pech = 6 part", "Terpentin = 6 part", "Wachs, gelbes = 4 part", "Kolophonium = 10 part"],
    ),
    (
        "Buchheister, Handbuch der Drogisten-Praxis, 1893, Kohlensäure-Eisen-Bad",
        "Eisenvitriol 50,0 gelöst in 260,0 Salzsäure und 90,0 Wasser.",
        ["Eisenvitriol = 50 gram", "Salzsäure = 260 gram", "Wasser = 90 gram"],
    ),
    (
        "Wegener, Neue Recept-Sammlung zu Tinten, 1820, p. 8, no. 3",
        (
            "Man nehme 1½ Maaß Essig, ½ Maaß Regenwasser, ½ Pfund Galläpfel, 2 Loth Alaun und eine "
            "halbe Hand voll Salz."
        ),
        [
            "Essig = 1.5 maass",
            "Regenwasser = 0.5 maass",
            "Galläpfel = 0.5 pfund",
            "Alaun = 2 loth",
            "Salz = 0.5 handful",
        ],
    ),
    (
        "Wegener, Neue Recept-Sammlung zu Tinten, 1820, p. 8, no. 5",
        (
            "nun giebt man 3 Quentchen Eisen-Vitriol dazu, dann nehme man es vom Feuer und gebe 1 Loth arabischen "
            "Gummi und 1½ Quentchen Alaun"
        ),
        ["Eisen-Vitriol = 3 quentchen", "arabischen Gummi = 1 loth", "Alaun = 1.5 quentchen"],
    ),
    (
        "Church book of Daun, 1798, ink (printed in Heimatjahrbuch Vulkaneifel 2006)",
        "Nimm 8 Loth gute / Gallnüsse / 6 Loth grünen Englischen Vitriol / 4 Loth weiße arabische Gummi",
        ["Gallnüsse = 8 loth", "grünen Englischen Vitriol = 6 loth", "weiße arabische Gummi = 4 loth"],
    ),
    (
        "Reuther, Schreib Buch, 1774 (printed in Saarbrücker Zeitung)",
        "Nehme 6. Loth Galäpfel, 4. Loth Englisch Vitriol, ein Pötgen Saltz, ein viertel schopen Essig",
        ["Galäpfel = 6 loth", "Englisch Vitriol = 4 loth", "Essig = 0.25 schoppen"],
    ),
    (
        "Zedler, Universal-Lexicon, 1741, Räucherkertzen",
        (
            "Nehmet Benzoin ein Loth, Storax, Ladani, jedes zwey Quentgen, Amber ein Qventgen, Paradiesholtz und "
            "Judenleim, von jedem zwey Scrupel, Tragantschleim mit Rosenwasser so viel gnung ist."
        ),
        [
            "Benzoin = 1 loth",
            "Storax = 2 quentchen",
            "Ladani = 2 quentchen",
            "Amber = 1 quentchen",
            "Paradiesholtz = 2 skrupel",
            "Judenleim = 2 skrupel",
            "Tragantschleim mit Rosenwasser = enough",
        ],
    ),
    (
        "Church book of Gröben, p. 896, cloth made waterproof",
        "Nim 2 lb Leinöl, ebensoviel Firniß, 2 Loth Terpentin einen / Eßlöffel voll Honig",
        ["Leinöl = 2 pound", "Firniß = 2 pound", "Terpentin = 2 loth", "Honig = 1 tablespoonful"],
    ),
    (
        "Zahnpulver no. 118 (textlog.de, Medizin)",
        "Chinarinde, ein Lot, Veilchenwurzel, ein halbes Lot, Salmiak, anderthalb Quäntchen",
        ["Chinarinde = 1 loth", "Veilchenwurzel = 0.5 loth", "Salmiak = 1.5 quentchen"],
    ),
    (
        "Pierer's Universal-Lexikon, 1865, Zahnpulver",
        "besteht aus 8 Theilen brauner Chinarinde, 4 Theilen rothen Sandelholzes, 1 Theil Alaun",
        ["brauner Chinarinde = 8 part", "rothen Sandelholzes = 4 part", "Alaun = 1 part"],
    ),
    (
        "Polytechnisches Journal 131, 1854, p. 238",
        "nimmt man 6 Liter Weingeist von 36° Baumé, 250 Gramme (1/4 Kil.) Elemiharz",
        ["Weingeist = 6 liter", "Elemiharz = 250 gram"],
    ),
    (
        "Trommsdorff, quoted in a work on hair (Teylers 1c 104-2, p. 151)",
        "man schütte ferner hinein : 1 Loth Muskatenblüthen, 1 Loth Nelken, 2 Loth frische Lorbeerblätter",
        ["Muskatenblüthen = 1 loth", "Nelken = 1 loth", "Lorbeerblätter = 2 loth"],
    ),
    (
        "Meurdrac, La Chymie charitable, 1666, Pommade pour le visage",
        "Prenez beurre frais de mai, Térébenthine de Venise bien lavée, de chacune une livre, le suc de six citrons",
        ["beurre de mai = 1 livre", "Térébenthine de Venise = 1 livre", "suc de citrons = 6 piece"],
    ),
    (
        "Meurdrac, La Chymie charitable, 1666, the water of that pommade",
        "mettez le tout sur le feu dans un pot neuf vernissé, avec quatre onces d'Eau-rose",
        ["Eau-rose = 4 once"],
    ),
    (
        "Bacon, Oeuvres, vol. 7, onguent romain",
        "Huile d'amandes douces, deux onces. / Clous de girofles, un scrupule ; / Civette, quatre grains ;",
        ["Huile d'amandes douces = 2 once", "Clous de girofles = 1 scrupule", "Civette = 4 grain"],
    ),
    (
        "Encyclopédie méthodique, Parfumeur, eau de mélisse",
        "Zestes de citrons récens ........... 4 onces. / Coriandre ......... 8 gros.",
        ["Zestes de citrons récens = 4 once", "Coriandre = 8 gros"],
    ),
    (
        "Ink of the notary Villaret, Alès, 1763",
        "16 onces de galles fines. / 3 onces couperose. / 2 onces d'alun de roche.",
        ["galles fines = 16 once", "couperose = 3 once", "alun de roche = 2 once"],
    ),
    (
        "Philippin papers, ink, 18th century",
        "il faut deux onces et demie noix de galle, concassées ; deux onces gomme arabique",
        ["noix de galle = 2.5 once", "gomme arabique = 2 once"],
    ),
    (
        "Pradal and Malepeyre, Nouveau manuel complet du parfumeur, 1895, eau de Durochereau",
        "Essence du Portugal .......... 42 grammes / Eau de fleur d'oranger .......... 58 grammes",
        ["Essence du Portugal = 42 gram", "Eau de fleur d'oranger = 58 gram"],
    ),
    (
        "Dr Pierre, poudre dentifrice au corail (Actes SFHAD 2011)",
        "Corail rouge porphyrisé 10 g / Essence de menthe Mitchum 0 g 50 / Essence de girofle Bourbon 0 g 05",
        [
            "Corail rouge porphyrisé = 10 gram",
            "Essence de menthe Mitchum = 0.5 gram",
            "Essence de girofle Bourbon = 0.05 gram",
        ],
    ),
    (
        "Vernis de peintre (a French book of secrets, Google Books 0eEUAAAAQAAJ, p. 373)",
        "Prenez une livre d'huile de lin et une once de litarge d'or, que vous mettrez ensemble bouillir",
        ["huile de lin = 1 livre", "litarge d'or = 1 once"],
    ),
    (
        "Tissot, Avis au peuple, 1762, no. 46",
        "Prenez racines de chiendent, de chardon-roland, de chaque une demi-once",
        ["racines de chiendent = 0.5 once", "racines de chardon-roland = 0.5 once"],
    ),
    (
        "Paine, pharmacopoeia in Latin, 1782, Linimentum volatile",
        "Rx Camphoræ ℥ij solve in Ol Olivarum ℥j, deinde adde Tinct Cantharidum ʒiij",
        ["Camphoræ = 2 ounce", "Ol Olivarum = 1 ounce", "Tinct Cantharidum = 3 drachm"],
    ),
    (
        "Manual of the German pharmacists of New York, 1858, Acidum muriaticum dilutum",
        "Acidi hydrochlorici concentrati puri Partem unam Aquae destillatae Partes tres. Misce.",
        ["Acidi hydrochlorici concentrati puri = 1 part", "Aquae destillatae = 3 part"],
    ),
    (
        "Chambers's Twentieth Century Dictionary, a prescription",
        "Potassii Acetatis drachmas quinque. / Syrupi Aurantii unciam unam. / Decoctum Scoparii ad uncias octo.",
        ["Potassii Acetatis = 5 drachm", "Syrupi Aurantii = 1 ounce", "Decoctum Scoparii = 8 ounce"],
    ),
    (
        "Withering, An Account of the Foxglove, 1785",
        "Infus. baccar. juniper, ℥vi. tinct. amar. tinct. stomachic. aa ℥i.",
        ["Infus. baccar. juniper = 6 ounce", "tinct. amar = 1 ounce", "tinct. stomachic = 1 ounce"],
    ),
    (
        "Monro, Diseases of the Military Hospitals, 1764",
        "Theriacæ andromachi, drachm. dimid. opii, gr. i.",
        ["Theriacæ andromachi = 0.5 drachm", "opii = 1 grain"],
    ),
    (
        "Blane, Diseases of Seamen, 1789",
        "Confectionis aromaticæ scrupulum unum, opii purificati grani quartam partem, castorei Russici grana decem",
        ["Confectionis aromaticæ = 1 scruple", "opii purificati = 0.25 grain", "castorei Russici = 10 grain"],
    ),
]  # fmt: skip


@pytest.mark.parametrize(("source", "text", "wanted"), PUBLISHED, ids=[source[:60] for source, _, _ in PUBLISHED])
def test_published_lines_are_read_as_a_careful_reader_reads_them(source: str, text: str, wanted: list[str]) -> None:
    receipt = read(text.replace(" / ", "\n"), title="Receipt")
    assert [shown(item) for item in receipt.items] == wanted, source


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("flüssigen Amber ein Pötgen, Storax zwey Loth", "flüssigen Amber"),  # a measure not on file
        ("Balsam 1/2 Kelch, Storax, von jedem 2 Loth", "Balsam"),
    ],
)
def test_a_number_inside_a_name_is_never_certain(line: str, name: str) -> None:
    assert not any(item.certain for item in read(line, title="Receipt").items if name in item.name)


def test_a_decimal_without_a_unit_is_grams_or_parts_and_the_person_is_asked() -> None:
    item = read("Mandelöl 60,0\nWachs 38,0", title="Receipt").items[0]
    assert not item.certain
    assert [reading.item.quantities[0].parts[0].unit for reading in item.readings] == ["part"]


@pytest.mark.parametrize(
    ("years", "place", "unit", "others"),
    [
        ("1760", "France", "grain", []),
        ("1820", "France", "grain", ["gram"]),  # lawful from 1799, not the shops' own
        ("1880", "France", "gram", ["grain"]),  # customs.csv: loi_1837
        ("1890", "Berlin", "gram", ["grain"]),  # customs.csv: german_metric_law
        ("1890", "London", "grain", []),
    ],
)
def test_gr_is_a_gram_where_metric_weights_held(years: str, place: str, unit: str, others: list[str]) -> None:
    item = read("Musc, 10 gr.", title="Receipt", years=years, place=place).items[0]
    assert item.quantities[0].parts[0].unit == unit
    assert [reading.item.quantities[0].parts[0].unit for reading in item.readings] == others
    assert not (others and item.certain)
    page = read_all("POUDRE\n\nMusc, 10 gr.\nIris, 20 gr.\n", years=years, place=place)
    assert [part.unit for part in page.receipts[0].items[0].quantities[0].parts] == [unit]


def test_a_vessel_of_a_direction_is_no_amount() -> None:
    receipt = read("mettez-les au fond d'un pot, avec demi-once d'huile de térébenthine", title="Receipt")
    assert [shown(item) for item in receipt.items] == ["huile de térébenthine = 0.5 once"]


def test_a_german_verb_before_a_number_is_no_handful() -> None:
    assert [shown(item) for item in read("hernach rührt man 6 Loth feines Mehl", title="R").items] == ["Mehl = 6 loth"]


_UNITS = {
    "Loth": "loth", "Unzen": "unze", "Quentchen": "quentchen", "Theile": "part", "Gramm": "gram",
    "onces": "once", "gros": "gros", "livres": "livre", "grammes": "gram",
}  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.integers(2, 99),
            st.sampled_from(sorted(_UNITS)),
            st.sampled_from(["Alaun", "Kampfer", "Borax", "Myrrhe", "savon", "miel", "cire"]),
        ),
        min_size=1,
        max_size=5,
    )
)
def test_every_amount_keeps_its_own_name_first_or_last(lines: list[tuple[int, str, str]]) -> None:
    for layout in ("{0} {1} {2}", "{2}, {0} {1}"):
        text = "\n".join(layout.format(*line) for line in lines)
        got = [shown(item) for item in read(text, title="Receipt").items]
        assert got == [f"{name} = {figure} {_UNITS[unit]}" for figure, unit, name in lines]


# Invented, in the manner of French perfumers' books: a guillemet for the unit above, a dash for the words above.
PERFUMER = """Eau.
Alcool à 36 degrés ........ 4 kil.
Essence de lavande ....... 125 gr.
— de bergamote ........... 30 »
Teinture d'ambre ......... 5 centilitres
— de musc ................ 15 »"""


def test_marks_for_the_words_above_are_filled_in_as_french_is_written() -> None:
    receipt = read(PERFUMER, years="1860", place="Paris")
    assert [shown(item) for item in receipt.items] == [
        "Alcool = 4 kilogram",
        "Essence de lavande = 125 gram",
        "Essence de bergamote = 30 gram",
        "Teinture d'ambre = 5 centilitre",
        "Teinture de musc = 15 centilitre",
    ]
    assert receipt.items[0].strength == "à 36 degrés"


def test_beside_kilograms_a_french_gr_of_1860_is_no_grain() -> None:
    first, *_ = (read(PERFUMER, years=year, place="Paris").items[1] for year in ("1860", "1835"))
    assert first.certain
    assert not first.readings


def test_a_prescription_where_metric_weights_held_means_grams() -> None:
    receipt = read("Rp. Cerae albae 30,0\nOl. Rosae gtt. V\nM. f. ung.", years="1895", place="Berlin")
    assert [(shown(item), item.certain) for item in receipt.items] == [
        ("Cerae albae = 30 gram", True),
        ("Ol. Rosae = 5 drop", True),
    ]
