"""What did each sign of a book come to? Every unit of the customs it may have kept, side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reconlab.display import Card, Table
from reconlab.measures.author_sizes import stated_spread
from reconlab.measures.customs import custom_question, nearby, own_claims
from reconlab.measures.own_rule import check_rule
from reconlab.measures.sizes import ANY, size
from reconlab.reasons import Option, Question, Spread
from reconlab.receipts import Setting
from reconlab.tables import CustomUnit, Measure, rows

_BESIDE = 4  # customs side by side: more are no table a person reads
_KINDS = {"weights": ("Weights", "g"), "measures": ("Measures", "mL")}


def book_measures(
    *, years: str = "", place: str = "", book: str = "", rule: str = "", text_years: str = "", text_place: str = ""
) -> Card:
    """Return what every unit of a book came to, under each custom the book may have kept.

    Parameters
    ----------
    years, place, book : str
        When and where the book was printed, and its kind.
    rule : str
        What its author says of his weights and measures.
    text_years, text_place : str
        Of a reprint or translation: when and where the text was first written.

    Returns
    -------
    Card
        Weights [g] and measures [mL]: a row for each unit, a column for each custom, the surest first.

    Raises
    ------
    InputError
        If a word of the setting is not known, or the rule cannot be read.

    Examples
    --------
    >>> shown = book_measures(years="1855", place="Dublin", book="pharmacopoeia")
    >>> [row for row in shown.tables[0].rows if row[0] == "drachm"][0][:2]
    ('drachm', '3.544 g')
    """
    return measures_in(Setting(years, place, book, rule, text_years, text_place))


def measures_in(setting: Setting) -> Card:
    """Return what every unit came to in a setting: `book_measures` for one who has the setting already.

    Parameters
    ----------
    setting : Setting
        When, where, in what kind of book, and its author's rule.

    Returns
    -------
    Card
        Weights [g] and measures [mL].

    Raises
    ------
    InputError
        If the author's rule cannot be read.

    Examples
    --------
    >>> measures_in(Setting("1855", "Dublin", "pharmacopoeia")).tables[0].rows[0][0]
    'grain'
    """
    check_rule(setting.rule)
    questions = {which: custom_question(which, setting) for which in _KINDS}
    asked = tuple(note for which in _KINDS if (note := nearby(which, setting)))
    unsure = tuple(one.asks for one in questions.values() if one.chosen is None)
    open_ = (f"Nothing on file decides it: {' '.join(unsure)}",) if unsure else ()
    tables = tuple(_table(which, question) for which, question in questions.items())
    tables += _own_table(setting)
    reasons = tuple(option.reason for one in questions.values() for option in _shown(one))
    return Card(f"What the signs of a book came to: {setting}", (*open_, *asked), tables, reasons)


def _own_table(setting: Setting) -> tuple[Table, ...]:
    """Return what the author's own units come to, where he sizes any."""
    units = dict.fromkeys(unit for claim in own_claims(setting) for unit in (claim.unit, claim.of) if unit)
    found = [(unit, stated_spread(unit, "word", setting, "")) for unit in units]
    shown = tuple((unit.replace("_", " "), _range(size), size.reason.says) for unit, size in found if size)
    return (Table("The author's own", ("unit", "size", "why"), shown),) if shown else ()


def _range(size: Spread) -> str:
    own = f"{size.usual:.4g} {size.unit}"
    return own if size.low == size.high else f"{own} ({size.low:.4g} to {size.high:.4g})"


def _shown(question: Question) -> Sequence[Option]:
    """Return the customs a book is likely to have kept; where none is more than unlikely, the first."""
    kept = [option for option in question.options if option.standing != "unlikely"]
    return kept[:_BESIDE] or question.options[:1]


def _table(which: str, question: Question) -> Table:
    title, unit = _KINDS[which]
    options = _shown(question)
    heads = ("unit", *(f"{option.words} ({option.standing})" for option in options))
    return Table(title, heads, tuple(_rows(options, unit)))


def _rows(options: Sequence[Option], unit: str) -> Iterator[tuple[str, ...]]:
    keys = {option.key for option in options}
    tokens = {row.unit for row in rows(CustomUnit) if row.custom in keys and row.custom != ANY}
    found = []
    for token in sorted(tokens):
        by_word, by_sign = ([size(token, written, key.key) for key in options] for written in ("word", "sign"))
        ways = [("", by_word)] if by_word == by_sign else [("", by_word), (", by its sign", by_sign)]
        found += [(_largest(sizes), f"{token.replace('_', ' ')}{how}", sizes) for how, sizes in ways]
    for _, words, sizes in sorted(found, key=lambda row: row[:2]):
        yield (words, *(f"{_plain(measure)} {unit}" if measure else "-" for measure in sizes))


def _largest(sizes: Sequence[Measure | None]) -> float:
    return max((float(measure.size) for measure in sizes if measure), default=0.0)


def _plain(measure: Measure) -> str:
    return f"{float(f'{float(measure.size):.4g}'):g}"
