"""Bring old toilet, cosmetic and pharmacy-counter formulas back to life."""

from importlib import import_module
from typing import TYPE_CHECKING

__version__ = "0.1.0"

__all__ = [
    "Decision",
    "Desk",
    "Formula",
    "ReconlabError",
    "Reconstruction",
    "Replacement",
    "Setting",
    "Use",
    "bench",
    "book_measures",
    "book_panel",
    "compare",
    "convert",
    "convert_table",
    "desk",
    "dilute",
    "formula_of",
    "identify",
    "names_panel",
    "open_record",
    "panel",
    "read",
    "read_all",
    "read_image",
    "reading_panel",
    "receipt_of",
    "save",
    "screen",
    "strength",
    "substance",
    "substances",
    "substitutes",
    "translate",
    "write",
]

if TYPE_CHECKING:  # what editors and the type checker see
    from reconlab.benchwork import bench
    from reconlab.comparison import compare
    from reconlab.errors import ReconlabError
    from reconlab.formula import Formula, Replacement
    from reconlab.materia import identify, substance, substances
    from reconlab.measures import book_measures, convert, convert_table
    from reconlab.panels import book_panel, names_panel, panel, reading_panel
    from reconlab.reading import read, read_all
    from reconlab.reading.image import read_image
    from reconlab.reasons import Decision
    from reconlab.receipts import Setting, Use
    from reconlab.record import Reconstruction, formula_of, open_record, receipt_of, save
    from reconlab.reducing import dilute, strength
    from reconlab.screening import screen
    from reconlab.substitution import substitutes
    from reconlab.translation import translate
    from reconlab.workdesk import Desk, desk
    from reconlab.writeup import write

else:  # what happens at run time: a name is loaded on first use, so that importing reconlab costs nothing
    _HOME = {
        "Decision": "reasons",
        "Desk": "workdesk",
        "Formula": "formula",
        "ReconlabError": "errors",
        "Reconstruction": "record",
        "Replacement": "formula",
        "Setting": "receipts",
        "Use": "receipts",
        "bench": "benchwork",
        "book_measures": "measures",
        "book_panel": "panels",
        "compare": "comparison",
        "convert": "measures",
        "convert_table": "measures",
        "desk": "workdesk",
        "dilute": "reducing",
        "formula_of": "record",
        "identify": "materia",
        "names_panel": "panels",
        "open_record": "record",
        "panel": "panels",
        "read": "reading",
        "read_all": "reading",
        "read_image": "reading.image",
        "reading_panel": "panels",
        "receipt_of": "record",
        "save": "record",
        "screen": "screening",
        "strength": "reducing",
        "substance": "materia",
        "substances": "materia",
        "substitutes": "substitution",
        "translate": "translation",
        "write": "writeup",
    }

    def __getattr__(name: str) -> object:
        """Load a public name on first use."""
        if name not in _HOME:
            raise AttributeError(f"module 'reconlab' has no attribute {name!r}")
        value = globals()[name] = getattr(import_module(f"reconlab.{_HOME[name]}"), name)
        return value

    def __dir__() -> list[str]:
        """List the public names only."""
        return __all__
