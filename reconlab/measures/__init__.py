"""What did that sign weigh or hold, there and then? Units, customs and conversions.

``sizes`` knows what a unit came to under each custom, ``customs`` whose custom a book kept, ``own_rule`` which of them
keeps what its author says himself, ``stated`` and ``author_sizes`` the sizes only he gives; ``readings`` puts them
together, ``conversion`` answers for one printed quantity, ``columns`` for many, ``book`` for every unit of a book.
"""

from reconlab.measures.author_sizes import size_here, stated_spread
from reconlab.measures.book import book_measures, measures_in
from reconlab.measures.columns import convert_table, factor
from reconlab.measures.conversion import Answer, Conversion, convert
from reconlab.measures.customs import AS_STATE, custom_question, liquids_question, parts_question, question_of_thing
from reconlab.measures.own_rule import check_rule
from reconlab.measures.sizes import (
    ANY,
    FLUID,
    ONLY_FLUID,
    may_be_fluid,
    parse_quantity,
    quantity_text,
    size,
    unit_reason,
)
from reconlab.reading.rules import BY_MEASURE, BY_WEIGHT

__all__ = [
    "ANY",
    "AS_STATE",
    "BY_MEASURE",
    "BY_WEIGHT",
    "FLUID",
    "ONLY_FLUID",
    "Answer",
    "Conversion",
    "book_measures",
    "check_rule",
    "convert",
    "convert_table",
    "custom_question",
    "factor",
    "liquids_question",
    "may_be_fluid",
    "measures_in",
    "parse_quantity",
    "parts_question",
    "quantity_text",
    "question_of_thing",
    "size",
    "size_here",
    "stated_spread",
    "unit_reason",
]
