"""Whose weights and measures did a book use? Questions with an answer for each custom on file."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache, lru_cache

from reconlab.materia import thing
from reconlab.measures.own_rule import about, how_by_rule, how_of_units, kept_by_rule
from reconlab.reading.rules import ALL, BY_MEASURE, BY_WEIGHT, LIQUIDS, PARTS, Claim, read_rule
from reconlab.reasons import STANDINGS, Option, Question, Reason, Standing, in_order
from reconlab.receipts import Setting
from reconlab.tables import Custom, Region, rows

AS_STATE = "as its state says"

_ASKS = {"weights": "Whose pounds and ounces are these?", "measures": "Whose pints and fluid ounces are these?"}


@lru_cache(maxsize=1024)
def custom_question(which: str, setting: Setting) -> Question:
    """Return whose weights, or whose measures, a book may have used.

    Of a reprint or translation the custom of the text's own time and place comes first; an answer of the edition's
    stands beside it as possible. Where the author states a rule, only the customs that keep it are answers.

    Parameters
    ----------
    which : str
        ``"weights"`` or ``"measures"``.
    setting : Setting
        When and where the book was printed, and its kind.

    Returns
    -------
    Question
        Every custom of the place, where rows speak for the year those alone; where the place is not known, those the
        table offers to any book. None is likely where year or place are not known.

    Raises
    ------
    InputError
        If the author's rule cannot be read, or no custom keeps it.

    Examples
    --------
    >>> custom_question("measures", Setting("1911", "England")).options[0].key
    'imperial'
    """
    options = _options(which, setting.of_text)
    if setting.text_years or setting.text_place:
        options = _beside(options, _options(which, setting.of_edition), setting)
    question = Question(which, _ASKS[which], in_order(options))
    return _as_ruled(question, setting) if setting.rule.strip() else question


@lru_cache(maxsize=1024)
def own_claims(setting: Setting) -> tuple[Claim, ...]:
    """Return the sizes and systems an author gives to single units that no custom of his place and time has.

    Parameters
    ----------
    setting : Setting
        With the author's rule.

    Returns
    -------
    tuple of Claim
        In the order of the rule.

    Raises
    ------
    InputError
        If the rule cannot be read, or no custom keeps it.

    Examples
    --------
    >>> [str(claim) for claim in own_claims(Setting("1890", "England", rule="1 teaspoonful = 1 fluid drachm"))]
    ['teaspoonful: 1 fluid drachm']
    """
    if not setting.rule.strip():
        return ()
    asked: set[Claim] = set()
    own: set[Claim] = set()
    for which in _ASKS:
        near = tuple(sorted(option.key for option in custom_question(which, replace(setting, rule="")).options))
        kept = kept_by_rule(setting.rule, which, near)
        if kept is not None:
            asked |= {claim for claim in read_rule(setting.rule) if about(claim, which)}
            own |= kept.own
    claims = read_rule(setting.rule)
    return tuple(claim for claim in claims if claim in own or (claim.count and claim not in asked))


def _options(which: str, setting: Setting) -> tuple[Option, ...]:
    found = customs_of(which)
    known = setting.span is not None and bool(setting.region)
    # Where sources speak for this year and place, a custom of elsewhere is no answer; the rows name every one that is.
    of_the_place = [rows_ for rows_ in found.values() if any(_in_place(row, setting) for row in rows_)]
    here = [rows_ for rows_ in of_the_place if any(_speaks_for(row, setting) for row in rows_)]
    offered = here or of_the_place or found.values()
    first, last = setting.span or (0, -1)
    speaking = [row for rows_ in here for row in rows_ if _speaks_for(row, setting)]
    spoken = {year for year in range(first, last + 1) if any(_in_force(row, year) for row in speaking)}
    near = nearby(which, setting)
    options = [_custom_option(alternatives, setting, near, spoken, known=known) for alternatives in offered]
    return in_order(_of_the_town(options, setting) if here and known else options)


def _of_the_town(options: Sequence[Option], setting: Setting) -> list[Option]:
    """Prefer the custom that bears the name of the very town, "Dresden measure", where none of its land is likely."""
    town = {word.lower() for word in setting.place.replace(",", " ").split()}
    said = {option: option.words.lower().replace(",", " ").split() for option in options}
    # What a year stands beside, "Dublin 1850", is a book's.
    named = [option for option, words in said.items() if town & set(words) and not words[-1].isdigit()]
    if len(named) != 1 or named[0].standing != "possible" or any(option.standing == "likely" for option in options):
        return list(options)
    says = Reason(f"{named[0].words}, likely for {setting}: it is called after the town", (), (named[0].reason,))
    return [replace(option, standing="likely", reason=says) if option is named[0] else option for option in options]


@cache
def customs_of(which: str) -> Mapping[str, tuple[Custom, ...]]:
    """Return the rows of every custom on file, by its key.

    Parameters
    ----------
    which : str
        ``"weights"`` or ``"measures"``.

    Returns
    -------
    mapping of str to tuple of Custom
        In the order of the table.

    Examples
    --------
    >>> sorted({"wine", "imperial"} & set(customs_of("measures")))
    ['imperial', 'wine']
    """
    found: dict[str, list[Custom]] = {}
    for row in rows(Custom):
        if row.question == which and not row.liquids:
            found.setdefault(row.custom, []).append(row)
    return {custom: tuple(rows_) for custom, rows_ in found.items()}


def options_of(customs: Iterable[str], which: str, setting: Setting) -> tuple[Option, ...]:
    """Return some customs as answers, wherever they held.

    Parameters
    ----------
    customs : iterable of str
        Their keys.
    which : str
        ``"weights"`` or ``"measures"``.
    setting : Setting
        When and where; what no row speaks for here is possible.

    Returns
    -------
    tuple of Option
        The surest first.

    Examples
    --------
    >>> [option.key for option in options_of(["wine"], "measures", Setting())]
    ['wine']
    """
    near = nearby(which, setting) or "a custom of another time or place"
    known = setting.span is not None and bool(setting.region)
    found = customs_of(which)
    return in_order(
        _custom_option(found[custom], setting, near, set(), known=known) for custom in customs if custom in found
    )


def for_liquid(options: Sequence[Option], which: str, setting: Setting, key: str) -> tuple[Option, ...]:
    """Return the customs of a book as they hold for one liquid: ale and beer had a gallon of their own.

    Parameters
    ----------
    options : sequence of Option
        The customs of the book.
    which : str
        ``"weights"`` or ``"measures"``.
    setting : Setting
        When and where; an author's own rule stands above such a custom.
    key : str
        Id of the substance; empty where none is named.

    Returns
    -------
    tuple of Option
        The same where no row speaks of the liquid.

    Examples
    --------
    >>> book = Setting("1780", "London", "household")
    >>> [option.key for option in for_liquid(custom_question("measures", book).options, "measures", book, "beer")][:2]
    ['ale', 'wine']
    """
    of_text = setting.of_text
    of = {key, *(thing(key).name.split()[-1:] if key and not thing(key).on_file else ())}
    found = [row for row in _liquid_customs() if row.question == which and of.intersection(row.liquids)]
    found = [row for row in found if _speaks_for(row, of_text)]
    if not found or (setting.rule.strip() and kept_by_rule(setting.rule, which) is not None):
        return tuple(options)
    own = []
    for row in found:
        sure = all(_in_force(row, year) for year in of_text.span or ()) and of_text.span is not None
        standing: Standing = row.standing if sure and of_text.region else "possible"
        own.append(Option(row.custom, standing, row.reason(f"{row.label}: {row.because}"), row.label))
    keys = {option.key for option in own}
    first = any(option.standing == "likely" for option in own)
    rest = [option for option in options if option.key not in keys]
    rest = [replace(o, standing="possible") if first and o.standing == "likely" else o for o in rest]
    return in_order((*own, *rest))


@cache
def _liquid_customs() -> tuple[Custom, ...]:
    return tuple(row for row in rows(Custom) if row.liquids)


def question_of_thing(of_book: Question, keys: Sequence[str], setting: Setting) -> Question:
    """Return whose measures a thing was measured by: those of the book, or as beer had, some of its own.

    Parameters
    ----------
    of_book : Question
        Whose measures the book used.
    keys : sequence of str
        Ids of what the thing may be.
    setting : Setting
        When and where.

    Returns
    -------
    Question
        That of the book where a person settled it, or the thing had no measure of its own.

    Examples
    --------
    >>> setting = Setting("1795", "England", "household")
    >>> question_of_thing(custom_question("measures", setting), ["beer"], setting).key
    'measures: beer'
    """
    own = {for_liquid(of_book.options, "measures", setting, key) for key in keys}
    if of_book.settled or len(own) != 1 or of_book.options in own:
        return of_book
    called = thing(keys[0]).name
    return replace(of_book, key=f"measures: {called}", asks=f"Whose pints held the {called}?", options=own.pop())


_SIGNS = "apothecaries"  # whose signs the ounce, drachm and scruple are
_SIGN_DISPUTED = (
    1850  # Dublin gave the signs to its own weights in that year, the B.P. of 1864 to the avoirdupois ounce
)


def customs_by_sign(options: Sequence[Option], setting: Setting) -> tuple[Option, ...]:
    """Return customs of weight where the page prints the signs of the ounce, drachm or scruple.

    Parameters
    ----------
    options : sequence of Option
        The customs of the book.
    setting : Setting
        When and where.

    Returns
    -------
    tuple of Option
        The apothecaries' likely, where it is possible and nothing is likelier; the same where the signs are disputed.

    Examples
    --------
    >>> setting = Setting("1681", "New England")
    >>> customs_by_sign(custom_question("weights", setting).options, setting)[0].standing
    'likely'
    """
    early = setting.of_text.span is not None and setting.of_text.span[1] < _SIGN_DISPUTED
    open_ = [option for option in options if option.key == _SIGNS and option.standing == "possible"]
    if not early or not setting.region or not open_ or any(option.standing == "likely" for option in options):
        return tuple(options)
    signs = "the page prints the signs of the apothecaries, who weighed by troy"
    own = replace(open_[0], standing="likely", reason=Reason(signs, (), (open_[0].reason,)))
    return in_order([own, *(option for option in options if option.key != _SIGNS)])


def _in_force(row: Custom, year: int) -> bool:
    return (row.from_year or year) <= year <= (row.to_year or year)


def _custom_option(
    alternatives: Sequence[Custom], setting: Setting, near: str, spoken: set[int], *, known: bool
) -> Option:
    first = alternatives[0]
    here = [row for row in alternatives if _speaks_for(row, setting)]
    if not known or not here:
        missing = (near if known else "") or "year or place is not given"
        return Option(first.custom, "possible", first.reason(f"{first.label}: {missing}"), first.label)
    # Near a change, or where the kind of book is not known, rows may differ: then each answer is possible.
    said = {row.standing for row in here}
    standing = said.pop() if len(said) == 1 else "possible"
    if any(not any(_in_force(row, year) for row in here) for year in spoken) and standing == "likely":
        standing = "possible"  # it came in, or went out, within these years
    because = tuple(row.reason(row.because) for row in here)
    return Option(first.custom, standing, Reason(f"{first.label}, {standing} for {setting}", (), because), first.label)


def _speaks_for(row: Custom, setting: Setting) -> bool:
    return setting.of_kind(row.books) and _in_place(row, setting) and setting.within((), row.from_year, row.to_year)


def _in_place(row: Custom, setting: Setting) -> bool:
    # Scotland has rows of its own, so a country's row does not speak for it here.
    return setting.region in row.regions if setting.region else row.unplaced == "yes"


def nearby(which: str, setting: Setting) -> str:
    """Return what is on file nearest to a setting for which no source speaks, or nothing where one does.

    Parameters
    ----------
    which : str
        ``"weights"`` or ``"measures"``.
    setting : Setting
        When and where; the kind of book does not matter.

    Returns
    -------
    str
        In words.

    Examples
    --------
    >>> nearby("weights", Setting("1066", "England"))[:63]
    'no source on file speaks for this year and place: the oldest fo'
    """
    asked = [row for row in rows(Custom) if row.question == which and not row.liquids]
    if setting.span is None or not setting.region or any(_speaks_for(row, setting) for row in asked):
        return ""
    none = "no source on file speaks for this year and place"
    first, last = setting.span
    of_place = [row for row in asked if setting.region in row.regions]
    if not of_place:
        then = [row for row in asked if setting.within((), row.from_year, row.to_year)] or asked
        places = sorted({_place(region) for row in then for region in row.regions})
        return f"{none}: on file are {', '.join(places)}"
    starts = [row.from_year for row in of_place if row.from_year is not None]
    ends = [row.to_year for row in of_place if row.to_year is not None]
    place = setting.place.strip()
    if starts and last < min(starts):
        return f"{none}: the oldest for {place} is of {min(starts)}"
    if ends and first > max(ends):
        return f"{none}: the newest for {place} ends with {max(ends)}"
    return f"{none}: those for {place} are of other kinds of book"


def _place(region: str) -> str:
    return next((row.place.title() for row in rows(Region) if row.region == region), region)


def _beside(text: Iterable[Option], edition: Iterable[Option], setting: Setting) -> tuple[Option, ...]:
    """Return the answers for the text, those for its later edition standing beside them as possible."""
    old = {option.key: option for option in text}
    new = {option.key: option for option in edition}
    found = []
    for option in (*old.values(), *(option for key, option in new.items() if key not in old)):
        then, now = old.get(option.key), new.get(option.key)
        if then is not None and now is not None and then.standing == now.standing:
            found.append(then)  # both agree
            continue
        standings = [each.standing if each else "unlikely" for each in (then, now)]
        surer = STANDINGS.index(standings[1]) < STANDINGS.index(standings[0])
        standing: Standing = "possible" if surer else standings[0]
        says = (
            f"{option.words}, {standing}: {_standing(then)} for the text ({setting.of_text}), "
            f"{_standing(now)} for the edition ({setting.of_edition})"
        )
        because = tuple(each.reason for each in (then, now) if each is not None)
        found.append(replace(option, standing=standing, reason=Reason(says, (), because)))
    return in_order(found)


def _standing(option: Option | None) -> str:
    return option.standing if option is not None else "no answer on file"


def _as_ruled(question: Question, setting: Setting) -> Question:
    """Return a question as the author's own rule leaves it: what breaks the rule is out, and says so."""
    kept = kept_by_rule(setting.rule, question.key, tuple(sorted(option.key for option in question.options)))
    if kept is None:
        return question
    keepers, named = kept.customs, kept.named
    offered = [option for option in question.options if option.key in keepers]
    here = offered or options_of(keepers, question.key, setting.of_text)
    preferred = [option for option in here if option.standing == "likely"] or [o for o in here if o.key in named]
    says = f"the author says so: {setting.rule.strip()}"
    ruled = []
    for option in here:
        sure = len(here) == 1 or (len(preferred) == 1 and option is preferred[0])
        standing: Standing = "likely" if sure else "possible"
        ruled.append(replace(option, standing=standing, reason=Reason(f"{option.words}: {says}", (), (option.reason,))))
    return replace(question, options=in_order(ruled), dropped=_all_but(keepers, question, says))


def _all_but(kept: Collection[str], question: Question, says: str) -> tuple[Option, ...]:
    """Return the answers that the author's own words put out."""
    return tuple(
        replace(option, standing="unlikely", reason=Reason(f"{option.words} is out: {says}", (), (option.reason,)))
        for option in question.options
        if option.key not in kept
    )


def liquids_question(setting: Setting | None = None, units: Collection[str] = ()) -> Question:
    """Return whether ounces and drachms of liquids were weighed or measured: one question of the book.

    Parameters
    ----------
    setting : Setting, optional
        With the author's own rule, which may say it.
    units : collection of str, optional
        Unit tokens of a quantity: the rule may be of some units only ("all ounces are by weight").

    Returns
    -------
    Question
        Liquids by measure and solids by weight first; "by measure" for everything can be settled by a person.

    Examples
    --------
    >>> [option.key for option in liquids_question().options]
    ['as its state says', 'by weight']
    >>> [option.key for option in liquids_question(Setting(rule="liquids by weight")).options]
    ['by weight']
    """
    says = Reason("liquids by measure, solids by weight, where the page does not say")
    weighed = Reason("liquids weighed like solids, as some books did")
    options = (
        Option(AS_STATE, "likely", says, "liquids measured, solids weighed"),
        Option(BY_WEIGHT, "possible", weighed, "everything weighed"),
    )
    question = Question("liquids", "Were liquids measured or weighed?", options)
    rule = setting.rule if setting else ""
    how = how_by_rule(rule, LIQUIDS)
    if how:
        return _settled_by_author(question, AS_STATE if how == BY_MEASURE else BY_WEIGHT, rule)
    if of_units := how_of_units(rule, units):
        own = replace(question, key=f"liquids: {' and '.join(sorted(units))}")
        return _settled_by_author(own, AS_STATE if of_units == BY_MEASURE else BY_WEIGHT, rule)
    of_all = how_by_rule(rule, ALL)
    return _settled_by_author(question, of_all, rule) if of_all else question


def parts_question(setting: Setting | None = None) -> Question:
    """Return whether parts were parts by weight or, of liquids, by measure: one question of the book.

    Parameters
    ----------
    setting : Setting, optional
        With the author's own rule, which may say it.

    Returns
    -------
    Question
        By weight first.

    Examples
    --------
    >>> [option.key for option in parts_question(Setting(rule="parts by measure")).options]
    ['by measure']
    """
    options = (
        Option(BY_WEIGHT, "likely", Reason("parts by weight, where the page does not say")),
        Option(BY_MEASURE, "possible", Reason("parts of liquids by measure")),
    )
    question = Question("parts", "Are the parts by weight or by measure?", options)
    rule = setting.rule if setting else ""
    how = how_by_rule(rule, PARTS) or how_by_rule(rule, ALL)
    return _settled_by_author(question, how, rule) if how else question


def _settled_by_author(question: Question, answer: str, rule: str) -> Question:
    says = f"the author says so: {rule.strip()}"
    known = {option.key: option for option in question.options}
    kept = known.get(answer) or Option(answer, "likely", Reason(answer), "everything measured")
    only = replace(kept, standing="likely", reason=Reason(f"{kept.words}: {says}"))
    return replace(question, options=(only,), dropped=_all_but({answer}, question, says))
