"""What is that stuff, given when and where the book was written? And what later steps must know of it.

``things`` holds what is known of a substance or preparation, ``sizes`` how much one of it is, ``words`` how names are
compared, ``poisons`` the words that must never be passed over, ``harm`` which things can do harm, ``lookup`` where a
name stands by rule, ``likeness`` by its letters, ``names`` what it may have meant, ``known`` all that is on file of a
substance.
"""

from reconlab.materia.harm import harmful, why_harmful
from reconlab.materia.known import Known, Search, substance, substances
from reconlab.materia.names import found_by, identify, modern_thing, not_identified, settles_by, substance_id
from reconlab.materia.poisons import Alarm, alarms
from reconlab.materia.sizes import Published, drop, of_country, spread_of
from reconlab.materia.things import (
    ETHANOL,
    OWN_WORD,
    UNKNOWN,
    WATER,
    Thing,
    bulk_density,
    density,
    own_word,
    properties,
    state_by_name,
    thing,
)
from reconlab.materia.words import folded

__all__ = [
    "ETHANOL",
    "OWN_WORD",
    "UNKNOWN",
    "WATER",
    "Alarm",
    "Known",
    "Published",
    "Search",
    "Thing",
    "alarms",
    "bulk_density",
    "density",
    "drop",
    "folded",
    "found_by",
    "harmful",
    "identify",
    "modern_thing",
    "not_identified",
    "of_country",
    "own_word",
    "properties",
    "settles_by",
    "spread_of",
    "state_by_name",
    "substance",
    "substance_id",
    "substances",
    "thing",
    "why_harmful",
]
