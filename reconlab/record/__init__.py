"""What is kept on disk? A reconstruction as a YAML file a person can edit, and what follows from it.

``parts`` says what is in it, ``yaml_text`` turns text into plain values, ``checking`` and ``meaning`` hold them to
the format, ``files`` keeps them, ``replay`` works out the receipt and its versions again.
"""

from reconlab.record.checking import dump, json_schema, parse
from reconlab.record.files import open_record, past_states, save, step_back
from reconlab.record.freezing import CHANGED, batch_of, still_planned
from reconlab.record.parts import (
    FORMAT,
    LITERAL,
    Batch,
    Inquiry,
    Observation,
    Plan,
    Reconstruction,
    Source,
    TablesUsed,
    Version,
)
from reconlab.record.replay import (
    Stale,
    corrected,
    formula_of,
    formulas_of,
    line_key,
    orphans,
    page_of,
    preferred_answer,
    receipt_of,
    stale,
    stamped,
)

__all__ = [
    "CHANGED",
    "FORMAT",
    "LITERAL",
    "Batch",
    "Inquiry",
    "Observation",
    "Plan",
    "Reconstruction",
    "Source",
    "Stale",
    "TablesUsed",
    "Version",
    "batch_of",
    "corrected",
    "dump",
    "formula_of",
    "formulas_of",
    "json_schema",
    "line_key",
    "open_record",
    "orphans",
    "page_of",
    "parse",
    "past_states",
    "preferred_answer",
    "receipt_of",
    "save",
    "stale",
    "stamped",
    "step_back",
    "still_planned",
]
