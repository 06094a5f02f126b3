"""What is that stuff, given when and where the book was written? And what later steps must know of it.

``things`` holds what is known of a substance or preparation, ``sizes`` how much one of it is, ``names`` what a period
name may have meant, ``poisons`` the words that must never be passed over.
"""

from reconlab.materia.names import folded, found_by, identify, modern_thing, settles_by, substance_id
from reconlab.materia.poisons import Alarm, alarms
from reconlab.materia.sizes import Published, drop, spread_of
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

__all__ = [
    "ETHANOL",
    "OWN_WORD",
    "UNKNOWN",
    "WATER",
    "Alarm",
    "Published",
    "Thing",
    "alarms",
    "bulk_density",
    "density",
    "drop",
    "folded",
    "found_by",
    "identify",
    "modern_thing",
    "own_word",
    "properties",
    "settles_by",
    "spread_of",
    "state_by_name",
    "substance_id",
    "thing",
]
