"""What may a printed quantity say? The plain reading first, then what else the same print may be, and of what.

The page of a book is read with its line around it (`reading`); here a person types a quantity as she sees it. So a
sign that a scan spoilt is mended as there, a thing that receipts count brings its own name, and a letter that meant
two units is read by place and year.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from reconlab.errors import InputError
from reconlab.materia import identify
from reconlab.measures.customs import custom_question
from reconlab.measures.sizes import metric, parse_quantity
from reconlab.measures.strong_names import spirit_of, without_strength
from reconlab.reading.counted import counted_at, head_before, is_sized
from reconlab.reading.damage import damaged_at, other_readings, torn_at
from reconlab.reading.quantities import count_at, quantity_at
from reconlab.reading.roman import roman
from reconlab.reading.tokens import Token, mark_at, tokens
from reconlab.reasons import Standing
from reconlab.receipts import Amount, Measured, Quantity, Setting
from reconlab.tables import Notation, rows

MINIM_FROM = 1809  # the London Pharmacopoeia of that year brought the minim in
_LETTER = re.compile(r"(?P<letter>[MPm])(?P<point>\.?)\s*(?P<numeral>[ivxj]+(?:ss|\u00df|\u03b2)?|\d{1,2})\.?")
# What `other_readings` may doubt: a fraction run into its number, a letter for a figure, a hyphen for a stroke.
DOUBTFUL = re.compile(r"\d+[1357]/|\d+[a-zA-Z^$\N{POUND SIGN}]|[JjIil]\b|.*\d-\d|[MmP]\b")
_RUN_TOGETHER = re.compile(
    r"(?P<unit>lbs?|ozs?|drs?|grs?|gtts?|min|scr|cong)\.?(?P<numeral>[ivxj]+(?:ss)?)\.?", re.IGNORECASE
)
_MENDED = re.compile(r"f?\d ?[ivxjs\N{LATIN SMALL LETTER SHARP S}]", re.IGNORECASE)
_WHOLE = re.compile(
    r"\d+(?![\d/\N{FRACTION SLASH}$^\N{POUND SIGN}-]|[a-zA-Z]\b)"
)  # 112 grains: a line of its own has no doubt
_DECIMAL = re.compile(r"\d{1,4}[.,]\d{1,3}")
_HYPHENED = re.compile(r"(?P<above>\d)-(?P<below>\d{1,3}) (?:grain|drachm|dram|ounce|scruple|minim|pound|pint)")
_ONE_TO = re.compile(r"(?:\D+ ?)?1-(?P<below>[3-9]|\d{2,3})\b(?: ?\D+)?")
_THREE_BEHIND = re.compile(r"(?P<whole>[1-9]\d{0,2})[.,](?P<three>\d{3})(?!\d)")
_GRAMMES = re.compile(r"\bgrs?\b", re.IGNORECASE)
_OF = ("of", "de", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}", "von", "di", "af", "van")
_ARTICLES = ("", "the", "le", "la", "les", "das", "die", "der", "den")
_LUMP = re.compile(r"^(?:(?:an?|the|of|piece|lump|bit|some|as|much|large|big)\b\s*)+|[\s,]*(?:\b(?:about|of|the)\s*)*$")


@dataclass(frozen=True, slots=True)
class Understood:
    """One way to read a printed quantity: its parts, the thing it names itself, how sure it is, and why."""

    quantity: Quantity
    name: str = ""  # what the text itself says it is an amount of
    standing: Standing = "likely"
    because: str = ""  # empty for the plain reading


def understood(text: str, setting: Setting) -> tuple[Understood, ...]:
    """Return every way a printed quantity may be read, the surest first.

    Parameters
    ----------
    text : str
        As printed: "ʒiij", "3ij" of a scan, "M. ij", "9 eggs", "butter the size of an egg", "2 oz. of borax".
    setting : Setting
        When and where: "gr." was a grain here and a gramme there.

    Returns
    -------
    tuple of Understood
        At least one.

    Raises
    ------
    InputError
        If no way is found.

    Examples
    --------
    >>> [way.quantity.parts[0].unit for way in understood("3ij", Setting())]
    ['drachm', 'ounce', 'scruple']
    >>> understood("the whites of 2 eggs", Setting())[0].name
    'whites of eggs'
    >>> [way.quantity.parts[0].amount.value for way in understood("1.500 g", Setting("1890", "Berlin"))]
    [1500.0, 1.5]
    """
    if _PRICE.search(text):
        found = "a price is no quantity: what it bought hangs on the shop and the year"
        raise InputError(found, text.strip(), "Give an amount of your own.")
    text = _OF_EACH.sub("", text)
    lettered = tuple(_by_letter(text.strip(), setting)) or tuple(_decimal_grams(text.strip(), setting))
    if lettered:
        return lettered
    try:
        first = Understood(parse_quantity(text))
    except InputError:
        mended = _named(text) or _mended(text) or _asked(text) or _run_together(text) or _counted_abroad(text)
        mended = mended or _one_of_it(text)
        if mended is None:
            if either := _either_amount(text, setting):
                return either
            raise
        first = mended
    others = tuple(
        Understood(doubt.quantity, first.name, doubt.standing, doubt.because)
        for doubt in other_readings(first.quantity)
        if not _as_good(doubt.quantity, first.quantity) and not _is_whole(first.quantity.parts[0])
    )
    plain = _thousands_or_decimals(first, setting) or _in_grammes(first, setting)
    return (*_hyphened(first), *plain, *_range_or_fraction(first), *others)


def _either_amount(text: str, setting: Setting) -> tuple[Understood, ...]:
    """Read "4 fluid oz or 8 tablespoonfuls": one amount told in two ways, the first as the author's own measure."""
    sides = _OR.split(text)
    if len(sides) != 2:  # noqa: PLR2004 - one amount and the other
        return ()
    try:
        first, second = (understood(side, setting)[0] for side in sides)
    except InputError:
        return ()
    says = f"{text.strip()!r} tells one amount in two ways"
    return replace(first, because=says), replace(second, standing="possible", because=says)


_OR = re.compile(r"\s*,?\s+(?:or|ou|oder)\s+", re.IGNORECASE)


def _is_whole(part: Measured) -> bool:
    """Return whether a plain whole number stands before a word: a line of its own raises no doubt of "112 grains"."""
    mended = part.written == "sign" and _MENDED.match(part.amount.printed) is not None
    return not mended and _WHOLE.match(part.amount.printed) is not None


def _as_good(one: Quantity, other: Quantity) -> bool:
    return [(p.amount.value, p.unit) for p in one.parts] == [(p.amount.value, p.unit) for p in other.parts]


def _named(text: str) -> Understood | None:
    """Read a quantity with the name of its thing: "2 oz. of borax", "9 eggs", "butter the size of an egg"."""
    line = tokens(text)
    found = quantity_at(line, 0) if line else None
    of = found is not None and found.after + 1 < len(line) and line[found.after].text.lower() in _OF
    name = text[line[found.after].end :].strip(" .") if found is not None and of else ""
    if found is not None and name and (_is_words(line[found.after + 1 :]) or identify(name, Setting()) is not None):
        return Understood(found.quantity, name)  # on file or not
    if found is not None and found.after < len(line):
        name = text[line[found.after].start :].strip()  # "1 cup butter", "1 lb. white wax"
        if _is_known(name, line[found.after :]):
            return Understood(found.quantity, name)
    counts = [(at, count) for at in range(len(line)) if (count := counted_at(line, at)) is not None]
    for at, count in sorted(counts, key=lambda found: not is_sized(found[1].quantity)):
        before, behind = text[: line[at].start].strip(), text[line[count.after - 1].end :].strip(" .,;")
        if is_sized(count.quantity):
            return _of_size(count.quantity, before, behind)
        words, length = before.lower().split(), len(head_before(line, at))
        lead, head = words[: len(words) - length], words[len(words) - length :]
        return (
            None if " ".join(lead) not in _ARTICLES else Understood(count.quantity, " ".join((*head, behind)).strip())
        )
    return None


def _of_size(quantity: Quantity, before: str, behind: str) -> Understood | None:
    """Read the thing before or behind a size: "a piece of butter the size of an egg"."""
    first = behind.split(maxsplit=1)
    name = first[1] if len(first) > 1 and first[0].lower() in _OF else behind
    own = _LUMP.sub("", _LUMP.sub("", before))
    return None if own and name else Understood(quantity, own or name)


def _is_known(name: str, line: Sequence[Token]) -> bool:
    return _is_words(line) and (identify(name, Setting()) is not None or bool(spirit_of(name, Setting())))


def _is_words(line: Sequence[Token]) -> bool:
    """Return whether a name may be words alone, with no amount among them."""
    told = without_strength(line)
    amount = any(quantity_at(told, at) or counted_at(told, at) for at in range(len(told)))
    return not amount and all(token.kind == "word" or token.text in "-'." for token in told)


def _mended(text: str) -> Understood | None:
    """Read print that makes no sense as it stands: "3ij", "f3j", "1O oz."."""
    line = tokens(text)
    found = (torn_at(line, 0) or damaged_at(line, 0)) if line else None
    if found is None or any(token.text != "." for token in line[found.after :]):
        return None
    part = found.quantity.parts[0]
    if part.amount.value is None:
        return None
    meant = f"{part.amount.value:g} {str(part.unit).replace('_', ' ')}"
    return Understood(found.quantity, "", "likely", f"{text.strip()!r} makes no sense as it stands: read as {meant}")


_PLURAL = ("s", "es", "n", "en", "e")


def _one_of_it(text: str) -> Understood | None:
    """Read "wineglassful", "handful of roses" without a number as one; "handfuls" says several, but not how many."""
    text = _LEADS.sub("", text)
    line = tokens(text)
    size = mark_at(line, 0) if line else None
    sized = size is not None and not {"size", "sized"}.isdisjoint(size.meanings) and size.after < len(line)
    mark = mark_at(line, size.after if size is not None and sized else 0) if line else None
    row = mark.meanings.get("unit") or mark.meanings.get("asked") if mark is not None else None
    # Before "oz." or a sign a figure is lost; a word may stand for itself.
    if mark is None or row is None or row.written in ("abbreviation", "sign") or _is_plural(row):
        return None
    number = _ONE.get(row.language, "1")
    for count in dict.fromkeys((number, *_ONE.values())):
        with suppress(InputError):  # drachme et demie: a word of two tongues
            return Understood(parse_quantity(f"{count} {text}"), because=_NO_NUMBER)
    try:
        found = parse_quantity(f"{number} {text[: line[mark.after - 1].end]}")
        one = Understood(found)
    except InputError:
        asked = _asked(f"1 {text}")
        return None if asked is None else replace(asked, because=_NO_NUMBER)
    rest = line[mark.after :]
    if rest and rest[0].text == ".":
        rest = rest[1:]
    name = text[rest[1].start :].strip() if len(rest) > 1 and rest[0].text.lower() in _OF else ""
    if rest and not (name and _is_words(rest[1:])):
        return None
    return replace(one, name=name.strip(" ."), because=_NO_NUMBER)


_ONE = {"de": "ein", "fr": "un"}  # so that a word of two tongues is read in its own
_COINS = r"(?:\b\d+\s*[ds]\b\.?|penny|pence|pen|peny|shillings?|cents?|sous?)"
_APOSTROPHE = r"['\N{RIGHT SINGLE QUOTATION MARK}]?"
_PRICE = re.compile(rf"{_COINS}{_APOSTROPHE}s?[\s-]*worths?\b|\bpenn?{_APOSTROPHE}orths?\b", re.IGNORECASE)
_OF_EACH = re.compile(
    r"[\s,]+(?:(?:of\s+)?each|ana|aa|a\N{COMBINING MACRON}a\N{COMBINING MACRON}"
    r"|\N{LATIN SMALL LETTER A WITH MACRON}{2}|de\s+chaque|de\s+chacun|von\s+jedem)\.?\s*$",
    re.IGNORECASE,
)
_LEADS = re.compile(r"^\s*(?:the\s+(?=weight\b)|slightly\s+)", re.IGNORECASE)  # the weight of a shilling
_NO_NUMBER = "no number is given with it: one"


def _is_plural(row: Notation) -> bool:
    """Return whether a unit word is the plural of another of its tongue."""
    stems = {row.printed.removesuffix(ending) for ending in _PLURAL if row.printed.endswith(ending)}
    same = (other for other in rows(Notation) if other.value == row.value and other.language == row.language)
    same = (other for other in same if other.meaning == row.meaning and other.written != "abbreviation")
    return any(other.printed in stems for other in same)  # "Unz." is short for "Unze"


def _asked(text: str) -> Understood | None:
    """Read "a bottle", "2 pipes of wine": words that are units only where somebody asks for one."""
    line = tokens(text)
    found = count_at(line, 0, "") if line else None
    mark = mark_at(line, found.after) if found is not None else None
    if found is None or mark is None or "asked" not in mark.meanings:
        return None
    behind = line[mark.after :]
    of = len(behind) > 1 and behind[0].text.lower() in _OF
    name = text[behind[1 if of else 0].start :].strip() if behind else ""
    if behind and not (_is_words(behind[1:]) if of else _is_known(name, behind)):  # "1 Glas Wasser"
        return None
    amount = replace(found.quantity.parts[0].amount, printed=text[: line[mark.after - 1].end].strip())
    return Understood(Quantity((Measured(amount, mark.meanings["asked"].value),)), name)


def _decimal_grams(text: str, setting: Setting) -> Iterator[Understood]:
    """Read "10,0" by itself, as metric prescriptions write ten grams."""
    if _DECIMAL.fullmatch(text) is None or gramme_standing(setting) == "unlikely":
        return
    value = float(text.replace(",", "."))
    grams = Quantity((Measured(Amount(value, value, value, text), "gram", "abbreviation"),))
    standing: Standing = "likely" if gramme_standing(setting) == "likely" else "possible"
    yield Understood(grams, standing=standing, because="a decimal by itself is grams in a metric prescription")


def _hyphened(first: Understood) -> Iterator[Understood]:
    """Give "1-6 grain" as a sixth of a grain first: so American dose books set a fraction; "1-6 grains" is a range."""
    part = first.quantity.parts[0]
    found = _HYPHENED.fullmatch(part.amount.printed.strip())
    if found is None or len(first.quantity.parts) > 1 or int(found["above"]) >= int(found["below"]):
        return
    value = int(found["above"]) / int(found["below"])
    amount = Amount(value, value, value, part.amount.printed)
    says = f"{found['above']}-{found['below']} set with a hyphen for a stroke: the unit behind it is in the singular"
    yield replace(first, quantity=Quantity((replace(part, amount=amount),)), because=says)


def _range_or_fraction(first: Understood) -> Iterator[Understood]:
    """Give "gr. 1-10" as a tenth of a grain too: what reads as a range may be a fraction set with a hyphen."""
    part = first.quantity.parts[0]
    found = _ONE_TO.fullmatch(part.amount.printed.strip())
    if found is None or len(first.quantity.parts) > 1 or _HYPHENED.fullmatch(part.amount.printed.strip()):
        return
    value = 1 / int(found["below"])
    other = replace(part, amount=Amount(value, value, value, part.amount.printed))
    says = f"1-{found['below']} may be 1/{found['below']}, set with a hyphen for a stroke"
    yield replace(first, quantity=Quantity((other,)), standing="possible", because=says)


def _thousands_or_decimals(first: Understood, setting: Setting) -> tuple[Understood, ...]:
    """Give "1.500 g" and "1,500 g" of metric lands both ways: a stop or comma before three figures parts either."""
    part = first.quantity.parts[0]
    found = _THREE_BEHIND.match(part.amount.printed.strip())
    if found is None or len(first.quantity.parts) > 1 or not metric(part.unit):
        return ()
    if gramme_standing(setting) == "unlikely":
        return ()  # English pages part thousands by commas and decimals by stops
    thousands = float(found["whole"] + found["three"])
    says = (
        f"{found[0]} may be {thousands:g} or {thousands / 1000:g}: prints of metric lands part thousands or decimals so"
    )
    whole, decimal = (
        replace(first, quantity=Quantity((replace(part, amount=Amount(value, value, value, part.amount.printed)),)))
        for value in (thousands, thousands / 1000)
    )
    return replace(whole, because=says), replace(decimal, standing="possible", because=says)


def _run_together(text: str) -> Understood | None:
    """Read "lbj", "grxv", "oziss": an abbreviation with its numeral printed close."""
    found = _RUN_TOGETHER.fullmatch(text.strip())
    if found is None:
        return None
    try:
        return Understood(parse_quantity(f"{found['unit']} {found['numeral']}"))
    except InputError:
        return None


def _counted_abroad(text: str) -> Understood | None:
    """Read "dos onzas", "en jungfru": number words that mean another thing in French or English pages."""
    first, _, rest = text.strip().partition(" ")
    number = _numbers_abroad().get(first.lower())
    if number is None or not rest:
        return None
    try:
        return Understood(parse_quantity(f"{number} {rest}"))
    except InputError:
        return None


@cache
def _numbers_abroad() -> dict[str, str]:
    return {row.printed: row.value for row in rows(Notation) if row.meaning == "asked number"}


def _by_letter(text: str, setting: Setting) -> Iterator[Understood]:
    """Read "M. ij", "P. j", "m xv": a handful and three fingers' grasp of the herbals, or minims from 1809."""
    found = _LETTER.fullmatch(text)
    if found is None:
        return
    numeral = found["numeral"]
    value = float(numeral) if numeral.isdecimal() else roman(numeral)
    if value is None:
        return
    amount = Amount(float(value), float(value), float(value), text)
    handful, pugil, minims = (
        Quantity((Measured(amount, unit, written),))
        for unit, written in (("handful", "abbreviation"), ("pugil", "abbreviation"), ("minim", "sign"))
    )
    letter = found["letter"]
    if letter == "P":
        yield Understood(pugil, because="P. before a number: pugillus, what three fingers take up")
        return
    if setting.of_text.span and setting.of_text.span[1] < MINIM_FROM:
        yield Understood(handful, because="M. before a number: manipulus, a handful; the minim came in 1809")
        return
    yield Understood(minims, because="" if letter == "m" else "M before a number: minims, from 1809")
    if letter == "M":
        yield Understood(handful, standing="possible", because="M. before a number was also manipulus, a handful")


def _in_grammes(first: Understood, setting: Setting) -> Iterator[Understood]:
    """Read "250 gr." by place and year: grains, and where the gramme is the lawful weight, grammes."""
    part = first.quantity.parts[0]
    if len(first.quantity.parts) > 1 or part.unit != "grain" or not _GRAMMES.search(part.amount.printed):
        yield first
        return
    standing = gramme_standing(setting)
    numeral = part.amount.printed.lower().split("gr")[-1].strip(" .s")
    if standing == "unlikely" or roman(numeral) is not None:  # no metric amount is in Roman numerals
        yield first
        return
    says = "gr. is the gramme where metric weights are lawful, the grain in older receipts"
    metric_way = replace(first, quantity=Quantity((replace(part, unit="gram"),)), because=says)
    if standing == "likely":
        yield metric_way
        yield replace(first, standing="possible", because=says)
        return
    yield first
    yield replace(metric_way, standing="possible")


@lru_cache(maxsize=1024)
def gramme_standing(setting: Setting) -> Standing:
    """Return how sure it is that "gr." means grammes there and then.

    Parameters
    ----------
    setting : Setting
        When and where.

    Returns
    -------
    str
        As sure as the metric weights themselves.

    Examples
    --------
    >>> gramme_standing(Setting("1890", "France")), gramme_standing(Setting("1890", "England"))
    ('likely', 'unlikely')
    """
    if not setting.region or setting.span is None:
        return "unlikely"
    weights = custom_question("weights", setting).options
    return next((option.standing for option in weights if option.key.startswith("metric_")), "unlikely")
