"""What a name meant, and what is known of the thing: nothing guessed, nothing dangerous dropped."""

import csv
import re

import pytest
from chemicals import CAS_from_any, MW, search_chemical
from chemicals.elements import mixture_atomic_composition, molecular_weight, nested_formula_parser
from hypothesis import given
from hypothesis import strategies as st

from reconlab import materia
from reconlab.errors import AmbiguousError, UnknownNameError
from reconlab.materia import UNKNOWN, density, drop, folded, found_by, identify, properties, settles_by, substance_id, thing
from reconlab.receipts import Setting
from reconlab.tables import Name, PropertyValue, Substance, by_id, rows
